/** Which value goes in which slot: needed ones in the order given, the others by shape or by the word before them. */
import { unit as unitRow } from '../quantity/units';
import { detail, remark } from '../vocabulary/details';
import { element } from '../vocabulary/elements';
import type { Slot, SlotTakes } from '../vocabulary/slots';
import { verb } from '../vocabulary/verbs';
import { KIND_WORDS, LEAD_WORDS, STATE_WORDS } from '../vocabulary/words';
import { type Cursor, report, writtenAs } from './cursor';
import { CLOSED_SETS, fits, fitsExactly, leadFits, NOT_WORDS, type Piece, unitKind } from './fits';
import { alreadyTold, reportStray } from './stray';
import type { AmountNode, Problem, ReadingNode, Value, WordNode } from './tree';
import { checkShare, checkUnit } from './units';

/** What a slot wants, for a finding's sentence. */
export const SLOT_NOUNS: Readonly<Record<SlotTakes, string>> = {
  lot: "a lot's name",
  step: 'a name',
  amount: 'a weight',
  temperature: 'a temperature',
  party: "a party's name",
  material: 'a material',
  scale: 'a scale',
  container: 'a vessel',
  crucible: 'a crucible',
  'cupel-body': 'a cupel',
  mould: 'a mould',
  furnace: 'a furnace',
  place: 'a place',
  kind: 'a kind of product',
  method: 'a method',
  metal: "a metal's symbol",
  money: 'a sum of money',
  rate: 'a price',
  share: 'a share',
  date: 'a date',
  number: 'a number',
  label: 'a word',
  basis: 'what it is reckoned on',
  pool: '`weight` or `assay`',
  reading: 'a metal and its share',
  file: 'a file',
  person: 'a name',
  none: '`none`',
  text: 'a text',
};

export const fillSlots = (
  slots: readonly Slot[],
  values: readonly Value[],
  readings: readonly ReadingNode[],
  piece: Piece,
  cursor: Cursor,
): (Value | undefined)[] => {
  const { problems } = cursor;
  const filled: (Value | undefined)[] = slots.map(() => undefined);
  const twin = firstOfTwins(slots, values);
  const misnamed = misnamedAmount(slots, values);
  if (misnamed) reportName(misnamed, piece, cursor);
  let strays = misnamed ? 1 : 0;
  const unknown = unknownNames(slots, values);
  const isTold = alreadyTold(cursor, piece);
  for (const value of values) {
    if (value === misnamed || unknown.has(value)) continue;
    const index = value === twin ? slots.findIndex(takesName) : slotFor(slots, filled, value);
    if (index < 0) {
      const name = strays === 0 && standsForName(slots, filled, value);
      if (name) reportName(value, piece, cursor);
      else if (!isTold(value)) reportStray(slots, filled, value, piece, cursor);
      strays++;
    } else {
      filled[index] = value;
      checkFilled(slots[index]!, value, problems);
    }
  }
  for (const { symbol, amount } of readings) checkShare(amount, problems, symbol.text);
  // What is missing may well be what fits nowhere: one thing is said at a time.
  if (strays === 0) reportMissing(slots, filled, unknown, readings.length > 0, piece, problems);
  return filled;
};

const reportMissing = (
  slots: readonly Slot[],
  filled: readonly (Value | undefined)[],
  unknown: ReadonlyMap<Value, Slot>,
  hasReadings: boolean,
  piece: Piece,
  problems: Problem[],
): void => {
  const open = problems.slice(piece.problemsBefore).some(({ code }) => code === 'missing-part');
  const mark = new Map([...unknown].map(([value, slot]) => [slot, value]));
  const missing = slots.find(
    (slot, index) =>
      !filled[index] &&
      !(slot.optional || (mark.has(slot) && !isIdentity(slot))) &&
      !(slot.takes[0] === 'reading' && hasReadings),
  );
  if (!missing || open) return;
  const lead = missing.lead ? `\`${missing.lead}\` and ` : '';
  report(problems, 'missing-part', mark.get(missing) ?? piece, piece.word?.text.toLowerCase() ?? '', {
    wanted: `${lead}${SLOT_NOUNS[missing.takes[0]!]}`,
  });
};

/**
 * `from ?`, `crucible ?`: names that are not known yet, by the slots that they would stand in. A `?` that may be a weight is one. What is optional and
 * has no word before it is left out, and not asked for.
 */
const unknownNames = (slots: readonly Slot[], values: readonly Value[]): ReadonlyMap<Value, Slot> => {
  const found = new Map<Value, Slot>();
  let isNamed: boolean | undefined;
  for (const value of values) {
    if (value.shape !== 'amount' || value.form !== 'unknown' || value.unit || value.gross || value.guessed) continue;
    const lead = value.lead?.text.toLowerCase();
    const slot = lead ? slots.find((one) => leadFits(one, lead)) : slots[0];
    if (!slot || (!lead && (slot.lead || slot.optional)) || slot.takes.some((takes) => NOT_WORDS.has(takes))) continue;
    isNamed ??= values.some((other) => isFreeName(slots, other));
    if (lead || !isNamed) found.set(value, slot);
  }
  return found;
};

/** What a lot or an entry is called: without it nothing can be found again. */
const isIdentity = ({ takes }: Slot): boolean => takes.some((one) => one === 'lot' || one === 'step');

/** `receive 14k 20 g`, `melt 57`: an amount or a date that stands where the name should. */
const misnamedAmount = (slots: readonly Slot[], values: readonly Value[]): Value | undefined => {
  const [slot] = slots;
  const first = values[0];
  if (!slot || slot.lead || !takesName(slot) || !first || first.lead || !readsAsName(first)) return undefined;
  if (values.some((value) => isFreeName(slots, value))) return undefined;
  if (first.shape === 'date')
    return slot.optional || slots.some(({ takes }) => takes.includes('date')) ? undefined : first;
  const takesAmount = slots.some(({ takes }) => takes.some((one) => fits(one, first)));
  if (!takesAmount) return slot.optional ? undefined : first;
  const another = values.some((value) => value !== first && value.shape === 'amount');
  const isWeight = unitKind(first) === 'mass' || unitKind(first) === 'volume';
  const odd = !isWeight || (another && isGlued(first));
  return odd && (another || !slot.optional) ? first : undefined;
};

/** `out bar 22.30 g bar`: of two words that could both be the kind, the first is the name. */
const firstOfTwins = (slots: readonly Slot[], values: readonly Value[]): Value | undefined => {
  const closed = values.filter(
    (value) => value.shape === 'word' && !value.lead && slots.some((slot) => fitsExactly(slot, value)),
  );
  return closed.length === 2 && values.every(({ shape }) => shape !== 'word' || closed.length === countOfWords(values))
    ? closed[0]
    : undefined;
};

const countOfWords = (values: readonly Value[]): number => values.filter(({ shape }) => shape === 'word').length;

/** A word that may be the name of the first slot, and is none of a closed set that another slot takes. */
const isFreeName = (slots: readonly Slot[], value: Value): boolean =>
  value.shape === 'word' &&
  leadFits(slots[0]!, value.lead?.text.toLowerCase()) &&
  !slots.some((slot) => leadFits(slot, value.lead?.text.toLowerCase()) && fitsExactly(slot, value));

const readsAsName = (value: Value): value is Value & (AmountNode | { readonly shape: 'date' }) =>
  value.shape === 'date' || (value.shape === 'amount' && value.parts.length > 0 && !value.guessed && !value.gross);

const isGlued = (amount: AmountNode): boolean => {
  const part = amount.parts[0]!;
  return part.unit?.start === part.start + part.text.length;
};

const takesName = (slot: Slot): boolean => slot.takes.some((takes) => !NOT_WORDS.has(takes) && !CLOSED_SETS.has(takes));

/** Asks for quotes, instead of whatever else was found amiss with the figure. */
const reportName = (value: Value, piece: Piece, cursor: Cursor): void => {
  const { problems } = cursor;
  for (const problem of problems.splice(piece.problemsBefore))
    if (problem.start < value.start || problem.end > value.end) problems.push(problem);
  const written = writtenAs(cursor.tokens, value);
  report(problems, 'name-needs-quotes', value, written, {
    mend: { start: value.start, end: value.end, text: `"${written}"` },
  });
};

const standsForName = (slots: readonly Slot[], filled: readonly (Value | undefined)[], value: Value): boolean => {
  const lead = value.lead?.text.toLowerCase();
  const isFree = (slot: Slot, index: number): boolean => !filled[index] && leadFits(slot, lead) && takesName(slot);
  return readsAsName(value) && slots.some((slot, index) => isFree(slot, index) && (lead || !slot.optional));
};

const slotFor = (slots: readonly Slot[], filled: readonly (Value | undefined)[], value: Value): number => {
  const lead = value.lead?.text.toLowerCase();
  // A closed word (a kind, a method) finds its own slot before a free name may take it.
  const exact = slots.findIndex((slot, index) => !filled[index] && leadFits(slot, lead) && fitsExactly(slot, value));
  if (exact >= 0) return exact;
  return slots.findIndex(
    (slot, index) => !filled[index] && leadFits(slot, lead) && slot.takes.some((takes) => fits(takes, value)),
  );
};

const checkFilled = (slot: Slot, value: Value, problems: Problem[]): void => {
  if (value.shape === 'amount') checkUnit(slot, value, problems);
  if (value.was?.shape === 'amount') checkUnit(slot, value.was, problems);
  if (value.shape === 'word' && (slot.takes.includes('lot') || slot.takes.includes('step')))
    checkName(value.word, problems);
};

/** A name that reads as something else needs quotes. */
const checkName = (word: WordNode, problems: Problem[]): void => {
  if (word.quoted || isCapital(word.text) || !isLanguageWord(word.text)) return;
  report(problems, 'name-needs-quotes', word, word.text, {
    mend: { start: word.start, end: word.end, text: `"${word.text}"` },
  });
};

/** `receive A`, `out B`: a single capital is a good name for a lot, though boron is called so. */
const isCapital = (text: string): boolean => text.length === 1 && text >= 'A' && text <= 'Z';

/** A word of the language, a unit or a symbol. */
export const isLanguageWord = (text: string): boolean => {
  const word = text.toLowerCase();
  return (
    verb(word) !== undefined ||
    detail(word) !== undefined ||
    remark(word) !== undefined ||
    KIND_WORDS.has(word) ||
    STATE_WORDS.has(word) ||
    LEAD_WORDS.has(word) ||
    unitRow(text) !== undefined ||
    element(text) !== undefined
  );
};

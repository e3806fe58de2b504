/** Which value goes in which slot: needed ones in the order given, the others by shape or by the word before them. */
import { unit as unitRow } from '../quantity/units';
import { nearest } from '../text/nearest';
import type { Span } from '../text/span';
import { detail, remark } from '../vocabulary/details';
import { ELEMENTS, element } from '../vocabulary/elements';
import { material } from '../vocabulary/materials';
import type { Slot, SlotTakes } from '../vocabulary/slots';
import { verb } from '../vocabulary/verbs';
import { BASIS_WORDS, KIND_WORDS, LEAD_WORDS, METHOD_WORDS, POOL_WORDS, STATE_WORDS } from '../vocabulary/words';
import { type Cursor, report, tokenAt, writtenAs } from './cursor';
import type { AmountNode, Problem, ReadingNode, Value, WordNode } from './tree';
import { asFineness, checkShare, checkUnit } from './units';

/** Places that take one word of a few. */
export const CLOSED_SETS: ReadonlyMap<SlotTakes, ReadonlySet<string>> = new Map<SlotTakes, ReadonlySet<string>>([
  ['kind', KIND_WORDS],
  ['method', METHOD_WORDS],
  ['basis', BASIS_WORDS],
  ['pool', POOL_WORDS],
]);

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

/** A piece being read, and how many problems there were before it. */
interface Piece extends Span {
  readonly word: WordNode | undefined;
  readonly problemsBefore: number;
}

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
  for (const value of values) {
    if (value === misnamed) continue;
    const index = value === twin ? slots.findIndex(takesName) : slotFor(slots, filled, value);
    if (index < 0) {
      const name = strays === 0 && standsForName(slots, filled, value);
      if (name) reportName(value, piece, cursor);
      else reportStray(slots, filled, value, piece, cursor);
      strays++;
    } else {
      filled[index] = value;
      checkFilled(slots[index]!, value, problems);
    }
  }
  for (const { symbol, amount } of readings) checkShare(amount, problems, symbol.text);
  // What is missing may well be what fits nowhere: one thing is said at a time.
  if (strays === 0) reportMissing(slots, filled, readings.length > 0, piece, problems);
  return filled;
};

const reportMissing = (
  slots: readonly Slot[],
  filled: readonly (Value | undefined)[],
  hasReadings: boolean,
  piece: Piece,
  problems: Problem[],
): void => {
  const open = problems.slice(piece.problemsBefore).some(({ code }) => code === 'missing-part');
  const missing = slots.find(
    (slot, index) => !filled[index] && !slot.optional && !(slot.takes[0] === 'reading' && hasReadings),
  );
  if (!missing || open) return;
  const lead = missing.lead ? `\`${missing.lead}\` and ` : '';
  report(problems, 'missing-part', piece, piece.word?.text.toLowerCase() ?? '', {
    wanted: `${lead}${SLOT_NOUNS[missing.takes[0]!]}`,
  });
};

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

const leadFits = (slot: Slot, lead: string | undefined): boolean =>
  lead === undefined ? slot.lead === undefined : slot.lead === lead || slot.orLed === lead;

const fitsExactly = (slot: Slot, value: Value): boolean => {
  if (value.shape === 'word') {
    if (value.word.quoted) return false;
    return slot.takes.some((takes) => CLOSED_SETS.get(takes)?.has(value.word.text.toLowerCase()));
  }
  if (value.shape !== 'amount') return false;
  const kind = unitKind(value);
  return slot.takes.some(
    (takes) => (takes === 'temperature' && kind === 'temperature') || (takes === 'share' && kind === 'proportion'),
  );
};

const unitKind = (amount: AmountNode): string | undefined =>
  amount.unit ? unitRow(amount.unit.text)?.kind : undefined;

const fits = (takes: SlotTakes, value: Value): boolean => {
  switch (value.shape) {
    case 'amount':
      if (takes === 'none') return value.form === 'none';
      if (takes === 'temperature') return unitKind(value) === 'temperature';
      if (takes === 'money' || takes === 'rate') return value.form === 'reading';
      return takes === 'amount' || takes === 'share' || takes === 'number';
    case 'money':
      return takes === 'money' || takes === 'rate';
    case 'date':
      return takes === 'date';
    case 'text':
      return takes === 'text';
    case 'word':
      return fitsWord(takes, value.word);
  }
};

const NOT_WORDS: ReadonlySet<SlotTakes> = new Set([
  'amount',
  'temperature',
  'money',
  'rate',
  'share',
  'date',
  'number',
  'reading',
  'none',
  'text',
]);

const fitsWord = (takes: SlotTakes, word: WordNode): boolean => {
  if (NOT_WORDS.has(takes)) return false;
  if (takes === 'metal') return element(word.text) !== undefined || /^[A-Z]{3}$/.test(word.text);
  const closed = CLOSED_SETS.get(takes);
  if (takes === 'basis' && element(word.text)) return true;
  return closed ? !word.quoted && closed.has(word.text.toLowerCase()) : true;
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

/** A value that no free slot takes. */
const reportStray = (
  slots: readonly Slot[],
  filled: readonly (Value | undefined)[],
  value: Value,
  piece: Piece,
  cursor: Cursor,
): void => {
  const free = slots.filter((_, index) => !filled[index]);
  const found = writtenAs(cursor.tokens, value);
  const near = value.shape === 'word' ? nearestFor(free, value.word) : markOf(free, value);
  const mend = near ? { mend: { start: value.start, end: value.end, text: near } } : {};
  const more = near ? undefined : (secondUnit(filled, value, found) ?? materialOf(value, piece, cursor));
  report(cursor.problems, 'stray-part', value, found, more ?? { wanted: near, ...mend });
};

/** The word of a closed set, or the symbol of a metal's name, that was likely meant. */
const nearestFor = (free: readonly Slot[], word: WordNode): string | undefined => {
  const metal = free.some((slot) => slot.takes.includes('metal')) ? symbolOf(word.text.toLowerCase()) : undefined;
  return (
    metal ??
    nearest(
      word.text,
      free.flatMap((slot) => [...(CLOSED_SETS.get(slot.takes[0]!) ?? [])]),
    )
  );
};

/** `1 ozt 5 dwt`: a second weight right behind the first is a sum in two units. */
const secondUnit = (
  filled: readonly (Value | undefined)[],
  value: Value,
  found: string,
): Pick<Problem, 'wanted' | 'mend'> | undefined => {
  const isSum = (other: Value | undefined): boolean =>
    other?.shape === 'amount' && value.start > other.end && value.start - other.end <= 1 && unitKind(other) === 'mass';
  if (value.shape !== 'amount' || unitKind(value) !== 'mass' || !filled.some(isSum)) return undefined;
  return { wanted: `+ ${found}`, mend: { start: value.start, end: value.start, text: '+ ' } };
};

/** `receive A 20 g scrap`: a material of a lot has its own word. */
const materialOf = (value: Value, { word }: Piece, cursor: Cursor): Pick<Problem, 'wanted' | 'mend'> | undefined => {
  const isReceived = word === undefined || word.text.toLowerCase() === 'receive';
  if (!isReceived || value.shape !== 'word' || value.lead || !material(value.word.text)) return undefined;
  if (cursor.tokens[cursor.end - 1]!.end !== value.end) return undefined;
  const before = cursor.tokens[tokenAt(cursor.tokens, value.start) - 1]!;
  const wanted = `, material ${value.word.text}`;
  return { wanted, mend: { start: before.end, end: value.end, text: wanted } };
};

/** `stamp 585`: the metal that bears such a mark. */
const markOf = (free: readonly Slot[], value: Value): string | undefined => {
  if (value.shape !== 'amount' || value.form !== 'reading' || !free.some(({ takes }) => takes.includes('reading')))
    return undefined;
  const { text } = value.parts[0]!;
  const unit = value.unit?.text;
  if (unit === 'k') return `Au ${text} k`;
  const metal = GOLD_MARKS.has(text) ? 'Au' : SILVER_MARKS.has(text) ? 'Ag' : undefined;
  return metal && (unit ? `${metal} ${text} ${unit}` : `${metal} ${asFineness(text, metal)}`);
};

/** Fineness marks that are common for one metal alone: ISO 8654 and 9202 name most of them. */
const GOLD_MARKS: ReadonlySet<string> = new Set(['333', '375', '417', '583', '585', '750', '875', '916', '917']);
const SILVER_MARKS: ReadonlySet<string> = new Set(['800', '830', '835', '925', '935', '958']);

const symbolOf = (name: string): string | undefined => ELEMENTS.find((row) => row.name === name)?.symbol;

/** Which value goes in which slot: needed ones in the order given, the others by shape or by the word before them. */
import { unit as unitRow } from '../quantity/units';
import { nearest } from '../text/nearest';
import type { Span } from '../text/span';
import { detail, remark } from '../vocabulary/details';
import { element } from '../vocabulary/elements';
import type { Slot, SlotTakes } from '../vocabulary/slots';
import { verb } from '../vocabulary/verbs';
import { BASIS_WORDS, KIND_WORDS, LEAD_WORDS, METHOD_WORDS, POOL_WORDS, STATE_WORDS } from '../vocabulary/words';
import { report } from './cursor';
import type { AmountNode, Problem, ReadingNode, Value, WordNode } from './tree';
import { checkShare, checkUnit } from './units';

const CLOSED_SETS = new Map<SlotTakes, ReadonlySet<string>>([
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

export const fillSlots = (
  slots: readonly Slot[],
  values: readonly Value[],
  readings: readonly ReadingNode[],
  piece: Span,
  word: WordNode | undefined,
  problems: Problem[],
): (Value | undefined)[] => {
  const filled: (Value | undefined)[] = slots.map(() => undefined);
  for (const value of values) {
    const index = slotFor(slots, filled, value);
    if (index < 0) reportStray(slots, filled, value, problems);
    else {
      filled[index] = value;
      checkFilled(slots[index]!, value, problems);
    }
  }
  for (const reading of readings) checkShare(reading.amount, problems);
  slots.forEach((slot, index) => {
    if (filled[index] || slot.optional || (slot.takes[0] === 'reading' && readings.length > 0)) return;
    const lead = slot.lead ? `${slot.lead} ` : '';
    const end = Math.max(piece.end, word?.end ?? 0);
    report(problems, 'missing-part', { start: piece.start, end }, word?.text.toLowerCase() ?? '', {
      wanted: `${lead ? `\`${lead.trim()}\` and ` : ''}${SLOT_NOUNS[slot.takes[0]!]}`,
    });
  });
  return filled;
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
  if (word.quoted || !isLanguageWord(word.text)) return;
  report(problems, 'name-needs-quotes', word, word.text, {
    mend: { start: word.start, end: word.end, text: `"${word.text}"` },
  });
};

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
  problems: Problem[],
): void => {
  const free = slots.filter((_, index) => !filled[index]);
  const wantsName = free.find(
    (slot) => !slot.lead && slot.takes.some((takes) => takes === 'lot' || takes === 'step' || takes === 'label'),
  );
  if (value.shape !== 'word' && wantsName && !wantsName.optional) {
    const written = value.shape === 'amount' ? amountText(value) : value.shape === 'date' ? value.text : undefined;
    if (written) {
      const mend = { start: value.start, end: value.end, text: `"${written}"` };
      report(problems, 'name-needs-quotes', value, written, { mend });
      return;
    }
  }
  if (value.shape === 'word') {
    const known = free.flatMap((slot) => [...(CLOSED_SETS.get(slot.takes[0]!) ?? [])]);
    const near = nearest(value.word.text, known);
    const mend = near ? { mend: { start: value.start, end: value.end, text: near } } : {};
    report(problems, 'stray-part', value, value.word.text, { wanted: near, ...mend });
    return;
  }
  report(problems, 'stray-part', value, shapeText(value));
};

const amountText = (amount: AmountNode): string | undefined => {
  const part = amount.parts[0];
  if (amount.form !== 'reading' || !part) return undefined;
  return part.unit
    ? `${part.text}${part.unit.start === part.end - part.unit.text.length ? '' : ' '}${part.unit.text}`
    : part.text;
};

const shapeText = (value: Value): string =>
  value.shape === 'date' || value.shape === 'text' ? value.text : value.shape;

/** Which value fits which slot. */
import { unit as unitRow } from '../quantity/units';
import type { Span } from '../text/span';
import { element } from '../vocabulary/elements';
import type { Slot, SlotTakes } from '../vocabulary/slots';
import { BASIS_WORDS, KIND_WORDS, METHOD_WORDS, POOL_WORDS } from '../vocabulary/words';
import type { AmountNode, Value, WordNode } from './tree';

/** Places that take one word of a few. */
export const CLOSED_SETS: ReadonlyMap<SlotTakes, ReadonlySet<string>> = new Map<SlotTakes, ReadonlySet<string>>([
  ['kind', KIND_WORDS],
  ['method', METHOD_WORDS],
  ['basis', BASIS_WORDS],
  ['pool', POOL_WORDS],
]);

/** A piece being read, and how many problems there were before it. */
export interface Piece extends Span {
  readonly word: WordNode | undefined;
  readonly problemsBefore: number;
}

export const leadFits = (slot: Slot, lead: string | undefined): boolean =>
  lead === undefined ? slot.lead === undefined : slot.lead === lead || slot.orLed === lead;
export const fitsExactly = (slot: Slot, value: Value): boolean => {
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

export const unitKind = (amount: AmountNode): string | undefined =>
  amount.unit ? unitRow(amount.unit.text)?.kind : undefined;

export const fits = (takes: SlotTakes, value: Value): boolean => {
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

export const NOT_WORDS: ReadonlySet<SlotTakes> = new Set([
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

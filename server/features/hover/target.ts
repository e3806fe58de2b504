/** What stands at an offset: a word of the language, a name and what it names, an amount, a unit, a date. */
import { isBlank } from '../../syntax/scan';
import type { AmountNode, LineNode, NumberNode, PieceNode, Section, Value, WordNode } from '../../syntax/tree';
import type { Span } from '../../text/span';
import type { Slot, SlotTakes, WordRow } from '../../vocabulary/slots';

export type Target = Span &
  (
    | { readonly kind: 'row'; readonly row: WordRow }
    /** A prefix, a kind of product, a state, a method, a lead word, `gross`, `was`. */
    | { readonly kind: 'word'; readonly word: string; readonly takes: SlotTakes | 'prefix' | 'lead' | 'state' }
    | { readonly kind: 'name'; readonly name: string; readonly takes: SlotTakes }
    | { readonly kind: 'amount' }
    | { readonly kind: 'unit'; readonly symbol: string }
    | { readonly kind: 'metal'; readonly symbol: string }
    | { readonly kind: 'money' }
    | { readonly kind: 'day'; readonly date: string | undefined }
    | { readonly kind: 'clock' }
    | { readonly kind: 'comment'; readonly text: string }
  );

/** Offsets count from the section's start. At the very end of a word that word is meant. */
export const targetAt = (section: Section, offset: number): Target | undefined =>
  targetOn(section, offset) ?? (offset > 0 ? targetOn(section, offset - 1) : undefined);

/** The character that begins at the offset is within. */
const holds = ({ start, end }: Span, offset: number): boolean => start <= offset && offset < end;

const targetOn = (section: Section, offset: number): Target | undefined => {
  const line = section.lines.find((one) => holds(one, offset));
  if (!line) return undefined;
  const { comment } = line;
  if (comment && holds(comment, offset)) {
    return { ...spanOf(comment), kind: 'comment', text: section.text.slice(comment.start, comment.end) };
  }
  if (line.kind === 'day') return { ...spanOf(line), kind: 'day', date: section.date };
  const { prefix } = section;
  if (prefix && holds(prefix, offset)) {
    return { ...spanOf(prefix), kind: 'word', word: prefix.text.toLowerCase(), takes: 'prefix' };
  }
  return (
    (line.clock && clockTarget(line, offset)) ||
    line.pieces.map((piece) => inPiece(piece, offset, section.text)).find(Boolean)
  );
};

const spanOf = ({ start, end }: Span): Span => ({ start, end });

const clockTarget = ({ clock }: LineNode, offset: number): Target | undefined => {
  const at = [clock?.date, clock?.time].find((one) => one && holds(one, offset));
  if (at) return { ...spanOf(at), kind: 'clock' };
  return clock && holds(clock.text, offset) ? { ...spanOf(clock.text), kind: 'clock' } : undefined;
};

const inPiece = (piece: PieceNode, offset: number, text: string): Target | undefined => {
  if (!holds(piece, offset)) return undefined;
  const { word, row, scale } = piece;
  if (word && row && holds(word, offset)) return { ...spanOf(word), kind: 'row', row };
  if (scale && holds(scale, offset)) return nameOf(scale, 'scale');
  const state = piece.states.find((one) => holds(one, offset));
  if (state) return stateOf(state);
  return (
    inReadings(piece, offset) ??
    piece.values.map((value) => inValue(value, slotOf(piece, value), offset)).find(Boolean) ??
    onScaleLead(piece, offset, text)
  );
};

/** The `on` of `on bench`: the piece keeps the scale alone. */
const onScaleLead = ({ scale }: PieceNode, offset: number, text: string): Target | undefined => {
  if (!scale || offset >= scale.start) return undefined;
  let end = scale.start;
  while (end > 0 && isBlank(text.charCodeAt(end - 1))) end--;
  const on = { start: end - 2, end };
  return holds(on, offset) ? { ...on, kind: 'word', word: 'on', takes: 'lead' } : undefined;
};

const slotOf = ({ row, filled }: PieceNode, value: Value): Slot | undefined => row?.slots[filled.indexOf(value)];

const nameOf = (word: WordNode, takes: SlotTakes): Target => ({
  ...spanOf(word),
  kind: 'name',
  name: word.text,
  takes,
});

const stateOf = (word: WordNode): Target => ({
  ...spanOf(word),
  kind: 'word',
  word: word.text.toLowerCase(),
  takes: 'state',
});

const inReadings = ({ readings }: PieceNode, offset: number): Target | undefined => {
  for (const { symbol, amount } of readings) {
    if (holds(symbol, offset)) return { ...spanOf(symbol), kind: 'metal', symbol: symbol.text };
    if (holds(amount, offset)) return inAmount(amount, offset);
  }
  return undefined;
};

const inValue = (value: Value, slot: Slot | undefined, offset: number): Target | undefined => {
  if (value.lead && holds(value.lead, offset)) {
    return { ...spanOf(value.lead), kind: 'word', word: value.lead.text.toLowerCase(), takes: 'lead' };
  }
  if (value.was && holds(value.was, offset)) return inValue(value.was, slot, offset);
  if (!holds(value, offset)) return undefined;
  if (value.shape === 'amount') return inAmount(value, offset);
  if (value.shape === 'money') return { ...spanOf(value), kind: 'money' };
  return value.shape === 'word' ? ofWord(value.word, slot) : undefined;
};

const NOT_NAMES: ReadonlySet<SlotTakes> = new Set([
  'amount',
  'number',
  'money',
  'rate',
  'share',
  'date',
  'text',
  'none',
]);
const CLOSED: ReadonlySet<SlotTakes> = new Set(['kind', 'method', 'basis', 'pool']);

const ofWord = (word: WordNode, slot: Slot | undefined): Target | undefined => {
  const takes = slot?.takes.find((one) => !NOT_NAMES.has(one));
  if (!takes) return undefined;
  if (takes === 'metal') return { ...spanOf(word), kind: 'metal', symbol: word.text };
  if (CLOSED.has(takes)) return { ...spanOf(word), kind: 'word', word: word.text.toLowerCase(), takes };
  return nameOf(word, takes);
};

const inAmount = (amount: AmountNode, offset: number): Target => {
  const state = amount.states.find((one) => holds(one, offset));
  if (state) return stateOf(state);
  const numbers: readonly NumberNode[] = [...amount.parts, ...(amount.spread ? [amount.spread.half] : [])];
  const units = [amount.unit, ...numbers.map(({ unit }) => unit)];
  const unit = units.find((one) => one && holds(one, offset));
  if (unit) return { ...spanOf(unit), kind: 'unit', symbol: unit.text };
  return { ...spanOf(amount), kind: 'amount' };
};

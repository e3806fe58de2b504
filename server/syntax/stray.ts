/** A value that no free slot takes: what was likely meant. */
import { firstWhere } from '../text/lists';
import { nearest } from '../text/nearest';
import type { Span } from '../text/span';
import { ELEMENTS } from '../vocabulary/elements';
import { material } from '../vocabulary/materials';
import type { Slot } from '../vocabulary/slots';
import { type Cursor, report, tokenAt, writtenAs } from './cursor';
import { CLOSED_SETS, fits, type Piece, unitKind } from './fits';
import type { Problem, Value, WordNode } from './tree';
import { asFineness } from './units';

/**
 * Whether something has been said of a value already: of a figure that is amiss itself, where it fits is told once it can be read. Looked up, as
 * a line may hold nothing but such figures.
 */
export const alreadyTold = ({ problems }: Cursor, { problemsBefore }: Piece): ((value: Span) => boolean) => {
  const told = problems.slice(problemsBefore).sort((a, b) => a.start - b.start);
  let last = 0;
  const ends = told.map(({ end }) => {
    last = Math.max(last, end);
    return last;
  });
  return ({ start, end }) => {
    const behind = firstWhere(told, (one) => one.start >= end);
    return behind > 0 && start < ends[behind - 1]!;
  };
};

/** A value that no free slot takes. */
export const reportStray = (
  slots: readonly Slot[],
  filled: readonly (Value | undefined)[],
  value: Value,
  piece: Piece,
  cursor: Cursor,
): void => {
  const free = slots.filter((_, index) => !filled[index]);
  const found = writtenAs(cursor.tokens, value);
  const compound = compoundOf(filled, value);
  if (compound) {
    report(cursor.problems, 'stray-part', compound, writtenAs(cursor.tokens, compound), compound);
    return;
  }
  const near = value.shape === 'word' ? (ledBy(free, value) ?? nearestFor(free, value.word)) : markOf(free, value);
  const mend = near ? { mend: { start: value.start, end: value.end, text: near } } : {};
  const more = near ? undefined : (secondUnit(filled, value, found) ?? materialOf(value, piece, cursor));
  report(cursor.problems, 'stray-part', value, found, more ?? { wanted: near, ...mend });
};

/** `add borax glass`: a material whose name has no blank. */
const compoundOf = (
  filled: readonly (Value | undefined)[],
  value: Value,
): (Span & Required<Pick<Problem, 'wanted' | 'mend'>>) | undefined => {
  if (value.shape !== 'word' || value.lead) return undefined;
  const before = filled.find((one) => one?.shape === 'word' && value.start > one.end && value.start - one.end <= 1);
  if (before?.shape !== 'word') return undefined;
  const wanted = `${before.word.text}-${value.word.text}`.toLowerCase();
  const at = { start: before.start, end: value.end };
  return material(wanted) ? { ...at, wanted, mend: { ...at, text: wanted } } : undefined;
};

/** `assay B xrf`, `ship V1 harbour-refiner`: what is needed here, without the word before it. */
const ledBy = (free: readonly Slot[], value: Value): string | undefined => {
  if (value.shape !== 'word' || value.lead) return undefined;
  const slot = free.find(({ lead, optional, takes }) => lead && !optional && takes.some((one) => fits(one, value)));
  return slot && `${slot.lead} ${value.word.text}`;
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

/** Of a metal by its name. */
export const symbolOf = (name: string): string | undefined => ELEMENTS.find((row) => row.name === name)?.symbol;

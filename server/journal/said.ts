/** Remarks (`keep`, `on bench`, `tare tray-2`, …) and how far each of them reaches. */
import type { Said } from '../engine/entry';
import { decimal } from '../quantity/decimal';
import type { PieceNode, Section, Value } from '../syntax/tree';
import { placeIn } from '../text/place';
import { amountOf, moneyOf, namedValue } from './amounts';

/** Remarks that speak of the piece just before them only. */
export const OF_PIECE_BEFORE: ReadonlySet<string> = new Set(['tare', 'before', 'after']);

/**
 * Built with `Object.assign`, here and where remarks are joined: an object spread that gains a field gets a hidden class of its own, ten times
 * the size of what is said.
 */
type Writable = { -readonly [Key in keyof Said]: Said[Key] };

const textOf = (value: Value | undefined): string | undefined => (value?.shape === 'text' ? value.text : undefined);
const dateOf = (value: Value | undefined): string | undefined => (value?.shape === 'date' ? value.text : undefined);

/** What one remark says, added to what was said before. */
export const addRemark = (section: Section, piece: PieceNode, said: Said): Said => {
  const word = piece.word?.text.toLowerCase();
  const value = piece.filled[0];
  const place = placeIn(section, piece);
  const next: Writable = Object.assign({}, said);
  switch (word) {
    case 'on':
      next.scale = namedValue(section, value);
      break;
    case 'tare':
    case 'before':
    case 'after': {
      const amount = value?.shape === 'amount' ? amountOf(section, value, piece) : undefined;
      if (word === 'tare') next.tare = amount ?? namedValue(section, value);
      else next[word] = amount;
      break;
    }
    case 'keep':
    case 'discard':
      next[word] = place;
      break;
    case 'lent':
    case 'repays':
      next[word] = place;
      if (value) next.lender = namedValue(section, value);
      break;
    case 'at':
    case 'to':
    case 'owner':
    case 'batch':
    case 'fixing':
    case 'sealed':
    case 'hand':
    case 'witness':
      next[word] = namedValue(section, value);
      break;
    case 'due':
      next.due = dateOf(value);
      break;
    case 'hold':
      next.holdUntil = dateOf(value);
      break;
    case 'pooled':
      if (value?.shape === 'word') next.pooled = value.word.text.toLowerCase() === 'assay' ? 'assay' : 'weight';
      break;
    case 'pieces':
      next.pieces = piecesOf(section, value);
      break;
    case 'insured':
      next.insured = moneyOf(section, value);
      break;
    case 'corrected':
    case 'uncorrected':
      next.corrected = word === 'corrected';
      break;
    case 'umpire':
      next.umpire = true;
      break;
    case 'photo':
      next.photos = append(said.photos, namedValue(section, value));
      break;
    case 'paper':
      next.papers = append(said.papers, namedValue(section, value));
      break;
    case 'because':
      next.because = textOf(value);
      break;
    case 'note':
      next.notes = append(said.notes, textOf(value));
      break;
  }
  return next;
};

/** Two remarks' words together; of what both say once, the later holds. */
export const sayBoth = (earlier: Said, later: Said): Said => {
  if (earlier === NOTHING) return later;
  if (later === NOTHING) return earlier;
  const both: Writable = Object.assign({}, earlier, later);
  if (earlier.photos && later.photos) both.photos = [...earlier.photos, ...later.photos];
  if (earlier.papers && later.papers) both.papers = [...earlier.papers, ...later.papers];
  if (earlier.notes && later.notes) both.notes = [...earlier.notes, ...later.notes];
  return both;
};

/** Nothing said. */
export const NOTHING: Said = {};

const append = <T>(list: readonly T[] | undefined, item: T | undefined): readonly T[] | undefined =>
  item === undefined ? list : [...(list ?? []), item];

const piecesOf = (section: Section, value: Value | undefined): Said['pieces'] => {
  const part = value?.shape === 'amount' ? value.parts[0] : undefined;
  return part
    ? { text: part.text, value: decimal(part.text), unit: undefined, measure: undefined, place: placeIn(section, part) }
    : undefined;
};

/** Remarks of the entry that its lines do not take over: they are about the writing, not about a lot. */
const OF_ENTRY_ALONE = ['photos', 'papers', 'because', 'notes', 'hand', 'witness'] as const;

/** What an entry says that its lines take over. */
export const reaching = (ofEntry: Said): Said => {
  const taken: Writable = Object.assign({}, ofEntry);
  for (const key of OF_ENTRY_ALONE) delete taken[key];
  return isNothing(taken) ? NOTHING : taken;
};

/** A line's own remarks over those of its entry. Most lines say nothing themselves, and share one object. */
export const inherit = (ofEntry: Said, own: Said): Said => {
  if (isNothing(own)) return ofEntry;
  return isNothing(ofEntry) ? own : Object.assign({}, ofEntry, own);
};

const isNothing = (said: Said): boolean => {
  for (const _ in said) return false;
  return true;
};

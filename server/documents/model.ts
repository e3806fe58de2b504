/**
 * What a document says, before it has a form: facts, then sections of sentences, tables and pictures. Every figure stands with its unit, its
 * ± and its ground, every row with the place in the journal that it comes from. Text is data: each form escapes it.
 */
import type { Place } from '../text/place';

export interface Figure {
  /** Plain digits. */
  readonly value: string;
  readonly unit: string;
  /** k = 2; none of what is exact or has none. */
  readonly plusMinus?: string;
}

/** What stands in one place of a table, or beside a fact. */
export interface Cell {
  /** As a person reads it, cut to what it means; empty for nothing. */
  readonly text: string;
  readonly figure?: Figure;
  /** How it is known, where it was not simply weighed: `assayed`, `carried`, `guessed`. */
  readonly ground?: string;
}

export interface Column {
  readonly head: string;
  /** Figures stand to the right. */
  readonly right?: boolean;
}

export interface Row {
  readonly cells: readonly Cell[];
  /** Where the journal says so. */
  readonly place?: Place | undefined;
  /** A sum of those above. */
  readonly total?: true;
  /** Of a row that belongs to one above it: how far in it stands, from 1. */
  readonly depth?: number;
}

export interface Fact {
  readonly label: string;
  readonly cell: Cell;
  readonly place?: Place | undefined;
}

/** A sentence, with the place that it speaks of. */
export interface Sentence {
  /** What is to be typed as it stands is between backticks. */
  readonly text: string;
  /** In somebody's own words: every character of it stands for itself. */
  readonly quoted?: true;
  readonly place?: Place | undefined;
}

export type Block =
  | { readonly form: 'sentences'; readonly sentences: readonly Sentence[] }
  | {
      readonly form: 'table';
      readonly columns: readonly Column[];
      readonly rows: readonly Row[];
    }
  /** A drawing as SVG of our own making, and what it shows in words. */
  | { readonly form: 'picture'; readonly svg: string; readonly says: string };

export interface Section {
  readonly title: string;
  readonly blocks: readonly Block[];
}

export interface Document {
  /** `melt-sheet`. */
  readonly kind: string;
  /** `Melt sheet: melt M57`. */
  readonly title: string;
  /** The last day that it speaks of; none where nothing is dated. */
  readonly until: string | undefined;
  readonly facts: readonly Fact[];
  readonly sections: readonly Section[];
}

/** Nothing to show. */
export const NOTHING: Cell = { text: '' };

export const words = (text: string | undefined): Cell => (text ? { text } : NOTHING);

export const says = (text: string, place?: Place): Sentence => ({ text, place });

/** A note or a reason as somebody wrote it. */
export const quotes = (text: string, place?: Place): Sentence => ({ text, place, quoted: true });

/** A sentence cut where it names what is to be typed. */
export const spansOf = ({ text, quoted }: Sentence): readonly { readonly text: string; readonly code: boolean }[] =>
  quoted
    ? [{ text, code: false }]
    : text
        .split(/`([^`\n]+)`/)
        .map((part, at) => ({ text: part, code: at % 2 === 1 }))
        .filter((part) => part.text !== '');

/** A section with what there is of it; none where there is nothing. */
export const section = (title: string, ...blocks: readonly (Block | undefined)[]): readonly Section[] => {
  const filled = blocks.filter((block) => block !== undefined);
  return filled.length > 0 ? [{ title, blocks: filled }] : [];
};

/** Undefined where there is no row. */
export const table = (columns: readonly Column[], rows: readonly Row[]): Block | undefined =>
  rows.length > 0 ? { form: 'table', columns: withoutEmpty(columns, rows), rows: trimmed(columns, rows) } : undefined;

/** Undefined where there is no sentence. */
export const sentences = (all: readonly Sentence[]): Block | undefined =>
  all.length > 0 ? { form: 'sentences', sentences: all } : undefined;

/** A column in which nothing stands says nothing. The first one always stays: it names the row. */
const isFilled = (rows: readonly Row[], at: number): boolean =>
  at === 0 || rows.some(({ cells }) => (cells[at]?.text ?? '') !== '');

const withoutEmpty = (columns: readonly Column[], rows: readonly Row[]): readonly Column[] =>
  columns.filter((_, at) => isFilled(rows, at));

const trimmed = (columns: readonly Column[], rows: readonly Row[]): readonly Row[] =>
  rows.map((row) => ({
    ...row,
    cells: columns.flatMap((_, at) => (isFilled(rows, at) ? [row.cells[at] ?? NOTHING] : [])),
  }));

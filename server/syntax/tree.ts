/**
 * The tree of a page. Every node is a range of the page's text, and the sections, end to end, are the whole text: nothing is ever lost.
 * Offsets count from the section's start. Numbers stay text. No meaning here.
 */
import type { Anchor } from '../text/place';
import type { Span } from '../text/span';
import type { WordRow } from '../vocabulary/slots';
import type { VerbRow } from '../vocabulary/verbs';

export interface WordNode extends Span {
  readonly text: string;
  /** In quotes: a name, whatever it looks like. `text` is without the quotes, the range with them. */
  readonly quoted: boolean;
}

export interface NumberNode extends Span {
  readonly text: string;
  readonly minus: boolean;
  readonly unit: WordNode | undefined;
}

export interface AmountNode extends Span {
  readonly shape: 'amount';
  readonly gross: boolean;
  readonly guessed: boolean;
  readonly form: 'reading' | 'below' | 'above' | 'range' | 'sum' | 'repeats' | 'unknown' | 'none' | 'not-determined';
  readonly parts: readonly NumberNode[];
  readonly unit: WordNode | undefined;
  readonly spread: { readonly half: NumberNode; readonly meaning: 'limits' | 'expanded' | 'standard' } | undefined;
  readonly states: readonly WordNode[];
}

export type Value = Span & {
  readonly lead?: WordNode;
  readonly was?: Value;
} & (
    | AmountNode
    | { readonly shape: 'word'; readonly word: WordNode }
    | { readonly shape: 'date'; readonly text: string }
    | {
        readonly shape: 'money';
        readonly number: NumberNode;
        readonly currency: string;
        readonly per: WordNode | undefined;
      }
    | { readonly shape: 'text'; readonly text: string }
  );

export interface ReadingNode extends Span {
  readonly symbol: WordNode;
  readonly amount: AmountNode & { readonly was?: Value };
}

/** What stands between two commas. */
export interface PieceNode extends Span {
  readonly kind: 'head' | 'detail' | 'remark' | 'reading' | 'amount' | 'stray';
  /** The word that it starts with; none for a reading or a bare amount. */
  readonly word: WordNode | undefined;
  /** The row of the vocabulary that the word is. */
  readonly row: WordRow | undefined;
  readonly values: readonly Value[];
  /** By slot of the row. */
  readonly filled: readonly (Value | undefined)[];
  readonly readings: readonly ReadingNode[];
  /** `on bench`, said of the piece's amount. */
  readonly scale: WordNode | undefined;
  /** States behind something else than the amount: `108.42 g shot dry`. */
  readonly states: readonly WordNode[];
}

export interface ClockNode extends Span {
  readonly date: (Span & { readonly text: string }) | undefined;
  readonly time: (Span & { readonly text: string }) | undefined;
  readonly text: Span & { readonly text: string };
}

export interface LineNode extends Span {
  readonly kind: 'day' | 'head' | 'details' | 'clock' | 'blank' | 'marker';
  /** Number of blanks before its first word. */
  readonly indent: number;
  readonly pieces: readonly PieceNode[];
  readonly clock: ClockNode | undefined;
  readonly comment: Span | undefined;
}

export type ProblemCode =
  | 'unknown-verb'
  | 'unknown-word'
  | 'misplaced-detail'
  | 'missing-part'
  | 'stray-part'
  | 'comma-list'
  | 'run-on'
  | 'name-needs-quotes'
  | 'unclosed-quote'
  | 'odd-character'
  | 'hidden-character'
  | 'hidden-in-text'
  | 'missing-unit'
  | 'unknown-unit'
  | 'wrong-unit'
  | 'which-unit'
  | 'decimal-comma'
  | 'thousands-mark'
  | 'odd-number'
  | 'mixed-weighings'
  | 'impossible-date'
  | 'impossible-time'
  | 'missing-indent'
  | 'loose-line'
  | 'merge-marker'
  | 'swallowed-detail';

/** A thing that the form of the text shows to be wrong. The rule of the same code puts it into words. */
export interface Problem extends Span {
  readonly code: ProblemCode;
  /** The written thing in question. */
  readonly found: string;
  /** What was wanted: `a lot`, `a mass`; or the nearest known word. */
  readonly wanted?: string;
  /** A mend, as a replacement within the section. */
  readonly mend?: { readonly start: number; readonly end: number; readonly text: string };
}

export type SectionKind = 'preamble' | 'day' | 'entry' | 'conflict';

export interface Section extends Anchor {
  readonly kind: SectionKind;
  readonly text: string;
  readonly lines: readonly LineNode[];
  readonly problems: readonly Problem[];
  /** Of an entry. */
  readonly prefix: WordNode | undefined;
  readonly verb: { readonly node: WordNode; readonly row: VerbRow } | undefined;
  /** Of a day: the date as written, if it is one. */
  readonly date: string | undefined;
  /** Merge markers cut it short. */
  readonly cut: boolean;
  /** Of a conflict, and of an entry whose verb is not known: every name within, so that the rest of the record does not miss them. */
  readonly mentions: ReadonlySet<string>;
}

export interface Page {
  readonly file: string;
  readonly text: string;
  readonly sections: readonly Section[];
  /** Where each section starts in the text. */
  readonly starts: ReadonlyMap<Section, number>;
}

/** What a completion offers. */
import type { Span } from '../../text/span';

export type ItemKind =
  | 'verb'
  | 'detail'
  | 'lot'
  | 'step'
  | 'thing'
  | 'material'
  | 'party'
  | 'unit'
  | 'word'
  | 'date'
  | 'symbol';

export interface Completion {
  readonly label: string;
  readonly kind: ItemKind;
  readonly detail?: string;
  /** Markdown. */
  readonly documentation?: string;
  /** What is put in; the label where none. With `snippet` it holds fields: `${1:M58}`. */
  readonly text?: string;
  readonly snippet?: boolean;
  /** Offsets in the page's text. */
  readonly replace: Span;
}

export interface Completions {
  readonly items: readonly Completion[];
  /** For a word that may begin a line: not to be shown unasked behind a blank. */
  readonly ofWords: boolean;
}

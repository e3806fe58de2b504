/** What a kind of document is. One file a kind; `kinds.ts` lists them. */
import type { Workspace } from '../../workspace/workspace';
import type { Choice } from '../choice';
import type { Document } from '../model';

export interface Kind {
  /** `melt-sheet`. */
  readonly code: string;
  readonly title: string;
  /** What it is for, in one line. */
  readonly means: string;
  /** What must be given; without it the document is refused. */
  readonly needs?: 'entry' | 'lot' | 'party' | 'day';
  /** What else may be. */
  readonly takes: readonly (keyof Choice)[];
  /** Its figures are sums over all entries of its time, and not only over those that it names. */
  readonly restsOn?: 'period';
  /** Throws Refused where it cannot be made of what was asked for. */
  readonly make: (workspace: Workspace, choice: Choice) => Omit<Document, 'kind'>;
}

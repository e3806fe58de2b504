/** What a rule is, and what it finds. One file a rule; the file's name is the code. */

import type { Edit, Place } from '../text/place';

export type Severity = 'error' | 'warning' | 'hint';

export interface Related {
  readonly place: Place;
  readonly says: string;
}

export interface Fix {
  /** What the hand would do: `Write 58.16 g here`. */
  readonly title: string;
  readonly edits: readonly Edit[];
  /** Changes only white space or the case of words: may run in a fix-all. */
  readonly safe: boolean;
  readonly preferred?: boolean;
}

/** One thing wrong, at one place. */
export interface Match {
  readonly place: Place;
  readonly says: string;
  readonly related?: readonly Related[];
  readonly fixes?: readonly Fix[];
}

export interface Finding extends Match {
  readonly code: string;
  readonly severity: Severity;
  /** Cannot be true whatever follows: said even while its entry is being typed. */
  readonly atOnce: boolean;
  /** Rests on a guess somewhere. */
  readonly unsure?: boolean;
}

/** A hint before its line is known: what a line could say, and how much it matters. */
import type { Account } from '../../engine/book';
import type { Entry } from '../../engine/entry';
import type { Place } from '../../text/place';
import type { Workspace } from '../../workspace/workspace';

export type HintFamily =
  | 'receive'
  | 'dry'
  | 'melt'
  | 'cupel'
  | 'handover'
  | 'step'
  | 'fine'
  | 'bench'
  | 'selling'
  | 'plan'
  | 'caution';

export interface Draft {
  /** Somewhere on the line that it speaks of. */
  readonly at: Place;
  /** At most 40 characters. */
  readonly label: string;
  /** The same in fewer words, for a line that says something else too. */
  readonly short?: string;
  /** Markdown; made when it is asked for, of the journal as it then is. */
  readonly tooltip: (workspace: Workspace) => string;
  /** The other weight that it speaks of: a way there. */
  readonly other?: Place;
  readonly family: HintFamily;
  /** Of two on one line the lower comes first. */
  readonly rank: number;
}

/** What is wrong comes before what follows from it, and that before what is good to know. */
export const RANK = { doubt: 0, balance: 1, weight: 2, metal: 3, extra: 4 } as const;

/** How much is shown: what is wrong; what was made of what was done, too; what the bench works out beside it, too. */
export const HINT_LEVELS = ['problems', 'results', 'all'] as const;
export type HintLevel = (typeof HINT_LEVELS)[number];

/** Which hints somebody wants to see; a set of families wants all of them. */
export interface WantedHints {
  has(family: HintFamily): boolean;
  readonly level?: HintLevel;
}

const MOST_RANK: Readonly<Record<HintLevel, number>> = {
  problems: RANK.doubt,
  results: RANK.metal,
  all: Number.POSITIVE_INFINITY,
};

/** Cautions have their own switch alone: whoever wants to see little does not mean them. */
export const isWanted = ({ family, rank }: Draft, wanted: WantedHints): boolean =>
  wanted.has(family) && (family === 'caution' || rank <= MOST_RANK[wanted.level ?? 'all']);

/** An entry with what is known of it. */
export interface Subject {
  readonly workspace: Workspace;
  readonly account: Account;
  /** The entry as it counts: corrected. */
  readonly entry: Entry;
}

const FAMILIES: ReadonlyMap<string, HintFamily> = new Map<string, HintFamily>([
  ['receive', 'receive'],
  ['dry', 'dry'],
  ['burn', 'dry'],
  ['roast', 'dry'],
  ['retort', 'dry'],
  ['melt', 'melt'],
  ['cast', 'melt'],
  ['cupel', 'cupel'],
]);

export const familyOf = (verb: string): HintFamily => FAMILIES.get(verb) ?? 'step';

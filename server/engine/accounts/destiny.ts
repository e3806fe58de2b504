/**
 * Where each metal of a charge goes, step by step: the share of it that a group of products holds. All are ranges of practice; a wide one says
 * that little is known.
 */
import type { Range } from '../workshop';

/** Products that end up together: the metal, what lies over it, what is liquid, and the two sides of a division. */
export type Group = 'metal' | 'slag' | 'liquid' | 'rich' | 'poor';

/** Metals that share a fate. `both` is gold and silver taken together. */
export type Fate = 'gold' | 'silver' | 'both' | 'base';

const PRACTICE = 'common practice, no source';

export interface Destiny {
  /** The share of the metal charged that ends in the group. */
  readonly held: Range;
  /** Several products of the group are of one composition: poured from one melt, cut from one piece. */
  readonly alike: boolean;
  readonly source: string;
}

const GROUP_OF_KIND: ReadonlyMap<string, Group> = new Map([
  ['slag', 'slag'],
  ['matte', 'slag'],
  ['speiss', 'slag'],
  ['dust', 'slag'],
  ['fume', 'slag'],
  ['solution', 'liquid'],
  ['concentrate', 'rich'],
  ['tails', 'poor'],
  ['filter', 'slag'],
]);

/** By the kind of product; one without a kind, and one of `residue` or `ash`, counts as the metal or what holds it. */
export const groupOf = (kind: string | undefined, verb: string): Group =>
  isUsedCupel(kind, verb) || isCaught(kind, verb) ? 'slag' : (GROUP_OF_KIND.get(kind ?? '') ?? 'metal');

/** Beside its sponge a retort gives the mercury that was caught. */
const isCaught = (kind: string | undefined, verb: string): boolean => verb === 'retort' && kind === 'other';

/** What else comes of a cupellation is the cupel, or a piece of it, with what it drank. */
export const isUsedCupel = (kind: string | undefined, verb: string): boolean => verb === 'cupel' && kind === 'other';

/** Metals of the shelf and of feeds that an account is kept of; others as soon as somebody assays them. */
export const FOLLOWED: ReadonlySet<string> = new Set(['Au', 'Ag', 'Pt', 'Pd', 'Cu', 'Pb', 'Hg']);

const ROYAL: ReadonlySet<string> = new Set(['Au', 'Pt', 'Pd', 'Rh', 'Ir', 'Ru', 'Os']);

export const fateOf = (metal: string): Fate => {
  if (ROYAL.has(metal)) return 'gold';
  if (metal === 'Ag') return 'silver';
  return metal === 'Au+Ag' ? 'both' : 'base';
};

type Shares = Readonly<Record<Fate, readonly [low: number, high: number]>>;

const shares = (gold: Shares['gold'], silver: Shares['silver'], base: Shares['base']): Shares => ({
  gold,
  silver,
  both: [Math.min(gold[0], silver[0]), Math.max(gold[1], silver[1])],
  base,
});

const ALL = shares([1, 1], [1, 1], [1, 1]);
const NEARLY = shares([0.995, 1], [0.995, 1], [0, 1]);
const rest = ({ gold, silver, base }: Shares): Shares => {
  const other = ([low, high]: readonly [number, number]): [number, number] => [1 - high, 1 - low];
  return shares(other(gold), other(silver), other(base));
};

const MELTED = shares([0.997, 1], [0.993, 1], [0.9, 1]);
const SMELTED = shares([0.95, 0.995], [0.9, 0.99], [0, 1]);
const CUPELLED = shares([0.995, 0.999], [0.97, 0.99], [0, 0.01]);
const PARTED = shares([0.9995, 1], [0, 0.01], [0, 0.005]);
const DROPPED = shares([0.99, 1], [0.985, 1], [0, 1]);
/** Nitric acid leaves the gold, but for 0.01 to 0.03 % of it. How much else is not dissolved, nobody knows who has not waited for it. */
const LEFT = shares([0.9997, 1], [0, 1], [0, 1]);
const TAKEN = shares([0, 0.0003], [0.98, 1], [0.98, 1]);
const NITRIC_SOURCE = `gold dissolved in parting: Beringer & Beringer 1904; the rest ${PRACTICE}`;
/** All that acid takes goes into solution, but for what a filter and its wash keep. */
const DISSOLVED = shares([0.9, 1], [0.98, 1], [0.98, 1]);
/** Of silver the chloride stays behind, how much of it nobody knows before it is filtered. */
const MIXED = shares([0.9, 1], [0, 1], [0.9, 1]);
const WON = shares([0.9, 1], [0.9, 1], [0, 1]);

/** Nitric acid alone leaves gold; with another, such as hydrochloric, it takes it. None where no acid is written. */
export type Acid = 'nitric acid' | 'mixed acids' | undefined;

/**
 * Undefined where practice tells nothing: of a kind of product that the step does not usually give. `smelt` is a charge for slag rather than
 * for metal, `acid` what a step was given.
 */
export const destinyOf = (
  verb: string,
  group: Group,
  fate: Fate,
  { smelt, acid }: { readonly smelt: boolean; readonly acid: Acid },
): Destiny | undefined => {
  const way = smelt && verb === 'melt' ? 'smelt' : acid && verb === 'dissolve' ? `dissolve in ${acid}` : verb;
  const row = ROWS.get(way)?.(group);
  return row && { held: { low: row.shares[fate][0], high: row.shares[fate][1] }, alike: row.alike, source: row.source };
};

interface Row {
  readonly shares: Shares;
  readonly alike: boolean;
  readonly source: string;
}

const row = (of: Shares, alike: boolean, source = PRACTICE): Row => ({ shares: of, alike, source });

const whole = (of: Shares, alike: boolean) => (): Row => row(of, alike);

/** Metal on one side, what lies over it on the other. */
const heat =
  (of: Shares, source = PRACTICE) =>
  (group: Group): Row | undefined => {
    if (group === 'metal') return row(of, true, source);
    return group === 'slag' ? row(rest(of), false, source) : undefined;
  };

/** Solid on one side, solution on the other. */
const wet =
  (of: Shares) =>
  (group: Group): Row | undefined => {
    if (group === 'metal') return row(of, false);
    return group === 'liquid' ? row(rest(of), false) : undefined;
  };

const dissolving =
  (left: Shares, taken: Shares) =>
  (group: Group): Row | undefined => {
    if (group === 'metal') return row(left, false, NITRIC_SOURCE);
    return group === 'liquid' ? row(taken, false, NITRIC_SOURCE) : undefined;
  };

const division = (group: Group): Row | undefined => {
  if (group === 'rich') return row(WON, false);
  return group === 'poor' ? row(rest(WON), false) : undefined;
};

/** Which of two sides the metal is on is what such a step is done for, and how well it worked only assays of both tell. */
export const DIVIDES: ReadonlySet<string> = new Set(['screen', 'magnet', 'pan']);

const CUPEL_SOURCE = 'in quantity silver loses 1 to 3 %, gold 0.1 to 0.5 %: from memory';

const ROWS: ReadonlyMap<string, (group: Group) => Row | undefined> = new Map([
  ['split', whole(ALL, true)],
  ['sample', whole(ALL, true)],
  ['blend', whole(ALL, false)],
  ['wash', whole(NEARLY, false)],
  ['dry', whole(ALL, false)],
  ['roast', whole(NEARLY, false)],
  ['burn', whole(NEARLY, false)],
  ['retort', heat(NEARLY)],
  ['melt', heat(MELTED)],
  ['smelt', heat(SMELTED)],
  ['cast', heat(MELTED)],
  ['cupel', heat(CUPELLED, CUPEL_SOURCE)],
  ['part', wet(PARTED)],
  ['drop', wet(DROPPED)],
  ['dissolve', (group) => (group === 'liquid' ? row(DISSOLVED, false) : undefined)],
  ['dissolve in nitric acid', dissolving(LEFT, TAKEN)],
  ['dissolve in mixed acids', (group) => (group === 'liquid' ? row(MIXED, false) : undefined)],
  ...[...DIVIDES].map((verb) => [verb, division] as const),
]);

/** What a product is by its nature, whatever went in: the share of its mass. */
export interface Nature {
  readonly metal: string;
  readonly share: Range;
  readonly ground: 'inferred' | 'guessed';
  readonly source: string;
}

/** A finished bead is gold and silver, parted sponge is gold; of silver thrown down by copper that is a guess. */
export const natureOf = (verb: string, kind: string | undefined, by: ReadonlySet<string>): Nature | undefined => {
  if (verb === 'cupel' && kind === 'bead')
    return { metal: 'Au+Ag', share: { low: 0.985, high: 1 }, ground: 'inferred', source: PRACTICE };
  if (verb === 'part' && (kind === 'sponge' || kind === 'cornet'))
    return { metal: 'Au', share: { low: 0.985, high: 1 }, ground: 'guessed', source: PRACTICE };
  if (verb === 'drop' && kind === 'sponge' && by.has('Cu'))
    return { metal: 'Ag', share: { low: 0.9, high: 1 }, ground: 'guessed', source: PRACTICE };
  return undefined;
};

/** What heat in air drives off a feed: sulphur and arsenic of a roast, mercury of a retort, carbon of a burning. */
import { molarMass, parseFormula } from '../../vocabulary/compounds';
import type { Constituent } from '../../vocabulary/materials';
import type { ChargeItem } from '../gas';
import { type Answer, type Assumption, ATOMIC_WEIGHTS, answer, assume, type Estimate, FROM_MEMORY } from './result';
import { withoutWater } from './slag-oxides';
import { heldInCharge } from './together';

export type DrivenBy = 'roast' | 'retort' | 'burn';

/** What a mole of a sulphide leaves: oxides roasted dead; at the most the sulphates of copper, zinc and lead, which a dull heat leaves. */
interface Leaves {
  readonly dead: readonly (readonly [string, number])[];
  readonly most?: readonly (readonly [string, number])[];
}

const IRON = [['Fe2O3', 0.5]] as const;

const ROASTED: ReadonlyMap<string, Leaves> = new Map<string, Leaves>([
  ['FeS2', { dead: IRON }],
  ['FeS', { dead: IRON }],
  ['FeAsS', { dead: IRON }],
  [
    'CuFeS2',
    {
      dead: [['CuO', 1], ...IRON],
      most: [['CuSO4', 1], ...IRON],
    },
  ],
  ['Cu2S', { dead: [['CuO', 2]], most: [['CuSO4', 2]] }],
  ['ZnS', { dead: [['ZnO', 1]], most: [['ZnSO4', 1]] }],
  ['PbS', { dead: [['PbO', 1]], most: [['PbSO4', 1]] }],
  // Antimony oxide fumes off, or stays as the higher oxide.
  ['Sb2S3', { dead: [], most: [['Sb2O4', 1]] }],
]);

/** Of a gram of mercury so much goes over at the least: the last wants red heat. */
const MERCURY_LEAST = 0.95;

/** Share of a constituent that leaves, from the least to the most; none of what stays. Below 0 where it takes up more oxygen than it loses. */
export const leaving = (by: DrivenBy, what: string, end: 'low' | 'high'): number => {
  if (what === 'H2O') return 1;
  if (by === 'retort') return what === 'Hg' ? (end === 'low' ? MERCURY_LEAST : 1) : 0;
  if (what === 'C') return 1;
  const leaves = by === 'roast' ? ROASTED.get(what) : undefined;
  if (!leaves) return 0;
  const stays = (end === 'low' ? leaves.most : undefined) ?? leaves.dead;
  const grams = stays.reduce((so, [formula, moles]) => so + moles * molarMass(formula), 0);
  return 1 - grams / molarMass(what);
};

/**
 * Weight driven off a feed, g, each constituent within its bounds. What is not known of the feed counts as staying. Of a feed in which nothing is
 * known to leave, 0.
 */
export function drivenOff(feed: readonly ChargeItem[], by: DrivenBy): Answer<Estimate> {
  const at = (end: 'low' | 'high'): Estimate => heldInCharge(feed, (what) => Math.max(0, leaving(by, what, end)));
  const [least, most] = [at('low'), at('high')];
  return answer({ low: least.low, best: most.best, high: most.high }, ASSUMED[by]);
}

/**
 * A gram of a feed as a roast or a burning leaves it, and how many grams of it are left: sulphides as the oxides of a dead roast, no carbon, no
 * water. What is not known of the feed stays.
 */
export function leftBy(
  by: Exclude<DrivenBy, 'retort'>,
  composition: readonly Constituent[],
): { readonly composition: readonly Constituent[]; readonly kept: number } {
  const sums = new Map<string, { fraction: number; low: number; high: number }>();
  const open = Math.max(0, 1 - composition.reduce((so, { fraction }) => so + fraction, 0));
  for (const { what, fraction, low = fraction, high = fraction } of composition) {
    for (const [formula, grams] of leftOfGram(by, what)) {
      const sum = sums.get(formula) ?? { fraction: 0, low: 0, high: 0 };
      sums.set(formula, {
        fraction: sum.fraction + grams * fraction,
        low: sum.low + grams * low,
        high: sum.high + grams * high,
      });
    }
  }
  const kept = open + [...sums.values()].reduce((so, { fraction }) => so + fraction, 0);
  if (!(kept > 0)) return { composition: [], kept: 0 };
  const scaled = [...sums].map(([what, { fraction, low, high }]) => ({
    what,
    fraction: fraction / kept,
    ...(low < fraction || high > fraction ? { low: low / kept, high: Math.min(1, high / kept) } : {}),
  }));
  return { composition: scaled, kept };
}

/** What a gram of a constituent becomes, g by formula. */
const leftOfGram = (by: DrivenBy, what: string): readonly (readonly [string, number])[] => {
  if (what === 'C' || what === 'H2O') return [];
  const leaves = by === 'roast' ? ROASTED.get(what) : undefined;
  if (!leaves) return [[withoutWater(what), molarMassOr1(withoutWater(what)) / molarMassOr1(what)]];
  return leaves.dead.map(([formula, moles]) => [formula, (moles * molarMass(formula)) / molarMass(what)]);
};

/** Of what has no formula nothing is known to leave. */
const molarMassOr1 = (what: string): number => (parseFormula(what) ? molarMass(what) : 1);

/** The same where the mercury itself is known, g. */
export const mercuryOff = ({ low, best, high }: Estimate): Answer<Estimate> =>
  answer({ low: MERCURY_LEAST * low, best, high }, [GOES_OVER]);

const GOES_OVER = assume('95 to 100 % of the mercury goes over; the last wants red heat', FROM_MEMORY);
const WITHIN = assume(
  'each constituent of the feed within its bounds; what is not known of it stays',
  'balance of mass',
);
const DUST = assume('dust that the draught takes is not counted', 'to be caught and weighed');

const ASSUMED: Readonly<Record<DrivenBy, readonly Assumption[]>> = {
  roast: [
    assume(
      'roasted dead: iron to Fe2O3, other metals to oxide, at the most to sulphate; sulphur and arsenic leave',
      `${ATOMIC_WEIGHTS}; reactions ${FROM_MEMORY}`,
    ),
    WITHIN,
    DUST,
  ],
  retort: [GOES_OVER, WITHIN],
  burn: [
    assume('carbon burns whole; paper, wax and plastic that no assay names come on top', FROM_MEMORY),
    WITHIN,
    DUST,
  ],
};

/** Two assays of one lot, and what settles: their mean within the splitting limit, an umpire's result outside of it. */
import { type Decimal, ONE } from '../../quantity/decimal';
import { splitAssay } from '../bench/terms';
import type { Terms } from '../workshop';

export interface Exchange {
  readonly outcome: 'mean' | 'umpire' | 'umpire wanted';
  /** What settles, a mass fraction; none while an umpire is wanted. */
  readonly settled: Decimal | undefined;
  /** Whose result lies farther from the umpire's: that party commonly pays the umpire. */
  readonly farther: 'ours' | 'theirs' | undefined;
}

/** The rules that are in use: the umpire's result alone, its mean with the nearer party's, the middle of the three. From memory. */
export const UMPIRE_SOURCE = 'from memory: the contract says which';

/**
 * Mass fractions. Within the limit, or at it, the mean is final whatever an umpire would have said; without a limit the umpire's result
 * decides where there is one.
 */
export const exchangeOf = (
  ours: Decimal,
  theirs: Decimal,
  limit: Decimal | undefined,
  umpire: Decimal | undefined,
  rule: NonNullable<Terms['umpire']> = 'result',
): Exchange => {
  const split = limit && splitAssay(ours, theirs, limit);
  if (split?.outcome === 'mean') return { outcome: 'mean', settled: split.settled, farther: undefined };
  if (!umpire) return { outcome: 'umpire wanted', settled: undefined, farther: undefined };
  return { outcome: 'umpire', settled: byUmpire(ours, theirs, umpire, rule), farther: fartherOf(ours, theirs, umpire) };
};

const byUmpire = (ours: Decimal, theirs: Decimal, umpire: Decimal, rule: NonNullable<Terms['umpire']>): Decimal => {
  if (rule === 'result') return umpire;
  if (rule === 'middle') return [ours, theirs, umpire].sort((a, b) => a.comparedTo(b))[1]!;
  const farther = fartherOf(ours, theirs, umpire);
  if (!farther) return umpire;
  return umpire.plus(farther === 'ours' ? theirs : ours).times(HALF);
};

const HALF = ONE.div(2);

const fartherOf = (ours: Decimal, theirs: Decimal, umpire: Decimal): Exchange['farther'] => {
  const [mine, other] = [ours.minus(umpire).abs(), theirs.minus(umpire).abs()];
  if (mine.equals(other)) return undefined;
  return mine.greaterThan(other) ? 'ours' : 'theirs';
};

/** What a verified scale is held to. Limits of OIML R 76-1, table 6, on first verification; in service twice as much is allowed. */
import { type Decimal, decimal } from '../quantity/decimal';

export type AccuracyClass = 'I' | 'II' | 'III' | 'IIII';

/** Loads, in verification intervals, up to which 0.5 e and 1 e hold; above them 1.5 e. */
const STEPS: Readonly<Record<AccuracyClass, readonly [number, number]>> = {
  I: [50_000, 200_000],
  II: [5_000, 20_000],
  III: [500, 2_000],
  IIII: [50, 200],
};

/** The largest error allowed on first verification, in grams; `interval` is e and `load` the load, both in grams. */
export const permissibleError = (of: AccuracyClass, interval: Decimal, load: Decimal): Decimal => {
  const intervals = load.div(interval);
  const [half, one] = STEPS[of];
  const times = intervals.lessThanOrEqualTo(half) ? '0.5' : intervals.lessThanOrEqualTo(one) ? '1' : '1.5';
  return interval.times(decimal(times));
};

/** The same in service, at the load where it is largest. */
export const permissibleInService = (of: AccuracyClass, interval: Decimal, capacity: Decimal): Decimal =>
  permissibleError(of, interval, capacity).times(2);

/** Two routes held against each other: how sure the better one is better, and where both pay the same. */
import { type Decimal, decimal } from '../../quantity/decimal';
import { normalProbability } from '../statistics/distributions';
import { bestOf, type Factor, type Given, outcomeOf, type Route } from './route';

const factorsOf = (routes: readonly Route[]): readonly Factor[] => [
  ...new Map(routes.flatMap(({ factors }) => factors).map((factor) => [factor.name, factor])).values(),
];

/** All factors at their best. */
export const bestFor = (...routes: readonly Route[]): Given => bestOf(factorsOf(routes));

const net = (route: Route, given: Given, goldShare?: Decimal): number =>
  outcomeOf(route, given, goldShare).net.amount.toNumber();

/**
 * Standard uncertainty of a function of the factors, each moved by its own u both ways and the half of the difference taken (GUM 5.1.3, numerically).
 */
const spreadOf = (factors: readonly Factor[], of: (given: Given) => number): number => {
  const best = bestOf(factors);
  const squares = factors.map(({ name, best: value, u }) => {
    if (u === 0) return 0;
    const [up, down] = [new Map(best).set(name, value + u), new Map(best).set(name, Math.max(0, value - u))];
    return ((of(up) - of(down)) / 2) ** 2;
  });
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0));
};

/** Of what a route brings, in money. */
export const netSpread = (route: Route): number => spreadOf(route.factors, (given) => net(route, given));

export interface Comparison {
  /** What the first brings more than the second, in money. */
  readonly gain: number;
  /** Standard uncertainty of that: what both share falls out. */
  readonly u: number;
  /** In how many of a hundred cases the first is better: by the normal distribution about the gain. */
  readonly cases: number;
}

export const compare = (one: Route, other: Route): Comparison => {
  const factors = factorsOf([one, other]);
  const difference = (given: Given): number => net(one, given) - net(other, given);
  const gain = difference(bestOf(factors));
  const u = spreadOf(factors, difference);
  const share = u === 0 ? (gain > 0 ? 1 : gain < 0 ? 0 : 0.5) : normalProbability(gain / u);
  return { gain, u, cases: Math.round(100 * share) };
};

export interface BreakEven {
  /** Mass fraction of gold, or the share that is paid of it. */
  readonly at: number;
  /** The two never pay quite the same: they change places where a band of fineness or a least charge begins. */
  readonly jumps: boolean;
}

const STEPS = 400;
const HALVINGS = 60;

/**
 * Where two functions cross, nearest to a place between two ends. Found on a grid and narrowed by halving; none where one is above the other all
 * along.
 */
const crossing = (low: number, high: number, near: number, of: (at: number) => number): BreakEven | undefined => {
  const grid = Array.from({ length: STEPS + 1 }, (_, step) => low + ((high - low) * step) / STEPS);
  const values = grid.map(of);
  const found = grid.slice(1).flatMap((right, at) => {
    const [a, b] = [values[at]!, values[at + 1]!];
    return a === 0 || a > 0 !== b > 0 ? [{ left: grid[at]!, right, from: a }] : [];
  });
  const nearest = found.sort((a, b) => Math.abs(a.left - near) - Math.abs(b.left - near))[0];
  if (!nearest) return undefined;
  let { left, right } = nearest;
  for (let turn = 0; turn < HALVINGS && right - left > 1e-12; turn++) {
    const middle = (left + right) / 2;
    if (of(middle) > 0 === nearest.from > 0) left = middle;
    else right = middle;
  }
  const apart = Math.abs(of(right) - of(left));
  // A coin each for the lines of both payouts.
  return { at: (left + right) / 2, jumps: apart > 0.2 };
};

/** The fineness of gold at which both pay the same, the silver and the weight as they are. Nearest to the fineness that the lot has. */
export const breakEvenFineness = (one: Route, other: Route): BreakEven | undefined => {
  const best = bestFor(one, other);
  const [gold, silver] = [best.get('gold'), best.get('silver') ?? 0];
  if (gold === undefined) return undefined;
  return crossing(0.01, Math.max(0.02, 0.999 - silver), gold, (at) => {
    const given = new Map(best).set('gold', at);
    return net(one, given) - net(other, given);
  });
};

/** The share of the gold that the buyer of `direct` would have to pay for both to pay the same, whatever the bands of its terms. */
export const breakEvenShare = (direct: Route, other: Route): BreakEven | undefined => {
  const best = bestFor(direct, other);
  const wanted = net(other, best);
  return crossing(0, 1.2, 0.95, (at) => net(direct, best, decimal(Number(at.toPrecision(15)))) - wanted);
};

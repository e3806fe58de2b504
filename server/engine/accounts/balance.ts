/**
 * The balance of each metal over a step: what was charged by all that is known from before, against what came out by all that is known from
 * after, with what such a step usually loses. The two sides rest on no common assay, so the difference says something.
 */
import type { Step } from '../book';
import type { Entry } from '../entry';
import { type Contents, charged, contents, held } from './contents';
import { DIVIDES } from './destiny';
import { certain, type Inexact, minus, NOTHING, plus, spread, sum, times } from './inexact';
import { type Knowledge, type MetalGround, NOTHING_KNOWN, PRECIOUS, worseGround } from './known';
import type { Metals } from './metals';
import type { Passage, Passing } from './passage';
import type { Segment } from './segments';

export type MetalVerdict =
  /** Explained by weights, assays and usual losses. */
  | 'closed'
  /** Not explained, but so far off by chance once in twenty balances, of which a record holds many. */
  | 'doubtful'
  /** More is missing than that. */
  | 'missing'
  /** More came out than went in. */
  | 'gained';

export interface MetalBalance {
  readonly metal: string;
  readonly in: Inexact;
  readonly out: Inexact;
  /** What products that nobody assayed usually hold, and what usually is lost. */
  readonly usual: Inexact;
  /** in − out − usual; positive is missing. */
  readonly unaccounted: Inexact;
  readonly verdict: MetalVerdict;
  readonly ground: MetalGround;
  /** What both sides rest on first. */
  readonly by: readonly Entry[];
  /** What the products are known by: assays, or later steps. */
  readonly cameBy: readonly Entry[];
}

/**
 * The balances that count where several say the same: between two assays each step is off by the same gap, for it is reckoned back from the
 * last one. It is counted once, where it comes to light; a step whose products are known by later ones of these alone is left out.
 */
export const eachGapOnce = <Of>(
  all: readonly Of[],
  stepOf: (of: Of) => Step,
  cameBy: (of: Of) => readonly Entry[],
): readonly Of[] => {
  const counted = new Set(all.map((one) => stepOf(one).entry));
  return all.filter((one) => {
    const later = cameBy(one).filter((entry) => entry !== stepOf(one).entry);
    return later.length === 0 || !later.every((entry) => counted.has(entry));
  });
};

/**
 * Missing or gained is said of a balance beyond one and a half times the coverage, three standard uncertainties where it is two. A history of
 * eight steps holds six balances of metal: at two, one honest history in four would be told of a loss; at three, one in sixty (made histories,
 * measured). Between the two is no warning on one step: decision rule with guard band, after ILAC-G8.
 */
const TOLD = 1.5;

/** Balances of the metals that are known on both sides. `coverage` is k. */
export const metalBalances = (passage: Passage, metals: Metals, coverage: number): readonly MetalBalance[] => {
  const seen = new Set<string>(passage.added.keys());
  const lookAt = (passings: readonly Passing[], from: 'before' | 'after') => {
    for (const { flow } of passings) {
      const segment = metals.lineage.segment(flow);
      if (segment) for (const metal of metals[from](segment).keys()) seen.add(metal);
    }
  };
  lookAt(passage.inputs, 'before');
  lookAt(passage.outputs, 'after');
  seen.delete(PRECIOUS);
  return [...seen].flatMap((metal) => balanceOf(passage, metals, metal, coverage) ?? []);
};

const balanceOf = (passage: Passage, metals: Metals, metal: string, coverage: number): MetalBalance | undefined => {
  const before = knowing(metals, metals.before);
  const went = charged(passage, metal, before);
  const came = went.grams && cameOut(passage, metals, metal, went.grams);
  if (!went.grams || !came) return undefined;
  const usual = times(went.grams, minus(certain(1), came.share));
  const unaccounted = minus(minus(went.grams, came.grams), usual);
  const verdict = verdictOf(unaccounted, coverage);
  const by = [...passage.inputs.flatMap((input) => before(input).get(metal)?.by ?? []), ...came.by];
  const ground = came.ground === 'guessed' ? 'guessed' : went.ground;
  return {
    metal,
    in: went.grams,
    out: came.grams,
    usual,
    unaccounted,
    verdict,
    ground,
    by: [...new Set(by)],
    cameBy: came.by,
  };
};

const verdictOf = (unaccounted: Inexact, coverage: number): MetalVerdict => {
  const reach = coverage * spread(unaccounted);
  const size = Math.abs(unaccounted.value);
  if (size <= reach) return 'closed';
  if (size <= TOLD * reach) return 'doubtful';
  return unaccounted.value > 0 ? 'missing' : 'gained';
};

/** Whether something must be wrong. */
export const isTold = ({ verdict, ground }: MetalBalance): boolean =>
  ground !== 'guessed' && (verdict === 'missing' || verdict === 'gained');

export interface Shortfall {
  /** A metal, or gold and silver together. */
  readonly metal: string;
  readonly in: Inexact;
  /** All that the products weigh in which it should be. */
  readonly products: Inexact;
  readonly by: readonly Entry[];
}

/**
 * More fine metal charged than the products weigh that should hold it: then some is missing whatever their assay says. Only where the charge
 * rests on no guess; gold and silver together, or either.
 */
export const shortfallOf = (passage: Passage, metals: Metals, coverage: number): Shortfall | undefined => {
  const before = knowing(metals, metals.before);
  const products = passage.outputs.filter(({ group }) => group === 'metal');
  if (products.length === 0 || products.some(({ amount }) => !amount)) return undefined;
  const weight = sum(products.map(({ amount }) => amount!));
  for (const metal of [PRECIOUS, 'Au', 'Ag']) {
    const went = charged(passage, metal, before);
    const share = held(passage, 'metal', metal);
    if (!went.grams || went.ground === 'guessed' || !share || share.value < 0.5) continue;
    const short = minus(times(went.grams, share), weight);
    if (short.value <= TOLD * coverage * spread(short)) continue;
    const by = passage.inputs.flatMap((input) => before(input).get(metal)?.by ?? []);
    return { metal, in: went.grams, products: weight, by: [...new Set(by)] };
  }
  return undefined;
};

const knowing =
  ({ lineage }: Metals, get: (segment: Segment) => Knowledge) =>
  ({ flow }: Passing): Knowledge => {
    const of = lineage.segment(flow);
    return of ? get(of) : NOTHING_KNOWN;
  };

/**
 * The metal in all groups of products that are known from after, and the share of the charge that these usually hold; for the others their
 * usual share must be known. None where no group is known.
 */
const cameOut = (
  passage: Passage,
  metals: Metals,
  metal: string,
  went: Inexact,
): (Contents & { readonly share: Inexact }) | undefined => {
  let all: Contents | undefined;
  let usually = NOTHING;
  // How much of it a division leaves on either side is no matter of what is usual.
  const isDivided = DIVIDES.has(passage.step.entry.verb);
  let [isKnownWhole, isUsual] = [true, !isDivided];
  for (const group of new Set(passage.outputs.map((one) => one.group))) {
    const share = held(passage, group, metal);
    const products = passage.outputs.filter((one) => one.group === group);
    const one = contents(passage, products, metal, knowing(metals, metals.after));
    isKnownWhole &&= one !== undefined;
    isUsual &&= share !== undefined;
    if (one) all = all ? joined(all, one) : one;
    if (one && share) usually = plus(usually, share);
  }
  // One side alone may hold more than went in.
  if (!all || (!isUsual && !isKnownWhole && !(isDivided && all.grams.value > went.value))) return undefined;
  return { ...all, share: isUsual ? usually : certain(1) };
};

const joined = (a: Contents, b: Contents): Contents => ({
  grams: plus(a.grams, b.grams),
  ground: worseGround(a.ground, b.ground),
  by: [...a.by, ...b.by],
});

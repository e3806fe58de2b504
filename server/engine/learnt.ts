/**
 * What a kind of step usually loses, learnt from the journal's own earlier steps.
 *
 * The limit is the median of their losses and so many scaled median deviations above it. Both hold while fewer than half of the steps are
 * wrong, so one bad heat does not widen what is usual. How many deviations, is set so that one more loss of the same normal spread lies
 * above the limit once in two hundred; from few steps the spread is badly known, and the limit wide.
 */
import { decimal } from '../quantity/decimal';
import { uncertainty } from '../quantity/measured';
import { placesFor, showPlaces } from '../quantity/show';
import type { Learnt, Step, UsualBand, Verdict } from './book';
import { median, scaledMedianDeviation } from './statistics/robust';
import { throughput, weighedPart } from './step';
import { balanceRow } from './usual';
import type { Workshop } from './workshop';

/** What one step lost, as a share of all that went in. */
export interface Loss {
  readonly share: number;
  /** Standard uncertainty of the share. */
  readonly u: number;
  /** The part of it that may be another in each step: not of gas that the make of a flux leaves open, which is much the same in all. */
  readonly weighing: number;
}

/** Of fewer the spread is too badly known: at seven the limit would lie eight deviations off, at five fifteen. */
export const FEWEST_EARLIER = 8;
/** Older steps no longer count: hands, crucibles and feed change, and an edit reaches no farther than this many steps on. */
export const MOST_EARLIER = 30;

/** From the losses of earlier steps, in any order; none of too few. */
export const learntFrom = (losses: readonly Loss[]): Learnt | undefined => {
  if (losses.length < FEWEST_EARLIER) return undefined;
  const shares = losses.map(({ share }) => share);
  const centre = median(shares);
  // Where half agree to the last digit there is no deviation; what their weighing leaves open takes its place.
  const spread = Math.max(scaledMedianDeviation(shares), median(losses.map(({ weighing }) => weighing)));
  const reach = deviationsFor(losses.length) * spread;
  const usual = shares.filter((share) => Math.abs(share - centre) <= reach);
  return {
    high: preferredUp(centre + reach),
    count: losses.length,
    within: usual.length,
    ...rangeOf(100 * Math.min(...usual), 100 * Math.max(...usual)),
  };
};

/**
 * Scaled median deviations above the median that one more normal value exceeds once in two hundred: fitted to a simulation for 8 to 30
 * values (6.0 for 8, 4.9 for 10, 3.5 for 20, 3.2 for 30), which a test repeats; 2.58 for very many.
 */
export const deviationsFor = (count: number): number => 2.58 * (1 + 6.1 / (count - 3.4));

/** Steps of twelve in a hundred: preferred numbers R20 of ISO 3, from memory. Thirty losses tell a limit no closer. */
const STEPS_A_DECADE = 20;

const preferredUp = (share: number): number =>
  share > 0 ? 10 ** (Math.ceil(STEPS_A_DECADE * Math.log10(share) - 1e-6) / STEPS_A_DECADE) : 0;

/** Cut to what their distance means. */
const rangeOf = (low: number, most: number): Pick<Learnt, 'low' | 'most' | 'places'> => {
  const places = most > low ? Math.min(3, placesFor(most - low)) : 2;
  const step = 10 ** places;
  return { low: Math.round(low * step) / step, most: Math.round(most * step) / step, places };
};

/** `9 earlier dries of this kind lost 3 to 9 %`. */
export const learntWords = ({ count, within, low, most, places }: Learnt, many: string): string => {
  const who = `${within < count ? `${within} of ${count}` : count} earlier ${many} of this kind`;
  const [from, to] = [low, most].map((percent) => showPlaces(decimal(Math.abs(percent)), places));
  if (most < 0) return `${who} took up ${from === to ? to : `${to} to ${from}`} %`;
  if (low < 0) return `${who} took up ${from} % to lost ${to} %`;
  return `${who} lost ${from === to ? to : `${from} to ${to}`} %`;
};

/** What a step has to teach; nothing where it rests on a guess. */
export const lossOf = (step: Step): Loss | undefined => {
  const all = throughput(step);
  const { unaccounted } = step;
  if (!unaccounted || unaccounted.guessed || !(all > 0)) return undefined;
  return {
    share: unaccounted.value.toNumber() / all,
    u: uncertainty(unaccounted) / all,
    weighing: uncertainty(weighedPart(unaccounted, step)) / all,
  };
};

/**
 * The step as it stands beside what was learnt, or beside the built-in usual where nothing was. Only how much may be missing is learnt:
 * that more comes out than went in never becomes usual. The same step where nothing changes.
 */
export const heldAgainst = (step: Step, learnt: Learnt | undefined, workshop: Workshop): Step => {
  const alone = byItself(step);
  if (!alone.usual || !alone.unaccounted || sameLesson(learnt, step.history?.learnt)) return step;
  if (!learnt) return alone;
  const usual = learntBand(alone, alone.usual, learnt);
  return { ...alone, usual, history: { learnt, alone }, verdict: verdictBeside(alone, usual, workshop) };
};

/** The step as its own weights have it, whatever others of its kind lost: what goes by weights alone rests on this. */
export const byItself = (step: Step): Step => step.history?.alone ?? step;

const sameLesson = (a: Learnt | undefined, b: Learnt | undefined): boolean =>
  a === b ||
  (a !== undefined &&
    a.high === b?.high &&
    a.low === b.low &&
    a.most === b.most &&
    a.places === b.places &&
    a.within === b.within &&
    a.count === b.count);

const learntBand = (step: Step, builtIn: UsualBand, learnt: Learnt): UsualBand => {
  const all = throughput(step);
  const high = learnt.high * all;
  const why = learntWords(learnt, balanceRow(step.entry.verb)?.many ?? 'steps');
  // A shop that always loses more than others is told so, for it will get no finding.
  const elsewhere = (100 * builtIn.high) / all;
  const most = `${showPlaces(decimal(elsewhere), placesFor(elsewhere))} %`;
  return {
    low: builtIn.low,
    high,
    from: 'history',
    why: high > builtIn.high ? `${why}; elsewhere up to ${most} is usual` : why,
  };
};

const verdictBeside = (step: Step, usual: UsualBand, { limits }: Workshop): Verdict => {
  const rest = step.unaccounted!;
  const grams = rest.value.toNumber();
  if ((step.verdict !== 'usual' && step.verdict !== 'high') || grams < 0) return step.verdict;
  return grams <= usual.high + limits.coverage * uncertainty(weighedPart(rest, step)) ? 'usual' : 'high';
};

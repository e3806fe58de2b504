/** What comes out of a melt before anyone has weighed it: metal by what went in, slag by what is left. */
import { chlorideGrams } from '../engine/bench/chloride';
import { metalGrams } from '../engine/bench/flux';
import { ironForSulphide } from '../engine/bench/oxidation';
import {
  type Assumption,
  assume,
  COMMON_PRACTICE,
  type Estimate,
  exactly,
  FROM_MEMORY,
  less,
  sumOf,
  times,
} from '../engine/bench/result';
import type { Slag } from '../engine/bench/slag';
import type { FlowWeight } from '../engine/book';
import { feedParts, gasOf, metalFume } from '../engine/charge';
import { type ChargeItem, carbonateKept } from '../engine/gas';
import { findMaterial } from '../engine/shelf';
import { lossName, metalLoss } from '../engine/usual';
import { addedMetals, contentsOf, type Job, partsOf, perJob } from './job';
import { leadFrom, slagOfCharge } from './lead-from';
import { nativeShare } from './quartz';
import { metalIn, type Smelt, smeltOf } from './smelt';
import { sulphidesIn, sulphurTakenBy } from './sulphur-taken';
import { estimateWords } from './words';

export interface Yield {
  /** g; none where it is not known what metal goes in. */
  readonly metal: Estimate | undefined;
  /** g by symbol, best values, of what is known to be in it. */
  readonly metals: ReadonlyMap<string, number>;
  readonly lead: Estimate | undefined;
  /** Sulphides and the iron that took their sulphur. */
  readonly matte: Estimate | undefined;
  readonly slag: Slag;
  /** With the carbonic acid that it keeps, g. */
  readonly slagGrams: Estimate;
  /** Carbonic acid of soda and potash that found no acid, g. */
  readonly kept: Estimate;
  readonly assumed: readonly Assumption[];
}

/** Of what `smeltOf` knows. */
export const yieldOf = perJob((job: Job): Yield => {
  const smelt = smeltOf(job)!;
  const lead = leadFrom(smelt);
  const taker = sulphurTakenBy(smelt);
  const slag = slagOfCharge(smelt);
  const { metal, metals, assumed } = metalOf(job, smelt, lead?.grams);
  const { feed, added } = partsOf(job);
  const kept = carbonateKept(gasOf(added, feed));
  return {
    metal,
    metals,
    lead: lead?.grams,
    matte: taker === 'iron' ? matteOf(smelt) : undefined,
    slag,
    slagGrams: sumOf([slag.grams, kept]),
    kept,
    assumed: [...assumed, ...(lead?.assumed ?? []), ...(slag.grams.high > 0 ? slag.assumed : [])],
  };
});

/** Iron takes the sulphur as FeS; what is over of it is drawn before the pour. */
const matteOf = (smelt: Smelt): Estimate | undefined => {
  const all = [...sulphidesIn([...smelt.feed, ...smelt.added])].map(([formula, grams]) => {
    const iron = ironForSulphide(formula, 1).value?.low ?? 0;
    return times(grams, 1 + iron);
  });
  return all.length > 0 ? sumOf(all) : undefined;
};

/** Fineness of native gold, as the built-in placer gold has it. */
const NATIVE: Estimate = { low: 0.65, best: 0.85, high: 0.98 };

const metalOf = (
  job: Job,
  smelt: Smelt,
  lead: Estimate | undefined,
): { readonly metal: Estimate | undefined; readonly metals: Map<string, number>; readonly assumed: Assumption[] } => {
  const assumed: Assumption[] = [];
  const metals = new Map<string, number>();
  const parts: Estimate[] = [];
  let unknown = false;
  for (const [symbol, grams] of addedMetals(job)) {
    // Iron is drawn before the pour, or is matte.
    if (symbol === 'Fe') continue;
    metals.set(symbol, (metals.get(symbol) ?? 0) + grams);
    parts.push(exactly(grams));
  }
  if (lead) {
    parts.push(lead);
    metals.set('Pb', (metals.get('Pb') ?? 0) + lead.best);
  }
  for (const input of job.step!.inputs) {
    const of = lotMetal(job, smelt, input, assumed);
    if (!of) {
      unknown = true;
      continue;
    }
    parts.push(of);
    for (const [symbol, { best }] of contents(job, input)) metals.set(symbol, (metals.get(symbol) ?? 0) + best);
  }
  if (unknown && parts.length === 0) return { metal: undefined, metals, assumed };
  if (unknown) assumed.push(assume('gold and silver of the feed come on top', 'not known'));
  return { metal: sumOf(parts), metals, assumed };
};

const contents = (job: Job, input: FlowWeight): ReadonlyMap<string, Estimate> =>
  contentsOf(job, input)?.metals ?? new Map();

const CLEAN_SPONGE = 0.97;

/** Native gold loses what placer gold does. */
const PLACER = 'placer-gold';

const lotMetal = (job: Job, smelt: Smelt, input: FlowWeight, assumed: Assumption[]): Estimate | undefined => {
  const grams = input.mass!.value.toNumber();
  const make = job.workspace.book.make(input.flow);
  const known = metalIn(job, input);
  const item = itemOf(job, make?.material, grams);
  if (known && item && chlorideGrams([item]) > 0.5 * grams) {
    assumed.push(assume('up to 5 % of the silver stays in salt and slag, and is to be won from them', COMMON_PRACTICE));
    return { low: 0.95 * known.low, best: 0.98 * known.best, high: known.high };
  }
  const native = nativeShare(job, input.flow);
  if (native) {
    const { high, why } = metalLoss(PLACER);
    assumed.push(assume(`of the native gold in the quartz up to ${showShare(high)} is lost`, why));
    const { low, best, high: most } = times(native, grams);
    return { low: low * (1 - high), best: best * (1 - high / 2), high: most };
  }
  const inMake = item ? metalGrams([item]) : 0;
  const isMetal = smelt.solid || inMake >= 0.5 * grams || (known?.best ?? 0) >= 0.5 * grams;
  if (isMetal) {
    // Sponge that is known to be next to nothing but metal, as parted gold, loses no mercury and no damp.
    const isClean = (known?.best ?? 0) >= CLEAN_SPONGE * grams;
    const { high, why } = metalLoss(isClean ? make?.material : lossName(make));
    const least = item ? Math.max(inMake, known?.best ?? 0) : grams;
    assumed.push(assume(`of ${showShare(least / grams)} metal and more up to ${showShare(high)} is lost`, why));
    const fume = metalFume(feedParts([input], job.workspace.workshop, job.workspace.book.make));
    if (fume > 0) assumed.push(assume('up to a quarter of zinc and cadmium leaves as fume, mercury all', FROM_MEMORY));
    const left = least * (1 - high);
    // At best no fume goes off, as the gas of the charge has it: what does is neither metal nor slag.
    return { low: Math.max(0, left - fume), best: (left + grams) / 2, high: grams };
  }
  if (!known) return undefined;
  const { metals, precious } = contentsOf(job, input)!;
  const gold = metals.get('Au');
  if (precious || !gold || metals.size > 1) return known;
  assumed.push(
    assume(
      `native gold is 65 to 98 % fine, best 85 %, its silver with it: ${estimateWords(gold, 'g')} of gold / ${NATIVE.best}`,
      FROM_MEMORY,
    ),
  );
  return { low: gold.low / NATIVE.high, best: gold.best / NATIVE.best, high: gold.high / NATIVE.low };
};

const itemOf = (
  { workspace: { workshop } }: Job,
  name: string | undefined,
  massGrams: number,
): ChargeItem | undefined => {
  const material = name === undefined ? undefined : findMaterial(workshop, name);
  return material && material.composition.length > 0 ? { material, massGrams, u: 0 } : undefined;
};

const showShare = (share: number): string => `${Math.round(1000 * share) / 10} %`;

/** Slag by balance of mass where the metal is known: what is left once metal and gas are off, held within what its oxides allow. */
export const slagLeft = (job: Job, { metal, matte, slagGrams }: Yield): Estimate => {
  const { step } = job;
  if (!metal || !step || matte) return slagGrams;
  const whole = [...step.inputs, ...step.added].reduce((so, { mass }) => so + (mass?.value.toNumber() ?? 0), 0);
  const gas: Estimate = { best: step.gas.value.toNumber(), low: step.gasRange.low, high: step.gasRange.high };
  const left = less(exactly(whole), sumOf([metal, gas]));
  const low = Math.max(left.low, Math.min(slagGrams.low, left.high));
  const high = Math.max(low, Math.min(left.high, slagGrams.high));
  return { low, best: Math.min(high, Math.max(low, left.best)), high };
};

export const BALANCE_ASSUMED: Assumption = assume('slag is what is left once metal and gas are off', 'balance of mass');
export const CLINGING: Assumption = assume('a little stays on crucible and mould', COMMON_PRACTICE);

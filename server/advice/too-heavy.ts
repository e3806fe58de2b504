/** Gold that acid left, metal and chloride brought down: what weighs more than the metal in it allows holds something else. */
import { chlorideOf, mostLeftByAcid, silverOnCopper } from '../engine/bench/wet';
import type { FlowWeight } from '../engine/book';
import type { Entry } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import { add, type Measured, uncertainty } from '../quantity/measured';
import { showMass } from '../quantity/show';
import { cutLike } from '../reports/figures';
import { stepWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import type { Advice, Topic } from './advice';
import { baseOf } from './base';
import { isBoiledAgain, silverToGold } from './inquart';
import { chargedOf, type Job, knowledgeOf } from './job';
import { dissolvedMetal, meansOf } from './silver-back';

export const tooHeavy: Topic = (job) => {
  const { verb } = job.entry;
  if (verb === 'part') {
    const over = goldTooHeavy(job);
    // Where too little silver went in, that is the cause, and told with the same figures.
    return over && !isRatioTold(job) ? [told(over)] : [];
  }
  const over = verb === 'drop' ? droppedTooHeavy(job) : undefined;
  return over ? [told(over)] : [];
};

const isRatioTold = (job: Job): boolean => {
  const charged = isBoiledAgain(job) ? undefined : chargedOf(job, 'before');
  return (charged && silverToGold(charged)?.isLow) ?? false;
};

export interface Over {
  /** What came out, all of it, weighed. */
  readonly came: Came;
  /** The most that the metal there was allows, g. */
  readonly most: number;
  readonly says: string;
  readonly by: readonly Entry[];
}

/** Parted gold above the gold that went in and what one acid leaves with it; none in a plan, or where either is not known. */
export const goldTooHeavy = (job: Job): Over | undefined => {
  const came = job.planned || job.step?.verdict === 'gain' ? undefined : cameOut(job, GOLD_KINDS);
  // Back from what came out, silver that stayed in the gold would be taken for gold.
  const charged = came && chargedOf(job, 'before');
  const gold = charged?.metals.get('Au');
  if (!came || !charged || !gold || !isGoldTold(job)) return undefined;
  const most = mostLeftByAcid(gold.high) + baseOf(charged).platinum.high;
  if (!isOver(came, most)) return undefined;
  const dry = came.isDry
    ? 'is silver or other metal: boil it in fresh acid, wash, anneal and weigh it again.'
    : 'is water, or silver and other metal: dry and anneal it and weigh it again, and if that is no less, boil it in fresh acid.';
  const says = `The parted gold weighs ${cameWords(came)}; gold with what one acid leaves in it comes to ${mostWords(came, most)} by the assays. The rest ${dry}`;
  return { came, most, says, by: charged.by };
};

/** By an assay, or through steps from one, of every lot. */
const isGoldTold = (job: Job): boolean =>
  (job.step?.inputs ?? []).every(({ flow, mass }) => {
    const ground = knowledgeOf(job, flow, 'before').get('Au')?.ground;
    return !mass?.guessed && ground !== undefined && ground !== 'guessed';
  });

/** Silver and chloride on the means that is written; gold with what throws gold down. */
const droppedTooHeavy = (job: Job): Over | undefined => {
  const came = job.planned || job.step?.verdict === 'gain' ? undefined : cameOut(job, undefined);
  if (!came) return undefined;
  const means = meansOf(job);
  const metal = means ? 'Ag' : hasReductant(job) ? 'Au' : undefined;
  const dissolved = metal && dissolvedMetal(job, metal);
  if (!dissolved || dissolved.guessed) return undefined;
  const { high } = dissolved.grams;
  const most =
    (1 + STAYS) * (means?.by === 'salt' ? chlorideOf(high) : high + copperLeft(high, means?.grams, means?.by));
  if (!isOver(came, most)) return undefined;
  const [what, rest] =
    means?.by === 'salt'
      ? ['chloride', 'salt or water']
      : metal === 'Au'
        ? ['gold', 'salts, water or other metal']
        : ['silver and copper', 'salts or water'];
  const says = `What came down weighs ${cameWords(came)}, and the solution had metal for ${mostWords(came, most)} of ${what}. The rest is ${rest}: wash it, dry it and weigh it again. If it stays, the solution held more than was thought.`;
  return { came, most, says, by: dissolved.by };
};

/** Salts and damp that good washing and drying leave, as a share of what came down (common practice, no source). */
const STAYS = 0.02;
/** Copper that falls off a rod that nobody weighed, as a share of the silver (common practice, no source). */
const COPPER_FALLS = 0.05;

/** Copper that the silver did not use up may lie among it. */
const copperLeft = (silverGrams: number, copperGrams: number | undefined, by: string | undefined): number => {
  if (by !== 'copper') return 0;
  if (copperGrams === undefined) return COPPER_FALLS * silverGrams;
  return Math.max(0, copperGrams - silverGrams / silverOnCopper(1));
};

const hasReductant = ({ step, workspace }: Job): boolean =>
  (step?.added ?? []).some(
    ({ flow }) => flow.material && findMaterial(workspace.workshop, flow.material.name)?.group === 'reductant',
  );

export interface Came {
  readonly mass: Measured;
  /** k times the uncertainty of weighing, g. */
  readonly reach: number;
  readonly isDry: boolean;
  readonly first: FlowWeight;
}

/** What a parting leaves. */
const GOLD_KINDS: readonly (string | undefined)[] = ['sponge', 'cornet', 'residue', undefined];
/** These kinds hold paper or liquid. */
const NOT_SOLID: readonly (string | undefined)[] = ['solution', 'filter'];
const WITH_WATER: readonly string[] = ['wet', 'damp'];
const WITHOUT_WATER: readonly string[] = ['dry', 'annealed'];

/** All that is solid; none where part of it is not weighed, was weighed with its water, or has an assay of its own that tells what it is. */
const cameOut = ({ step, workspace }: Job, kinds: readonly (string | undefined)[] | undefined): Came | undefined => {
  const all = (step?.outputs ?? []).filter(
    ({ flow }) => !flow.none && !NOT_SOLID.includes(flow.kind) && (kinds === undefined || kinds.includes(flow.kind)),
  );
  const { metals } = accountsOf(workspace);
  const masses: Measured[] = [];
  for (const { flow, mass, ground, states } of all) {
    const segment = metals.lineage.segment(flow);
    const isAssayed = segment && [...metals.own(segment).values()].some((each) => each.ground === 'assayed');
    if (!mass || mass.guessed || ground !== 'weighed' || isAssayed) return undefined;
    if (states.some((state) => WITH_WATER.includes(state))) return undefined;
    masses.push(mass);
  }
  const [first] = all;
  const isDry = all.every(({ states }) => states.some((state) => WITHOUT_WATER.includes(state)));
  if (!first) return undefined;
  const mass = add(...masses);
  return { mass, reach: workspace.workshop.limits.coverage * uncertainty(mass), isDry, first };
};

const isOver = ({ mass, reach }: Came, most: number): boolean => mass.value.toNumber() - reach > most;

/** `9.00 g`, `at most 5.07 g`: what came out, and the most that there can be of it. */
export const cameWords = ({ mass }: Came): string => showMass(mass);
export const mostWords = ({ mass }: Came, most: number): string => `at most ${cutLike(most, mass)}`;

const told = ({ came: { first }, says, by }: Over): Advice => ({
  topic: 'too heavy',
  at: first.flow.place,
  rank: 'doubt',
  working: () => ({ says, assumed: [] }),
  wrong: [
    {
      code: 'heavier-than-its-metal',
      place: first.amount?.place ?? first.flow.place,
      says,
      related: by.map((entry) => ({ place: entry.head, says: `${stepWords(entry)} tells of its metal` })),
    },
  ],
});

/** A cupellation as the bench sees it: what the lots hold, what the shelf added to it, what came out. */
import { PRECIOUS } from '../engine/accounts/known';
import { type Estimate, exactly, less, sumOf, times } from '../engine/bench/result';
import type { FlowWeight } from '../engine/book';
import { isMetalKind } from '../engine/charge';
import type { Flow } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import { uncertainty } from '../quantity/measured';
import { accountsOf } from '../workspace/accounts';
import { type Base, baseOf, isBase } from './base';
import { bornIn } from './born';
import { addedMetals, type Contents, chargedOf, type Job, perJob, type Side } from './job';
import { leadFrom } from './lead-from';
import { noMetalIn } from './no-metal';
import { type Smelt, smeltOf } from './smelt';

export interface Cupelled {
  /** Of the lots alone. */
  readonly lots: Contents;
  /** Gold and silver from the shelf, as for inquarting, g. */
  readonly noble: number;
  /** All that is charged but lead from the shelf, g. */
  readonly charge: Estimate;
  /** Of the lots and the shelf, g; lead left out. */
  readonly base: Base;
  readonly gold: Estimate | undefined;
  readonly silver: Estimate | undefined;
  readonly precious: Estimate | undefined;
  /** Lead from the shelf, g. */
  readonly leadAdded: number;
  readonly leadLine: Flow | undefined;
}

/** None for another verb, where a lot is not weighed, and where one is no metal. */
export const cupelledOf = (job: Job, side: Side = 'best'): Cupelled | undefined => BY_SIDE[side](job);

const cupelledAt = (job: Job, side: Side): Cupelled | undefined => {
  if (job.entry.verb !== 'cupel' || noMetalIn(job).length > 0) return undefined;
  const lots = chargedOf(job, side);
  if (!lots || !(lots.grams.best > 0)) return undefined;
  const shelf = addedMetals(job);
  const from = (symbol: string): Estimate => exactly(shelf.get(symbol) ?? 0);
  const plus = (known: Estimate | undefined, symbols: readonly string[]): Estimate | undefined =>
    known && sumOf([known, ...symbols.map(from)]);
  const base = withReduced(job, lots, baseOf(lots));
  const leadAdded = shelf.get('Pb') ?? 0;
  const metal = [...shelf.values()].reduce((so, grams) => so + grams, 0) - leadAdded;
  return {
    lots,
    noble: (shelf.get('Au') ?? 0) + (shelf.get('Ag') ?? 0),
    charge: sumOf([lots.grams, exactly(metal)]),
    base: {
      ...base,
      grams: plus(base.grams, [...shelf.keys()].filter(isBase)),
      named: sumOf([base.named, ...[...shelf.keys()].filter(isBase).map(from)]),
    },
    gold: plus(lots.metals.get('Au'), ['Au']),
    silver: plus(lots.metals.get('Ag'), ['Ag']),
    precious: plus(lots.precious, ['Au', 'Ag']),
    leadAdded,
    leadLine: job.entry.flows.find((flow) => flow.word === 'add' && isLead(job, flow)),
  };
};

const BY_SIDE: Readonly<Record<Side, (job: Job) => Cupelled | undefined>> = {
  best: perJob((job) => cupelledAt(job, 'best')),
  before: perJob((job) => cupelledAt(job, 'before')),
};

/** A button that was collected with lead is lead, though nobody assayed it: what was charged of it, and what flour or charcoal brought down. */
const withReduced = (job: Job, { grams, precious, metals }: Contents, base: Base): Base => {
  if (base.lead.best > 0) return base;
  const each = job.step!.inputs.flatMap((input) => reducedIn(job, input) ?? []);
  if (each.length === 0) return base;
  const room = less(grams, precious ?? metals.get('Au') ?? exactly(0)).best;
  const { low, best, high } = sumOf(each);
  const lead = { low: Math.min(low, room), best: Math.min(best, room), high: Math.min(high, room) };
  // What gold and silver leave is lead first.
  if (base.by !== 'rest' || !base.grams) return { ...base, lead };
  return { ...base, lead, grams: less(base.grams, lead), unknown: less(base.unknown, lead) };
};

const MELTED: ReadonlySet<string> = new Set(['melt']);

const reducedIn = (job: Job, input: FlowWeight): Estimate | undefined => {
  const born = bornIn(job, input, MELTED);
  const smelt = born && smeltOf(born.made);
  const lead = born && smelt && leadOf(born.made, smelt);
  return lead && times(lead, born.part);
};

const leadOf = (made: Job, smelt: Smelt): Estimate | undefined => {
  const [reduced, charged] = [leadFrom(smelt)?.grams, addedMetals(made).get('Pb')];
  return reduced || charged ? sumOf([reduced ?? exactly(0), exactly(charged ?? 0)]) : undefined;
};

const isLead = ({ workspace }: Job, { material }: Flow): boolean => {
  const made = material && findMaterial(workspace.workshop, material.name)?.composition;
  return made?.some(({ what, fraction }) => what === 'Pb' && fraction > 0.5) ?? false;
};

export interface Bead {
  readonly grams: number;
  /** Its gold and silver by its own assay, g; its weight where it has none. */
  readonly precious: number;
  /** Its gold and silver were assayed, and leave next to nothing else. */
  readonly isClean: boolean;
  /** k times the uncertainty of weighing it, g. */
  readonly reach: number;
  /** The bead's lines. */
  readonly flows: readonly Flow[];
}

/** From this share of gold and silver on a bead is finished: tested silver buttons averaged 99.85 % (Beringer & Beringer 1904), small ones less. */
const CLEAN = 0.985;

/** All metal that came off the cupel; none in a plan, and where one of it is not weighed or guessed. */
export const beadOf = ({ step, planned, workspace }: Job): Bead | undefined => {
  const metal = step?.outputs.filter(({ flow }) => isMetalKind(flow.kind)) ?? [];
  if (planned || metal.length === 0) return undefined;
  const { metals } = accountsOf(workspace);
  let [grams, precious, square] = [0, 0, 0];
  let isClean = true;
  for (const { flow, mass, ground } of metal) {
    if (!mass || mass.guessed || ground !== 'weighed') return undefined;
    const segment = metals.lineage.segment(flow);
    const own = segment && metals.own(segment).get(PRECIOUS);
    const share = own?.share?.value;
    grams += mass.value.toNumber();
    precious += mass.value.toNumber() * Math.min(1, share ?? 1);
    isClean &&= own?.ground === 'assayed' && share !== undefined && share >= CLEAN;
    square += uncertainty(mass) ** 2;
  }
  const reach = workspace.workshop.limits.coverage * Math.sqrt(square);
  return { grams, precious, isClean, reach, flows: metal.map(({ flow }) => flow) };
};

/** The acids and water of a wet step: what is written, and what the shop's bottle holds. */
import { mixed, thinned } from '../engine/bench/acid';
import type { Estimate } from '../engine/bench/result';
import { type Acid, nitricDensity, nitricFor, nitricGrams, type Route } from '../engine/bench/wet';
import type { FlowWeight } from '../engine/book';
import { findMaterial } from '../engine/shelf';
import type { Material } from '../engine/workshop';
import type { Job } from './job';

/** What of the acid stands in the entry. */
export interface AcidWritten {
  readonly lines: readonly FlowWeight[];
  readonly water: readonly FlowWeight[];
  /** HNO3 in all lines, g; none where one has no amount. */
  readonly pureGrams: number | undefined;
  /** Acid and water together, mL; none where one has no amount. */
  readonly millilitres: number | undefined;
  /** Water in all lines, mL; none where one has no amount. */
  readonly waterMillilitres: number | undefined;
  /** Another acid stands with it: gold may go into solution too. */
  readonly isMixed: boolean;
}

const shareOf = (material: Material | undefined, what: string): number =>
  material?.composition.find((part) => part.what === what)?.fraction ?? 0;

/** What is in the bottle: nitric acid, or hydrochloric. */
export type Strong = 'HNO3' | 'HCl';

const BOUGHT: Readonly<Record<Strong, { readonly name: string; readonly density: number }>> = {
  HNO3: { name: 'nitric-acid', density: 1.41 },
  HCl: { name: 'hydrochloric-acid', density: 1.18 },
};

/** The acid of a material that holds it; the density of nitric acid by its strength, else as its row has it. */
const acidIn = (material: Material, what: Strong = 'HNO3'): Acid => {
  const fraction = shareOf(material, what);
  const { density } = BOUGHT[what];
  const { low, high } = material.bulkDensity ?? { low: density, high: density };
  const byStrength = what === 'HNO3' ? nitricDensity(fraction).value : undefined;
  return { fraction, gramsPerMillilitre: byStrength ?? (low + high) / 2 };
};

const materialOf = ({ workspace }: Job, { flow }: FlowWeight): Material | undefined =>
  flow.material && findMaterial(workspace.workshop, flow.material.name);

export const acidWritten = (job: Job): AcidWritten => {
  const added = job.step?.added ?? [];
  const lines = added.filter((line) => shareOf(materialOf(job, line), 'HNO3') > 0);
  const water = added.filter((line) => shareOf(materialOf(job, line), 'H2O') === 1);
  const others = added.filter((line) => materialOf(job, line)?.group === 'acid' && !lines.includes(line));
  const pure = lines.map((line) => pureGrams(line, acidIn(materialOf(job, line)!)));
  const acids = lines.map((line) => millilitresOf(line, acidIn(materialOf(job, line)!).gramsPerMillilitre));
  const waters = water.map((line) => millilitresOf(line, 1));
  return {
    lines,
    water,
    pureGrams: sumOfKnown(pure),
    millilitres: sumOfKnown([...acids, ...waters]),
    waterMillilitres: sumOfKnown(waters),
    isMixed: others.length > 0,
  };
};

/**
 * The acid as it stands on the metal. Measured acid is as strong as it is written, with the water that is written; what is still to be measured is
 * thinned, and gets its water with it.
 */
export const acidUsed = ({ lines, water, pureGrams: pure, waterMillilitres }: AcidWritten, bottle: Bottle): Acid => {
  const isMeasured = lines.length > 0 && pure !== undefined;
  if (waterMillilitres === undefined || (!isMeasured && water.length === 0)) return thinned(bottle);
  if (waterMillilitres === 0) return bottle;
  return isMeasured && pure > 0 ? mixed(bottle, pure / bottle.fraction, waterMillilitres) : thinned(bottle);
};

const sumOfKnown = (all: readonly (number | undefined)[]): number | undefined =>
  all.includes(undefined) ? undefined : all.reduce<number>((sum, one) => sum + (one ?? 0), 0);

const millilitresOf = ({ mass, volume }: FlowWeight, gramsPerMillilitre: number): number | undefined =>
  volume?.value.toNumber() ?? (mass && mass.value.toNumber() / gramsPerMillilitre);

const pureGrams = (line: FlowWeight, acid: Acid): number | undefined => {
  const millilitres = millilitresOf(line, acid.gramsPerMillilitre);
  return millilitres === undefined ? undefined : nitricGrams(millilitres, acid);
};

/** The lines of one acid, what is in them, and the bottle that they are of. */
export interface OfAcid {
  readonly lines: readonly FlowWeight[];
  /** Of the pure acid, g; none where a line has no amount. */
  readonly pureGrams: number | undefined;
  readonly millilitres: number | undefined;
  readonly bottle: Bottle;
}

export const acidLines = (job: Job, what: Strong): OfAcid => {
  const lines = (job.step?.added ?? []).filter((line) => shareOf(materialOf(job, line), what) > 0);
  const each = lines.map((line) => {
    const acid = acidIn(materialOf(job, line)!, what);
    return { millilitres: millilitresOf(line, acid.gramsPerMillilitre), acid };
  });
  return {
    lines,
    pureGrams: sumOfKnown(
      each.map(({ millilitres, acid }) => (millilitres === undefined ? undefined : nitricGrams(millilitres, acid))),
    ),
    millilitres: sumOfKnown(each.map(({ millilitres }) => millilitres)),
    bottle: bottleWith(job, lines, what),
  };
};

export interface Bottle extends Acid {
  readonly name: string;
}

/** That which is written; else the workshop's own; else as it is usually bought. */
export const bottleOf = (job: Job, { lines }: AcidWritten): Bottle => bottleWith(job, lines, 'HNO3');

const bottleWith = (job: Job, lines: readonly FlowWeight[], what: Strong): Bottle => {
  const { workshop } = job.workspace;
  const own = [...workshop.materials.values()].find((one) => shareOf(one, what) > 0);
  const material = (lines[0] && materialOf(job, lines[0])) ?? own ?? findMaterial(workshop, BOUGHT[what].name)!;
  return { name: material.name, ...acidIn(material, what) };
};

/** `× 0.779 HNO3 dilute, 1.168 strong`. */
export const perGramWords = (metal: string): string => {
  const by = (route: Route): string => (nitricFor(metal, 1, route).value ?? 0).toFixed(3);
  return `× ${by('dilute')} HNO3 dilute, ${by('strong')} strong`;
};

/** HNO3 for all of these metals by an equation, g, best values. */
export const pureBy = (metals: ReadonlyMap<string, Estimate>, route: Route): number =>
  [...metals].reduce((so, [metal, { best }]) => so + (nitricFor(metal, best, route).value ?? 0), 0);

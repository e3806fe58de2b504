/** The nitric acid and water of a wet step: what is written, and what the shop's bottle holds. */
import { type Acid, nitricDensity, nitricGrams } from '../engine/bench/wet';
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
  /** Another acid stands with it: gold may go into solution too. */
  readonly isMixed: boolean;
}

const shareOf = (material: Material | undefined, what: string): number =>
  material?.composition.find((part) => part.what === what)?.fraction ?? 0;

/** The acid of a material that holds nitric acid; its density by its strength, else as its row has it. */
const acidIn = (material: Material): Acid => {
  const fraction = shareOf(material, 'HNO3');
  const { low, high } = material.bulkDensity ?? { low: 1.41, high: 1.41 };
  return { fraction, gramsPerMillilitre: nitricDensity(fraction).value ?? (low + high) / 2 };
};

const materialOf = ({ workspace }: Job, { flow }: FlowWeight): Material | undefined =>
  flow.material && findMaterial(workspace.workshop, flow.material.name);

export const acidWritten = (job: Job): AcidWritten => {
  const added = job.step?.added ?? [];
  const lines = added.filter((line) => shareOf(materialOf(job, line), 'HNO3') > 0);
  const water = added.filter((line) => shareOf(materialOf(job, line), 'H2O') === 1);
  const others = added.filter((line) => materialOf(job, line)?.group === 'acid' && !lines.includes(line));
  const pure = lines.map((line) => pureGrams(line, acidIn(materialOf(job, line)!)));
  const volumes = [
    ...lines.map((line) => millilitresOf(line, acidIn(materialOf(job, line)!).gramsPerMillilitre)),
    ...water.map((line) => millilitresOf(line, 1)),
  ];
  return { lines, water, pureGrams: sumOfKnown(pure), millilitres: sumOfKnown(volumes), isMixed: others.length > 0 };
};

const sumOfKnown = (all: readonly (number | undefined)[]): number | undefined =>
  all.includes(undefined) ? undefined : all.reduce<number>((sum, one) => sum + (one ?? 0), 0);

const millilitresOf = ({ mass, volume }: FlowWeight, gramsPerMillilitre: number): number | undefined =>
  volume?.value.toNumber() ?? (mass && mass.value.toNumber() / gramsPerMillilitre);

const pureGrams = (line: FlowWeight, acid: Acid): number | undefined => {
  const millilitres = millilitresOf(line, acid.gramsPerMillilitre);
  return millilitres === undefined ? undefined : nitricGrams(millilitres, acid);
};

export interface Bottle extends Acid {
  readonly name: string;
}

/** That which is written; else the workshop's own; else as it is usually bought. */
export const bottleOf = (job: Job, { lines }: AcidWritten): Bottle => {
  const own = [...job.workspace.workshop.materials.values()].find((one) => shareOf(one, 'HNO3') > 0);
  const material =
    (lines[0] && materialOf(job, lines[0])) ?? own ?? findMaterial(job.workspace.workshop, 'nitric-acid')!;
  return { name: material.name, ...acidIn(material) };
};

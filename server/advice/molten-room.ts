/** The room that a charge takes once it is molten: metal, matte and slag. */
import { MATTE_MELT, metalMillilitres, type SlagMelt, slagMelt } from '../engine/bench/mould';
import { type Assumption, assume, type Estimate, exactly, FROM_MEMORY, over, sumOf } from '../engine/bench/result';
import type { Slag } from '../engine/bench/slag';
import type { FlowWeight } from '../engine/book';
import { isMetalKind } from '../engine/charge';
import type { Job } from './job';
import { isChloride, type Smelt } from './smelt';
import { rangeWords, termWords } from './words';
import { slagLeft, type Yield, yieldOf } from './yield';

/** mL, molten. */
export interface MoltenRoom extends Estimate {
  readonly metal: Estimate;
  readonly rows: () => readonly string[];
}

/** Of metal whose make is not known: from fine gold to copper. From memory. */
const ANY_METAL = { low: 8, best: 12, high: 17.3 };

/** Metal, matte and slag as they were weighed, else as they are to be expected; undefined where neither tells anything. */
export const moltenRoom = (job: Job, smelt: Smelt): MoltenRoom | undefined => {
  const pour = yieldOf(job);
  const written = weighed(job.step!.outputs);
  const metalGrams = written.metal ?? pour.metal;
  const matteGrams = written.matte ?? pour.matte;
  const slagGrams = written.slag ?? (isKnown(smelt) ? slagLeft(job, pour) : undefined);
  if (!metalGrams && !slagGrams) return undefined;
  const metal = metalGrams ? metalRoom(pour, metalGrams) : exactly(0);
  const matte = matteGrams ? over(matteGrams, MATTE_MELT) : exactly(0);
  const melt = meltOf(pour.slag, isChloride(smelt));
  const slag = slagGrams ? over(slagGrams, melt) : exactly(0);
  const whole = sumOf([metal, matte, slag]);
  const rows = (): readonly string[] => {
    const parts = [
      ...(metalGrams
        ? [
            `metal             ${workedWith(metalGrams)}, at ${densityWords(metalGrams, metal)}: ${rangeWords(metal, 'mL')} molten`,
          ]
        : []),
      ...(matteGrams?.high
        ? [
            `matte             ${workedWith(matteGrams)} / ${betweenWords(MATTE_MELT)} = ${rangeWords(matte, 'mL')} molten`,
          ]
        : []),
      ...(slagGrams?.high
        ? [
            `slag              ${workedWith(slagGrams)} / ${betweenWords(melt)} = ${rangeWords(slag, 'mL')} molten, ${melt.of}`,
          ]
        : []),
    ];
    return parts.length > 1 ? [...parts, `together          ${rangeWords(whole, 'mL')}`] : parts;
  };
  return { ...whole, metal, rows };
};

export const MOLTEN_ASSUMED: Assumption = assume(
  'densities of molten metals, matte and slags; volumes add up; lead silicate with 85 % PbO 6.6 to 6.8',
  `${FROM_MEMORY}; lead silicate: a ceramics page`,
);

const meltOf = ({ oxideGrams, grams, saltGrams }: Slag, isSalt: boolean): SlagMelt => {
  const whole = Math.max(grams.best, 1e-9);
  const share = (oxide: string): number => (oxideGrams.get(oxide)?.best ?? 0) / whole;
  const salt = isSalt ? 1 : Math.min(1, saltGrams / whole);
  return slagMelt({ lead: isSalt ? 0 : share('PbO'), iron: share('FeO'), salt });
};

/** A weight that is close to one figure, to a digit more. */
const workedWith = (grams: Estimate): string => {
  const words = rangeWords(grams, 'g');
  return words.includes('..') ? words : termWords(grams.best, 'g');
};

const betweenWords = ({ low, high }: Estimate): string =>
  `${Number(low.toPrecision(2))}..${Number(high.toPrecision(2))}`;

const densityWords = (grams: Estimate, room: Estimate): string => `${termWords(grams.best / room.best, 'g/mL')}`;

const isKnown = ({ unknown, unknownAdded }: Smelt): boolean => unknown.length === 0 && !unknownAdded;

const metalRoom = ({ metals }: Yield, grams: Estimate): Estimate => {
  const sum = [...metals.values()].reduce((so, one) => so + one, 0);
  const dense = sum >= 0.9 * grams.best ? metalMillilitres(metals).value : undefined;
  if (!dense) return over(grams, ANY_METAL);
  return {
    best: (dense.best * grams.best) / sum,
    low: (dense.low * grams.low) / sum,
    high: (dense.high * grams.high) / sum,
  };
};

const weighed = (
  outputs: readonly FlowWeight[],
): {
  readonly metal: Estimate | undefined;
  readonly matte: Estimate | undefined;
  readonly slag: Estimate | undefined;
} => {
  const real = outputs.filter(({ flow }) => !flow.none);
  const sumIf = (all: readonly FlowWeight[]): Estimate | undefined =>
    all.length > 0 && all.every(({ mass }) => mass)
      ? exactly(all.reduce((so, { mass }) => so + mass!.value.toNumber(), 0))
      : undefined;
  return {
    metal: sumIf(real.filter(({ flow }) => isMetalKind(flow.kind) && flow.kind !== 'prills' && flow.kind !== 'skull')),
    matte: sumIf(real.filter(({ flow }) => flow.kind === 'matte' || flow.kind === 'speiss')),
    slag: sumIf(real.filter(({ flow }) => flow.kind === 'slag')),
  };
};

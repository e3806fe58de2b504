/**
 * What the law of weights and measures allows a scale and a check weight to be wrong by. Scales: OIML R 76-1, Table 6, as transcribed in a
 * course sheet. Check weights: OIML R 111-1, Table 1.
 */
import { type Decimal, decimal } from './decimal';

export type ScaleClass = 'I' | 'II' | 'III' | 'IIII';

/** Loads, in verification divisions e, up to which 0.5 e, 1 e and 1.5 e are allowed. */
const STEPS: Readonly<Record<ScaleClass, readonly [number, number, number]>> = {
  I: [50_000, 200_000, Number.POSITIVE_INFINITY],
  II: [5_000, 20_000, 100_000],
  III: [500, 2_000, 10_000],
  IIII: [50, 200, 1_000],
};
const ALLOWED = ['0.5', '1', '1.5'] as const;

/**
 * Largest permissible error on first verification, in the unit of `e`, of a scale with verification division `e` (not the last digit shown,
 * which may be finer) at a load in that same unit. None where the load is beyond what the class may weigh.
 */
export const permissibleError = (scaleClass: ScaleClass, e: Decimal, load: Decimal): Decimal | undefined => {
  const divisions = load.abs().div(e);
  const step = STEPS[scaleClass].findIndex((limit) => divisions.lte(limit));
  return step < 0 ? undefined : e.times(decimal(ALLOWED[step]!));
};

/** In use a scale may be wrong by twice as much as on its verification. */
export const permissibleErrorInService = (scaleClass: ScaleClass, e: Decimal, load: Decimal): Decimal | undefined =>
  permissibleError(scaleClass, e, load)?.times(2);

export type WeightClass = 'E2' | 'F1' | 'F2' | 'M1';

interface WeightRow {
  readonly grams: number;
  /** Milligrams, in the order E2, F1, F2, M1. */
  readonly limits: readonly [number, number, number, number];
  /** Read in a weight maker's copy of the table, or recalled. */
  readonly ground: 'read' | 'from memory';
}

const CLASSES: readonly WeightClass[] = ['E2', 'F1', 'F2', 'M1'];

/** The 200 g weight of class M1 is from memory too. */
const WEIGHTS: readonly WeightRow[] = [
  { grams: 1, limits: [0.03, 0.1, 0.3, 1], ground: 'read' },
  { grams: 2, limits: [0.04, 0.12, 0.4, 1.2], ground: 'from memory' },
  { grams: 5, limits: [0.05, 0.16, 0.5, 1.6], ground: 'from memory' },
  { grams: 10, limits: [0.06, 0.2, 0.6, 2], ground: 'from memory' },
  { grams: 20, limits: [0.08, 0.25, 0.8, 2.5], ground: 'read' },
  { grams: 50, limits: [0.1, 0.3, 1, 3], ground: 'from memory' },
  { grams: 100, limits: [0.16, 0.5, 1.6, 5], ground: 'read' },
  { grams: 200, limits: [0.3, 1, 3, 10], ground: 'read' },
  { grams: 500, limits: [0.8, 2.5, 8, 25], ground: 'from memory' },
  { grams: 1000, limits: [1.6, 5, 16, 50], ground: 'from memory' },
];

/** Largest error, in milligrams, of a check weight of this nominal mass; none for a mass that no weight of the set has. */
export const checkWeightLimitMg = (weightClass: WeightClass, grams: number): number | undefined =>
  WEIGHTS.find((row) => row.grams === grams)?.limits[CLASSES.indexOf(weightClass)];

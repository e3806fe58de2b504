/** Fineness, karat, the marks of the trade, and fine weight. */
import { type Answer, answer, FROM_MEMORY, noAnswer, type Result } from './result';

/** Parts in a thousand of so many karat: a karat is a twenty-fourth. 14 karat is 583.33, so below the mark 585. */
export const finenessPptFromKarat = (karat: number): number => (1000 * karat) / 24;

/** A fineness that is marked, in parts per thousand by mass. */
export interface Mark {
  readonly finenessPpt: number;
  /** What the trade calls it, where it has a name. */
  readonly name?: string;
  /** In use in some countries only. */
  readonly national?: true;
}

export const MARK_SOURCE = `series of ISO 9202, ${FROM_MEMORY}`;

/** Marks by metal, the lowest first. Minimum values without minus tolerance (ISO 9202); the list is from memory. */
export const MARKS: ReadonlyMap<string, readonly Mark[]> = new Map([
  [
    'Au',
    [
      { finenessPpt: 333, name: '8 karat', national: true },
      { finenessPpt: 375, name: '9 karat' },
      { finenessPpt: 417, name: '10 karat' },
      { finenessPpt: 585, name: '14 karat' },
      { finenessPpt: 750, name: '18 karat' },
      { finenessPpt: 800, national: true },
      { finenessPpt: 916, name: '22 karat' },
      { finenessPpt: 990 },
      { finenessPpt: 999, name: 'fine gold' },
    ],
  ],
  [
    'Ag',
    [
      { finenessPpt: 800 },
      { finenessPpt: 830 },
      { finenessPpt: 835 },
      { finenessPpt: 925, name: 'sterling' },
      { finenessPpt: 958, name: 'Britannia' },
      { finenessPpt: 999, name: 'fine silver' },
    ],
  ],
  [
    'Pt',
    [
      { finenessPpt: 500 },
      { finenessPpt: 585 },
      { finenessPpt: 850 },
      { finenessPpt: 900 },
      { finenessPpt: 950 },
      { finenessPpt: 999 },
    ],
  ],
  ['Pd', [{ finenessPpt: 500 }, { finenessPpt: 950 }, { finenessPpt: 999 }]],
] satisfies [string, readonly Mark[]][]);

/**
 * The largest permitted mark that is not above the assay: 588 is marked 585, and nothing is ever rounded up to a mark.
 * Fineness in parts per thousand; the usual marks of the metal unless the permitted ones are given.
 */
export function markFor(metal: string, assayPpt: number, permittedPpt?: readonly number[]): Result<Mark> {
  const marks = permittedPpt?.map((finenessPpt): Mark => ({ finenessPpt })) ?? MARKS.get(metal);
  if (!marks) return noAnswer(`no marks are known for ${metal}`);
  const under = marks.filter((mark) => mark.finenessPpt <= assayPpt);
  if (under.length === 0) return noAnswer('the assay is below the lowest mark');
  const best = under.reduce((high, mark) => (mark.finenessPpt > high.finenessPpt ? mark : high));
  const sources = [{ says: 'no minus tolerance: a mark stands at or below the assay', source: 'ISO 9202' }];
  return answer(best, permittedPpt ? sources : [...sources, { says: 'the usual marks', source: MARK_SOURCE }]);
}

/** The mark that a target means: the mark itself, or the karat whose mark it is (583.3 of gold is marked 585, 916.7 is 916). */
export function markAt(metal: string, finenessPpt: number): Mark | undefined {
  return MARKS.get(metal)?.find((mark) => Math.abs(mark.finenessPpt - finenessPpt) <= MARK_WITHIN_PPT);
}

/** 14 karat is 583.33, the mark 585: the farthest of the series. */
const MARK_WITHIN_PPT = 1.7;

/** A figure with its standard uncertainty; the unit is in the name of whoever holds it. */
export interface Uncertain {
  readonly value: number;
  readonly u: number;
}

/**
 * Fine metal in a lot, g: mass × fineness, with u² = (m·uF)² + (F·um)², mass and fineness being found independently.
 * The mass in g, the fineness as a fraction 0 to 1; u is one standard uncertainty.
 */
export function fineGrams(massGrams: Uncertain, fineFraction: Uncertain): Answer<Uncertain> {
  const value = massGrams.value * fineFraction.value;
  const u = Math.hypot(massGrams.value * fineFraction.u, fineFraction.value * massGrams.u);
  return answer({ value, u }, [
    { says: 'weight and assay are wrong independently of each other', source: 'propagation of uncertainty, GUM 5.1.2' },
  ]);
}

/** Troy ounce, g: 480 grains of 0.06479891 g, exactly. */
export const TROY_OUNCE_GRAMS = 31.1034768;
const POUND_GRAMS = 453.59237;

/** The charge in which a milligram found is a troy ounce in the ton, g: 29.1667 for the short ton, 32.6667 for the long. */
export function assayTonGrams(ton: 'short' | 'long'): number {
  const pounds = ton === 'short' ? 2000 : 2240;
  const troyOunces = (pounds * POUND_GRAMS) / TROY_OUNCE_GRAMS;
  return troyOunces / 1000;
}

/** Density of alloys, weighing in air and water, and what gold a density allows. */
import { element } from '../../vocabulary/elements';
import type { Fractions } from './alloy';
import {
  type Assumption,
  answer,
  assume,
  BERINGER,
  between,
  type Estimate,
  exactly,
  FROM_MEMORY,
  noAnswer,
  type Result,
  ROSE,
} from './result';

const TANAKA = 'Tanaka et al. 2001, air-free water';

/** Density of water, kg/m³, from 0 to 40 °C and air-free (Tanaka et al. 2001). Tap water is up to 0.3 higher with salts. */
export function waterKilogramsPerCubicMetre(celsius: number): Result<number> {
  if (!(celsius >= 0 && celsius <= 40)) return noAnswer('the water must be between 0 and 40 °C');
  const fromDensest = celsius - 3.983035;
  const fall = (fromDensest ** 2 * (celsius + 301.797)) / (522528.9 * (celsius + 69.34881));
  return answer(999.97495 * (1 - fall), [assume('air-free water', TANAKA)]);
}

/** Density of a mixture by volumes that add up, g/cm³: 1/ρ = Σ w/ρ. Any one unit of mass. */
export function mixtureDensity(parts: readonly { readonly mass: number; readonly gramsPerCubicCentimetre: number }[]) {
  const mass = parts.reduce((sum, part) => sum + part.mass, 0);
  const volume = parts.reduce((sum, part) => sum + part.mass / part.gramsPerCubicCentimetre, 0);
  return mass / volume;
}

/** Measured alloys stand from 2 % under to 1 % over the additive value: Au-Ag, Au-Cu, one 18 karat red casting. */
const ADDITIVE_LOW = 0.979;
const ADDITIVE_HIGH = 1.009;

const densityOf = (symbol: string, own?: Fractions): number | undefined =>
  own?.get(symbol) ?? element(symbol)?.density?.value;

/**
 * Density of an alloy, g/cm³, by volumes that add up, with the spread that measured alloys show about it.
 * Mass fractions 0 to 1; densities of the elements from the vocabulary, or the caller's own by symbol.
 */
export function alloyDensity(fractions: Fractions, own?: Fractions): Result<Estimate> {
  const parts = [...fractions].filter(([, fraction]) => fraction > 0);
  const unknown = parts.find(([symbol]) => densityOf(symbol, own) === undefined);
  if (parts.length === 0 || unknown) return noAnswer(unknown ? `no density for ${unknown[0]}` : 'no metals are named');
  const best = mixtureDensity(
    parts.map(([symbol, mass]) => ({ mass, gramsPerCubicCentimetre: densityOf(symbol, own) ?? 1 })),
  );
  if (parts.length === 1) return answer(exactly(best), [assume('a pure metal, without voids', 'element table')]);
  return answer(between(best * ADDITIVE_LOW, best * ADDITIVE_HIGH, best), [
    assume('volumes add up; measured alloys stood 2 % under to 1 % over', `${ROSE}, and a master-alloy chart`),
    assume('no voids', 'a casting with pores is lighter'),
  ]);
}

/** Weight in air over the loss in water, relative to water at its temperature; buoyancy of air left out. */
export const specificGravity = (airGrams: number, waterGrams: number): number => airGrams / (airGrams - waterGrams);

export interface Hydrostatic {
  /** Readings of one scale, g: dry in air, and hanging in water. */
  readonly airGrams: number;
  readonly waterGrams: number;
  readonly celsius: number;
  /** Standard uncertainty of each reading, g. */
  readonly readingU?: number;
  /** Of the air, g/cm³. */
  readonly airDensity?: number;
}

/**
 * Density by weighing in air and in water, g/cm³: ρ = Wa (ρw − ρair)/(Wa − Ww) + ρair. The bounds are two standard
 * uncertainties of the readings; bubbles, hollows and a thick wire make a piece read light by more than that.
 */
export function hydrostaticDensity(weighed: Hydrostatic): Result<Estimate> {
  const { airGrams, waterGrams, celsius, readingU = 0, airDensity = 0.0012 } = weighed;
  const water = waterKilogramsPerCubicMetre(celsius);
  if (water.value === undefined) return water;
  const displaced = airGrams - waterGrams;
  if (!(airGrams > 0 && displaced > 0)) return noAnswer('the piece must weigh less in water than in air');
  const perGram = water.value / 1000 - airDensity;
  const best = (airGrams * perGram) / displaced + airDensity;
  const u = (perGram / displaced ** 2) * Math.hypot(waterGrams * readingU, airGrams * readingU);
  if (u > best / 4) return noAnswer('the piece is too small for this scale: the loss in water is mostly reading error');
  return answer(between(best - 2 * u, best + 2 * u, best), [
    ...water.assumed,
    assume(`air of ${airDensity} g/cm³`, 'OIML R 111 convention'),
    assume('no bubble, no hollow, and a wire too thin to matter', 'condition of the method'),
    ...(readingU > 0
      ? [
          assume(
            'bounds of two standard uncertainties: the last digit as typed, and 2 mg for the water on the thread',
            `GUM; the thread ${FROM_MEMORY}`,
          ),
        ]
      : []),
  ]);
}

/**
 * Share of the heavy part by mass, 0 to 1, in a mixture of two whose densities are known, all in one unit:
 * w = ρH (ρ − ρL)/(ρ (ρH − ρL)). No answer outside of the two densities.
 */
export function heavyFraction(density: number, heavy: number, light: number): Result<number> {
  if (!(density >= light && density <= heavy)) return noAnswer('the density lies outside of the two metals');
  return answer((heavy * (density - light)) / (density * (heavy - light)), [
    assume('volumes add up, no voids', BERINGER),
  ]);
}

/** Quartz without hollows, g/cm³: 2.6 (Beringer & Beringer 1904) to 2.65, the mineral (from memory). */
const QUARTZ: Estimate = { low: 2.6, best: 2.65, high: 2.65 };
/** Fineness of native gold, the rest silver: as the built-in placer gold has it, from memory. */
const NATIVE: Estimate = { low: 0.65, best: 0.85, high: 0.98 };

export interface GoldInQuartz {
  /** Of native gold and of quartz as taken for the best value, g/cm³. */
  readonly nativeDensity: number;
  readonly quartzDensity: number;
  /** Native gold as a fraction of the mass, and the gold in it. */
  readonly nativeFraction: Estimate;
  readonly goldFraction: Estimate;
}

/**
 * Gold of a piece that is native gold and quartz, by its density in g/cm³. With w of the mass native gold of density ρN, and the rest quartz of
 * ρQ, the volumes add up: 1/ρ = w/ρN + (1 − w)/ρQ, so w = ρN (ρ − ρQ)/(ρ (ρN − ρQ)). The gold is w times the fineness of the native gold, which
 * also gives ρN: 1/ρN = f/ρAu + (1 − f)/ρAg. The bounds are the ends of fineness, quartz and reading. No answer below quartz or above gold.
 */
export function goldInQuartz(density: Estimate): Result<GoldInQuartz> {
  const [gold, silver] = ['Au', 'Ag'].map((symbol) => densityOf(symbol) ?? 0) as [number, number];
  const native = (fineness: number): number => 1 / (fineness / gold + (1 - fineness) / silver);
  if (density.high < QUARTZ.low) return noAnswer('lighter than quartz: there is a hollow or a bubble');
  if (density.low > native(NATIVE.high)) return noAnswer('heavier than native gold: there is no room for quartz');
  const share = (at: number, fineness: number, quartz: number): number =>
    heavyFraction(held(at, quartz, native(fineness)), native(fineness), quartz).value ?? 0;
  const ends = [NATIVE.low, NATIVE.high].flatMap((fineness) =>
    [QUARTZ.low, QUARTZ.high].flatMap((quartz) =>
      [density.low, density.high].map((at) => ({ native: share(at, fineness, quartz), fineness })),
    ),
  );
  const best = share(density.best, NATIVE.best, QUARTZ.best);
  const spanned = (pick: (end: (typeof ends)[number]) => number, middle: number): Estimate =>
    between(Math.min(...ends.map(pick)), Math.max(...ends.map(pick)), middle);
  return answer(
    {
      nativeDensity: native(NATIVE.best),
      quartzDensity: QUARTZ.best,
      nativeFraction: spanned((end) => end.native, best),
      goldFraction: spanned((end) => end.native * end.fineness, best * NATIVE.best),
    },
    [
      assume('native gold and quartz alone, volumes add up, no hollow', BERINGER),
      assume(`quartz of ${QUARTZ.low} to ${QUARTZ.high} g/cm³`, `${BERINGER}; the top ${FROM_MEMORY}`),
      assume(
        `native gold of ${100 * NATIVE.low} to ${100 * NATIVE.high} % gold, the rest silver; the best value for ${100 * NATIVE.best} %`,
        FROM_MEMORY,
      ),
    ],
  );
}

/** How far gold found by density was off on published alloys, as a fraction of the mass: 11 thousandths on Au-Ag, 8 on Au-Cu. */
const METHOD_ERROR = 0.012;

export interface GoldByDensity {
  /** Gold as a fraction of the mass, 0 to 1; the best value where the silver to copper ratio is given. */
  readonly goldFraction: Estimate;
  /** If all the rest were silver, and if all the rest were copper. */
  readonly restSilver: number | undefined;
  readonly restCopper: number | undefined;
  readonly notes: readonly string[];
}

/**
 * Gold from a density in g/cm³. With three metals the density alone does not decide: the bounds are the rest all
 * silver (least gold) and all copper (most gold). `silverOfRest`, 0 to 1, is the share of silver in what is not gold,
 * where it is known; the bounds then close to the reading and the method. It never replaces an assay.
 */
export function goldByDensity(density: Estimate, silverOfRest?: number): Result<GoldByDensity> {
  const [gold, silver, copper] = ['Au', 'Ag', 'Cu'].map((symbol) => densityOf(symbol) ?? 0) as [number, number, number];
  if (density.high < copper) return noAnswer('lighter than copper: there are voids, or it is no gold alloy');
  if (density.low > gold) return noAnswer('heavier than gold: the weighing is off, or there is a heavier metal in it');
  const found = (at: number, rest: number): number => heavyFraction(held(at, rest, gold), gold, rest).value ?? 0;
  const restDensity =
    silverOfRest === undefined ? undefined : 1 / (silverOfRest / silver + (1 - silverOfRest) / copper);
  const least = found(density.low, restDensity ?? silver) - METHOD_ERROR;
  const most = found(density.high, restDensity ?? copper) + METHOD_ERROR;
  const middle = restDensity
    ? found(density.best, restDensity)
    : (found(density.best, silver) + found(density.best, copper)) / 2;
  return answer(
    {
      goldFraction: between(Math.max(0, least), Math.min(1, most), middle),
      restSilver: heavyFraction(density.best, gold, silver).value,
      restCopper: heavyFraction(density.best, gold, copper).value,
      notes: notesFor(density.best, gold),
    },
    densityAssumptions(silverOfRest),
  );
}

const held = (at: number, low: number, high: number): number => Math.min(high, Math.max(low, at));

/** Within this of gold's own density a filling of tungsten, 19.25 g/cm³ (from memory), cannot be told from gold. */
const TUNGSTEN_NEAR = 0.4;

function notesFor(density: number, gold: number): string[] {
  const notes = ['A hollow, a bubble or an inclusion of slag makes it read low; so does a plating over base metal.'];
  if (density > gold - TUNGSTEN_NEAR) notes.push('Tungsten is as heavy as gold: density cannot tell them apart.');
  return notes;
}

function densityAssumptions(silverOfRest: number | undefined): Assumption[] {
  const assumed = [
    assume('volumes add up, no voids', BERINGER),
    assume('± 12 thousandths for the method: measured Au-Ag and Au-Cu came out 8 to 11 off', ROSE),
  ];
  if (silverOfRest === undefined) {
    assumed.push(assume('the rest is silver, copper or both; zinc or nickel would put the gold higher', 'bounds'));
  } else {
    assumed.push(assume(`of what is not gold, ${silverOfRest} is silver and the rest copper`, 'as given'));
  }
  return assumed;
}

/** Mass of a round bead, g, by its diameter in mm and its density in g/cm³: π d³ ρ/6. A bead on a cupel is flatter. */
export const roundBeadGrams = (diameterMillimetres: number, gramsPerCubicCentimetre: number): number =>
  (Math.PI / 6) * (diameterMillimetres / 10) ** 3 * gramsPerCubicCentimetre;

/** Beads of one shape weigh as the cubes of their diameters (Plattner's rule, in Beringer & Beringer 1904). */
export const beadByDiameter = (knownMass: number, knownDiameter: number, diameter: number): number =>
  knownMass * (diameter / knownDiameter) ** 3;

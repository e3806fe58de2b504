/** Acid for silver and base metal, its gas, and silver brought back as chloride or on copper. */
import { massFraction, molarMass } from '../../vocabulary/compounds';
import { gasLitres } from '../gas';
import {
  type Assumption,
  ATOMIC_WEIGHTS,
  answer,
  assume,
  BERINGER,
  between,
  type Estimate,
  FROM_MEMORY,
  interpolate,
  noAnswer,
  type Result,
} from './result';

/** Specific gravity of nitric acid at 15 °C and its strength, HNO3 as a fraction by mass (Beringer & Beringer 1904). */
const NITRIC_TABLE: readonly (readonly [number, number])[] = [
  [1.1, 0.167],
  [1.152, 0.25],
  [1.251, 0.4],
  [1.317, 0.5],
  [1.323, 0.51],
  [1.374, 0.6],
  [1.405, 0.66],
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: a specific gravity of the table, no square root
  [1.414, 0.68],
  [1.423, 0.7],
];
const NITRIC_BACK = NITRIC_TABLE.map(([density, fraction]) => [fraction, density] as const);
const NITRIC_SOURCE = assume('strength by hydrometer at 15 °C', BERINGER);

/** Strength of nitric acid, HNO3 by mass 0 to 1, from its specific gravity at 15 °C, 1.100 to 1.423. */
export function nitricStrength(specificGravity: number): Result<number> {
  const fraction = interpolate(NITRIC_TABLE, specificGravity);
  return fraction === undefined ? noAnswer('the table goes from 1.100 to 1.423') : answer(fraction, [NITRIC_SOURCE]);
}

/** Density of nitric acid at 15 °C, g/mL, from its strength by mass, 0.167 to 0.70. */
export function nitricDensity(fraction: number): Result<number> {
  const density = interpolate(NITRIC_BACK, fraction);
  return density === undefined ? noAnswer('the table goes from 16.7 to 70 %') : answer(density, [NITRIC_SOURCE]);
}

/** An acid as it is in the bottle. */
export interface Acid {
  /** HNO3 by mass, 0 to 1. */
  readonly fraction: number;
  readonly gramsPerMillilitre: number;
}

/** HNO3 in so many mL of an acid, g. */
export const nitricGrams = (millilitres: number, { fraction, gramsPerMillilitre }: Acid): number =>
  millilitres * gramsPerMillilitre * fraction;

export const nitricMillilitres = (pureGrams: number, { fraction, gramsPerMillilitre }: Acid): number =>
  pureGrams / (fraction * gramsPerMillilitre);

/** Weight of an acid that holds so much HNO3; any one unit. */
export const acidWeight = (pureMass: number, fraction: number): number => pureMass / fraction;

/** `dilute` acid gives NO, `strong` acid gives NO2. */
export type Route = 'dilute' | 'strong';

/** Moles of HNO3 and of gas for a mole of metal. Equations from memory: 3Ag + 4HNO3, Ag + 2HNO3, 3Cu + 8HNO3, Cu + 4HNO3. */
const DISSOLVES: ReadonlyMap<
  string,
  Readonly<Record<Route, { readonly acid: number; readonly gas: number }>>
> = new Map([
  ['Ag', { dilute: { acid: 4 / 3, gas: 1 / 3 }, strong: { acid: 2, gas: 1 } }],
  ['Cu', { dilute: { acid: 8 / 3, gas: 2 / 3 }, strong: { acid: 4, gas: 2 } }],
  ['Pb', { dilute: { acid: 8 / 3, gas: 2 / 3 }, strong: { acid: 4, gas: 2 } }],
]);

/** Pure HNO3 for a metal by one of the two equations, g. */
export function nitricFor(metal: string, metalGrams: number, route: Route): Result<number> {
  const row = DISSOLVES.get(metal);
  if (!row) return noAnswer(`no equation for ${metal} in nitric acid`);
  return answer((metalGrams * row[route].acid * molarMass('HNO3')) / molarMass(metal), [EQUATIONS]);
}

const EQUATIONS = assume(
  'equations of silver, copper and lead with nitric acid',
  `${ATOMIC_WEIGHTS}; equations ${FROM_MEMORY}`,
);

export interface Dissolving {
  readonly route: Route;
  /** Acid as it is in the bottle, mL: from the dilute equation to half as much again as the strong one. */
  readonly millilitres: Estimate;
  /** Gas at 20 °C, L: NO by dilute acid, NO2 by strong. */
  readonly gasLitres: number;
  readonly gas: 'NO' | 'NO2';
  /** Room that so much NO2 must be thinned to, m³, to come to the ceiling of 5 ppm; NO turns to NO2 in air. */
  readonly airCubicMetres: number;
}

/** From this strength on the strong equation is taken for the best value. A guess between about 35 and 55 %. */
export const STRONG_FROM = 0.5;
/** What is really used, against the equation: from memory. */
const IN_EXCESS = { low: 1.05, high: 1.5 };
const NO2_CEILING_PPM = 5;

/** Acid to dissolve silver and base metal, g by element. Gold and the platinum metals are to be left out. */
export function dissolving(metalGrams: ReadonlyMap<string, number>, acid: Acid): Result<Dissolving> {
  if (!(acid.fraction > 0 && acid.gramsPerMillilitre > 0)) return noAnswer("the acid's strength is not known");
  const metals = [...metalGrams].filter(([, grams]) => grams > 0);
  const stranger = metals.find(([symbol]) => !DISSOLVES.has(symbol));
  if (stranger) return noAnswer(`no equation for ${stranger[0]} in nitric acid`);
  const route: Route = acid.fraction >= STRONG_FROM ? 'strong' : 'dilute';
  const pure = (by: Route): number =>
    metals.reduce((sum, [metal, grams]) => sum + (nitricFor(metal, grams, by).value ?? 0), 0);
  const volume = (grams: number): number => nitricMillilitres(grams, acid);
  const best = volume(pure(route)) * ((IN_EXCESS.low + IN_EXCESS.high) / 2);
  const millilitres = between(volume(pure('dilute')), volume(pure('strong')) * IN_EXCESS.high, best);
  const moles = metals.reduce(
    (sum, [metal, grams]) => sum + (grams * DISSOLVES.get(metal)![route].gas) / molarMass(metal),
    0,
  );
  const litres = gasLitres(moles, 20);
  return answer(
    {
      route,
      millilitres,
      gasLitres: litres,
      gas: route === 'strong' ? 'NO2' : 'NO',
      airCubicMetres: airToThin(litres, NO2_CEILING_PPM),
    },
    [EQUATIONS, assume('1.05 to 1.5 times the equation is used', FROM_MEMORY)],
  );
}

/** Moles of gas from a metal by one of the equations. */
export function gasMoles(metal: string, metalGrams: number, route: Route): Result<number> {
  const row = DISSOLVES.get(metal);
  if (!row) return noAnswer(`no equation for ${metal} in nitric acid`);
  return answer((metalGrams * row[route].gas) / molarMass(metal), [EQUATIONS]);
}

/** Air that so much gas must be spread in to come to a limit, m³. Gas in L, limit in ppm by volume. */
export const airToThin = (litres: number, limitPpm: number): number => (litres / limitPpm) * 1000;

/** Acid by a shop's own rates, mL: Σ grams × mL per gram. */
export const acidAtRates = (
  metals: readonly { readonly grams: number; readonly millilitresPerGram: number }[],
): number => metals.reduce((sum, { grams, millilitresPerGram }) => sum + grams * millilitresPerGram, 0);

/** Water for thinning an acid, g (and mL): by masses, since volumes shrink. Acid into water, never water into acid. */
export function waterToThin(millilitres: number, acid: Acid, toFraction: number): Result<number> {
  if (!(toFraction > 0 && toFraction <= acid.fraction)) return noAnswer('the acid is not that strong to begin with');
  const grams = millilitres * acid.gramsPerMillilitre;
  return answer((grams * acid.fraction) / toFraction - grams, [assume('acid and water by mass', 'balance of mass')]);
}

/** Silver in so much dry silver chloride, g. */
export const silverInChloride = (chlorideGrams: number): number => chlorideGrams * massFraction('AgCl', 'Ag');

/** Dry chloride from so much silver, g. */
export const chlorideOf = (silverGrams: number): number => silverGrams / massFraction('AgCl', 'Ag');

export interface SilverBack {
  /** Dry chloride, g, if all of it comes down. */
  readonly chlorideGrams: number;
  /** Common salt, g: by the equation, and up to a fifth over. */
  readonly saltGrams: Estimate;
  /** Copper that goes into solution if it is cemented instead, g: by the equation, and up to a fifth over. */
  readonly copperGrams: Estimate;
  /** Silver nitrate in the solution, g. */
  readonly nitrateGrams: number;
}

/** Means to bring so much dissolved silver back, g. Chloride throws lead and mercury down too (from memory). */
export function silverBack(silverGrams: number): Result<SilverBack> {
  if (!(silverGrams >= 0)) return noAnswer('a weight is below 0');
  const moles = silverGrams / molarMass('Ag');
  const from = (least: number): Estimate => ({ low: least, best: 1.1 * least, high: 1.2 * least });
  return answer(
    {
      chlorideGrams: moles * molarMass('AgCl'),
      saltGrams: from(moles * molarMass('NaCl')),
      copperGrams: from((moles / 2) * molarMass('Cu')),
      nitrateGrams: moles * molarMass('AgNO3'),
    },
    [
      assume('2Ag+ + Cu = 2Ag + Cu2+; Ag+ + Cl- = AgCl', `${ATOMIC_WEIGHTS}; equations ${FROM_MEMORY}`),
      assume('a tenth over, up to a fifth; free acid takes copper besides', FROM_MEMORY),
    ],
  );
}

/** Silver that so much copper brings down, g. */
export const silverOnCopper = (copperGrams: number): number => (copperGrams * 2 * molarMass('Ag')) / molarMass('Cu');

/** Silver that so much salt throws down as chloride, g. */
export const silverBySalt = (saltGrams: number): number => (saltGrams * molarMass('Ag')) / molarMass('NaCl');

export interface Parted {
  /** Gold as it comes out of the acid, dried and annealed, g, with the silver that stays in it. */
  readonly goldGrams: Estimate;
  readonly silverKeptGrams: Estimate;
  readonly silverDissolvedGrams: Estimate;
}

/** Silver kept by the gold after two acids, as a share of the gold: 0.05 to 0.12 %; the first acid alone leaves 3 to 4 times that. */
const KEPT_AFTER_TWO: Estimate = { low: 0.0005, best: 0.00085, high: 0.0012 };
const KEPT_AFTER_ONE: Estimate = { low: 0.0015, best: 0.003, high: 0.0048 };
/** Gold dissolved, as a share of it. */
const GOLD_DISSOLVED: Estimate = { low: 0.0001, best: 0.0002, high: 0.0003 };
/** Ratio of silver to gold under which parting is not to be trusted. */
const LEAST_RATIO = 1.7;

/** The most that annealed gold weighs after one acid, with the silver that stays in it, g. */
export const mostLeftByAcid = (goldGrams: number): number => goldGrams * (1 - GOLD_DISSOLVED.low + KEPT_AFTER_ONE.high);

/** What parting gives from an alloy of gold and silver, g. No answer below 1.7 of silver to 1 of gold: inquart first. */
export function parted(goldGrams: number, silverGrams: number, acids: 1 | 2 = 2): Result<Parted> {
  if (!(goldGrams > 0)) return noAnswer('there is no gold to part');
  if (silverGrams < LEAST_RATIO * goldGrams)
    return noAnswer('under 1.7 of silver to 1 of gold much silver stays: inquart first');
  const share = acids === 2 ? KEPT_AFTER_TWO : KEPT_AFTER_ONE;
  const kept = { low: share.low * goldGrams, best: share.best * goldGrams, high: share.high * goldGrams };
  const gold: Estimate = {
    best: goldGrams * (1 - GOLD_DISSOLVED.best) + kept.best,
    low: goldGrams * (1 - GOLD_DISSOLVED.high) + kept.low,
    high: goldGrams * (1 - GOLD_DISSOLVED.low) + kept.high,
  };
  const silverDissolvedGrams = between(silverGrams - kept.high, silverGrams - kept.low, silverGrams - kept.best);
  return answer({ goldGrams: gold, silverKeptGrams: kept, silverDissolvedGrams }, PARTING_SOURCES);
}

const PARTING_SOURCES: readonly Assumption[] = [
  assume('silver kept 0.05 to 0.12 % after two acids, three to four times that after one', BERINGER),
  assume('gold dissolved 0.01 to 0.03 %', BERINGER),
  assume('no gold is lost as powder in the washing', 'to be watched above 3 of silver to 1 of gold'),
];

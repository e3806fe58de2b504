/** Gold dissolved by hydrochloric and nitric acid together: how much of either, the gas, what stays, and what brings the gold back. */
import { molarMass } from '../../vocabulary/compounds';
import { gasLitres } from '../gas';
import {
  type Answer,
  type Assumption,
  ATOMIC_WEIGHTS,
  answer,
  assume,
  COMMON_PRACTICE,
  type Estimate,
  exactly,
  FROM_MEMORY,
  noAnswer,
  type Result,
  sumOf,
  times,
} from './result';
import { airToThin, chlorideOf } from './wet';

/** Moles for a mole of metal. Chloride that it ends up with; electrons that nitric acid takes from it. */
interface Dissolves {
  readonly chloride: number;
  readonly electrons: number;
}

/**
 * Equations from memory: Au + HNO3 + 4 HCl = HAuCl4 + NO + 2 H2O, 3 Cu + 2 HNO3 + 6 HCl = 3 CuCl2 + 2 NO + 4 H2O,
 * 3 Ag + HNO3 + 3 HCl = 3 AgCl + NO + 2 H2O, 3 Pt + 4 HNO3 + 18 HCl = 3 H2PtCl6 + 4 NO + 8 H2O; with strong acid the gas is NO2, three for each NO.
 */
const DISSOLVES: ReadonlyMap<string, Dissolves> = new Map([
  ['Au', { chloride: 4, electrons: 3 }],
  ['Ag', { chloride: 1, electrons: 1 }],
  ['Cu', { chloride: 2, electrons: 2 }],
  ['Pb', { chloride: 2, electrons: 2 }],
  ['Pd', { chloride: 4, electrons: 2 }],
  ['Pt', { chloride: 6, electrons: 4 }],
]);

export interface AquaRegia {
  /** Pure HCl and HNO3, g: from the equation on. */
  readonly hydrochloricGrams: Estimate;
  readonly nitricGrams: Estimate;
  /** As NO, or as NO2 where the acid stays strong, L at 20 °C; NO turns to NO2 in air. */
  readonly gasLitres: Estimate;
  /** Room that so much NO2 must be thinned to, m³, to come to the ceiling of 5 ppm. */
  readonly airCubicMetres: Estimate;
  /** Silver that stays as chloride, g, dry. */
  readonly chlorideGrams: Estimate;
}

/** Hydrochloric acid against the equation: much of it fumes off and is carried away. From memory. */
export const HYDROCHLORIC_EXCESS: Estimate = { low: 1.1, best: 1.7, high: 2.3 };
/** Nitric acid against the equation with NO: up to three times where it leaves as NO2. Small portions keep it low. From memory. */
export const NITRIC_EXCESS: Estimate = { low: 1, best: 1.5, high: 3 };
/** Moles of gas for a mole of electrons: a third as NO, a whole as NO2. */
const GAS: Estimate = { low: 1 / 3, best: 1 / 2, high: 1 };
const NO2_CEILING_PPM = 5;

const moles = (metalGrams: ReadonlyMap<string, Estimate>, pick: (row: Dissolves) => number): Estimate =>
  sumOf([...metalGrams].map(([metal, grams]) => times(grams, pick(DISSOLVES.get(metal)!) / molarMass(metal))));

/** Acids for gold and what is with it, g by element; base metal is to be given as copper. */
export function aquaRegia(metalGrams: ReadonlyMap<string, Estimate>): Result<AquaRegia> {
  const stranger = [...metalGrams.keys()].find((metal) => !DISSOLVES.has(metal));
  if (stranger) return noAnswer(`no equation for ${stranger} in aqua regia`);
  const electrons = moles(metalGrams, (row) => row.electrons);
  const gas = gasFrom(electrons);
  const silver = metalGrams.get('Ag') ?? exactly(0);
  return answer(
    {
      hydrochloricGrams: times(times(moles(metalGrams, chlorideOfRow), molarMass('HCl')), HYDROCHLORIC_EXCESS),
      nitricGrams: times(times(electrons, molarMass('HNO3') / 3), NITRIC_EXCESS),
      gasLitres: gas,
      airCubicMetres: times(gas, airToThin(1, NO2_CEILING_PPM)),
      chlorideGrams: times(silver, chlorideOf(1)),
    },
    [EQUATIONS, EXCESS],
  );
}

const chlorideOfRow = ({ chloride }: Dissolves): number => chloride;

const gasFrom = (electrons: Estimate): Estimate => {
  const gas = times(electrons, GAS);
  return { low: gasLitres(gas.low, 20), best: gasLitres(gas.best, 20), high: gasLitres(gas.high, 20) };
};

const EQUATIONS: Assumption = assume(
  'Au + HNO3 + 4 HCl = HAuCl4 + NO + 2 H2O, and the like for copper, lead and silver; silver stays as chloride',
  `${ATOMIC_WEIGHTS}; equations ${FROM_MEMORY}`,
);
const EXCESS: Assumption = assume(
  '1.1 to 2.3 times the hydrochloric acid of the equation; nitric acid once, and up to three times where it leaves as NO2',
  FROM_MEMORY,
);

/** Pure HCl and HNO3 of the equation for a gram of a metal, g: the least with NO. */
export const acidPerGram = (metal: string): { readonly hydrochloric: number; readonly nitric: number } | undefined => {
  const row = DISSOLVES.get(metal);
  return (
    row && {
      hydrochloric: (row.chloride * molarMass('HCl')) / molarMass(metal),
      nitric: (row.electrons * molarMass('HNO3')) / 3 / molarMass(metal),
    }
  );
};

/** HCl that gold and silver hold in their chlorides alone, AuCl3 and AgCl, g: with less they cannot all be taken. Base metal may go as nitrate. */
export const chlorideHeld = (goldGrams: number, silverGrams: number): Answer<number> =>
  answer(molarMass('HCl') * ((3 * goldGrams) / molarMass('Au') + silverGrams / molarMass('Ag')), [EQUATIONS]);

/** From this share of silver on its chloride coats the metal before the acid is through. */
export const COATS_FROM = 0.1;
export const COATS: Assumption = assume(
  'above about a tenth of silver its chloride coats the metal and stops the acid',
  COMMON_PRACTICE,
);

export interface GoldBack {
  readonly what: string;
  /** By the equation, and up to half over. g. */
  readonly grams: Estimate;
}

/** Moles of what throws gold down, for a mole of it: 3 Fe2+, 3/4 S2O5 2−, 3/2 C2O4 2−. Equations from memory. */
const DROPS: readonly (readonly [string, string, number])[] = [
  ['copperas', 'FeSO4·7H2O', 3],
  ['metabisulphite', 'Na2S2O5', 0.75],
  ['oxalic-acid', 'H2C2O4·2H2O', 1.5],
];

/** What brings so much gold out of its chloride, one of them; nitric acid that is left takes of it first. */
export const goldBack = (gold: Estimate): Answer<readonly GoldBack[]> =>
  answer(
    DROPS.map(([what, formula, each]) => ({
      what,
      grams: times(times(gold, (each * molarMass(formula)) / molarMass('Au')), { low: 1, best: 1.2, high: 1.5 }),
    })),
    [
      assume(
        'Au3+ takes three electrons: 3 of ferrous sulphate, 3/4 of metabisulphite or 3/2 of oxalic acid; up to half over',
        `${ATOMIC_WEIGHTS}; equations ${FROM_MEMORY}`,
      ),
    ],
  );

/** Nitric acid for parting: by volume of the shop's own bottle, thinned as it is used; and the least that the nitrates hold. */
import { molarMass } from '../../vocabulary/compounds';
import {
  type Answer,
  type Assumption,
  ATOMIC_WEIGHTS,
  answer,
  assume,
  COMMON_PRACTICE,
  type Estimate,
  FROM_MEMORY,
  type Result,
  times,
} from './result';
import { type Acid, type Dissolving, dissolving, nitricGrams, STRONG_FROM } from './wet';

export interface AcidWanted {
  /** As it is in the bottle, mL. */
  readonly acidMillilitres: Estimate;
  /** Water to go with it, mL; none where the acid is weak enough. */
  readonly waterMillilitres: Estimate;
  /** As used, HNO3 by mass, 0 to 1. */
  readonly usedFraction: number;
  readonly gas: Dissolving['gas'];
  readonly gasLitres: Estimate;
  readonly airCubicMetres: Estimate;
}

/** From this strength on acid is thinned with as much water by volume. */
const THINNED_FROM = 0.5;
const WATER_GRAMS_PER_MILLILITRE = 0.998;

/** Thinned with its own volume of water, where it is strong; masses add, volumes shrink a little, which is not counted. */
export function thinned(acid: Acid): Acid {
  if (acid.fraction < THINNED_FROM) return acid;
  const grams = acid.gramsPerMillilitre + WATER_GRAMS_PER_MILLILITRE;
  return { fraction: (acid.gramsPerMillilitre * acid.fraction) / grams, gramsPerMillilitre: grams / 2 };
}

/** So many grams of acid with so many of water; volumes shrink a little, which is not counted. */
export function mixed(acid: Acid, acidGrams: number, waterGrams: number): Acid {
  if (!(acidGrams > 0 && waterGrams > 0)) return acid;
  const millilitres = acidGrams / acid.gramsPerMillilitre + waterGrams / WATER_GRAMS_PER_MILLILITRE;
  const grams = acidGrams + waterGrams;
  return { fraction: (acid.fraction * acidGrams) / grams, gramsPerMillilitre: grams / millilitres };
}

/** Acid and water for so much silver, copper and lead, g; `used` as it stands on the metal, thinned where nobody says. */
export function acidFor(
  metalGrams: ReadonlyMap<string, Estimate>,
  acid: Acid,
  used = thinned(acid),
): Result<AcidWanted> {
  const at = (end: keyof Estimate): Result<Dissolving> =>
    dissolving(new Map([...metalGrams].map(([metal, grams]) => [metal, grams[end]])), used);
  const [low, best, high] = [at('low'), at('best'), at('high')];
  if (low.value === undefined) return low;
  if (best.value === undefined) return best;
  if (high.value === undefined) return high;
  const bottle = nitricGrams(1, used) / nitricGrams(1, acid);
  const wanted = times(
    { low: low.value.millilitres.low, best: best.value.millilitres.best, high: high.value.millilitres.high },
    bottle,
  );
  const acidMillilitres = covering(wanted);
  const of = (pick: (one: Dissolving) => number): Estimate => ({
    low: pick(low.value),
    best: pick(best.value),
    high: pick(high.value),
  });
  return answer(
    {
      acidMillilitres,
      waterMillilitres: times(acidMillilitres, waterPerMillilitre(acid, used)),
      usedFraction: used.fraction,
      gas: best.value.gas,
      gasLitres: of(({ gasLitres }) => gasLitres),
      airCubicMetres: of(({ airCubicMetres }) => airCubicMetres),
    },
    [
      ...best.assumed,
      ...(wanted.best < COVER_MILLILITRES ? [COVERS] : []),
      used.fraction >= STRONG_FROM ? ROUTE_STRONG : ROUTE_DILUTE,
      ...(used.fraction < acid.fraction ? [THINNED] : []),
    ],
  );
}

/** Water to a mL of the acid, mL, that makes it as it is used. */
const waterPerMillilitre = ({ fraction, gramsPerMillilitre }: Acid, used: Acid): number =>
  (gramsPerMillilitre * (fraction / used.fraction - 1)) / WATER_GRAMS_PER_MILLILITRE;

const percentStrong = `${Math.round(100 * STRONG_FROM)} %`;
const ROUTE_STRONG = assume(
  `from ${percentStrong} of HNO3 on the equation with NO2; as the acid is used up it thins, and gives less of it`,
  FROM_MEMORY,
);
const ROUTE_DILUTE = assume(
  `below ${percentStrong} of HNO3 the equation with NO, which turns to NO2 in air`,
  FROM_MEMORY,
);

/** So much stands over the smallest bead in its cup, whatever it dissolves. */
const COVER_MILLILITRES = 5;
const COVERS: Assumption = assume(`${COVER_MILLILITRES} mL at least, to cover the metal`, COMMON_PRACTICE);

const covering = ({ low, best, high }: Estimate): Estimate => ({
  low: Math.max(COVER_MILLILITRES, low),
  best: Math.max(COVER_MILLILITRES, best),
  high: Math.max(COVER_MILLILITRES, high),
});

const THINNED: Assumption = assume('thinned: acid into water, never water into acid', COMMON_PRACTICE);

/** Moles of nitrate that a mole of the dissolved metal holds. */
const NITRATE: ReadonlyMap<string, number> = new Map([
  ['Ag', 1],
  ['Cu', 2],
  ['Pb', 2],
]);

/** Pure HNO3 that ends up in the nitrates alone, g: less than it cannot be, however much of the gas the acid takes back. */
export function acidInNitrates(metalGrams: ReadonlyMap<string, number>): Answer<number> {
  const moles = [...metalGrams].reduce(
    (sum, [metal, grams]) => sum + ((NITRATE.get(metal) ?? 0) * grams) / molarMass(metal),
    0,
  );
  return answer(moles * molarMass('HNO3'), [
    assume('silver holds one nitrate, copper and lead two', `${ATOMIC_WEIGHTS}; formulas ${FROM_MEMORY}`),
  ]);
}

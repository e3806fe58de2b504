/** What a cupel can drink, how many are wanted, and at what heat it works. */

import { oxidePerMetal } from './oxidation';
import {
  type Answer,
  type Assumption,
  ATOMIC_WEIGHTS,
  answer,
  assume,
  BERINGER,
  type Estimate,
  FROM_MEMORY,
  ISO_11426,
  noAnswer,
  over,
  type Result,
  ROSE,
  sumOf,
  times,
} from './result';

/** Litharge that a cupel takes up, g per g of it. */
export interface CupelBody {
  readonly material: string;
  readonly takes: Estimate;
  readonly source: string;
}

const SPREAD = `spread of about a fifth ${FROM_MEMORY}`;

export const CUPEL_BODIES: readonly CupelBody[] = [
  {
    material: 'bone-ash',
    takes: { low: 0.8, best: 1, high: 1.1 },
    source: `its own weight: Villavecchia, Treatise on Applied Analytical Chemistry; ${SPREAD}`,
  },
  {
    material: 'magnesia',
    takes: { low: 0.55, best: 2 / 3, high: 0.75 },
    source: `two thirds of its weight: a supplier's page repeating a textbook; ${SPREAD}`,
  },
  {
    material: 'cement',
    takes: { low: 0.6, best: 0.75, high: 0.85 },
    source: `three quarters of its weight: a supplier's page repeating a textbook; ${SPREAD}`,
  },
];

const BY_MATERIAL: ReadonlyMap<string, CupelBody> = new Map(CUPEL_BODIES.map((body) => [body.material, body]));

/** Litharge that lead becomes, g per g. */
const PER_LEAD = oxidePerMetal('Pb', 'PbO').value ?? 1;

/** Litharge from so much lead, g. */
export const lithargeFrom = (leadGrams: number): number => leadGrams * PER_LEAD;

/** The same for a cupel whose own uptake was found, g of litharge per g. */
export function cupelHoldsAt(cupelGrams: number, takes: Estimate, source = 'as given'): Answer<Estimate> {
  return answer(times(over(takes, PER_LEAD), cupelGrams), [assume('what a cupel takes up', source)]);
}

/** Oxides that base metals go into the cupel as. Zinc, tin and antimony partly leave as fume or scoria. */
const OXIDE_OF: ReadonlyMap<string, string> = new Map([
  ['Pb', 'PbO'],
  ['Cu', 'CuO'],
  ['Bi', 'Bi2O3'],
  ['Zn', 'ZnO'],
  ['Sb', 'Sb2O3'],
  ['Ni', 'NiO'],
  ['Sn', 'SnO2'],
  ['Fe', 'Fe2O3'],
  ['Cd', 'CdO'],
  ['As', 'As2O3'],
  ['Te', 'TeO2'],
]);

/** The oxide that a base metal goes into the cupel as, and g of it from a gram of the metal; undefined for other metals. */
export const cupelOxide = (metal: string): { readonly oxide: string; readonly perGram: number } | undefined => {
  const oxide = OXIDE_OF.get(metal);
  return oxide === undefined ? undefined : { oxide, perGram: oxidePerMetal(metal, oxide).value ?? 1 };
};

/** What a cupel of a body takes up, g of litharge per g; from the least to the most of all where the body is not known. */
export const takenUpBy = (material: string | undefined): Estimate =>
  (BY_MATERIAL.get(material ?? '') ?? ANY_BODY).takes;

const FUMING: ReadonlySet<string> = new Set(['Zn', 'Cd', 'Sb', 'As', 'Bi', 'Te']);

/** Oxides of lead and base metal for a cupel, g, by grams of each metal. An upper bound where metals fume. */
export function oxidesToDrink(metalGrams: ReadonlyMap<string, number>): Result<Estimate> {
  const stranger = [...metalGrams.keys()].find((symbol) => !OXIDE_OF.has(symbol));
  if (stranger) return noAnswer(`${stranger} does not go into a cupel as an oxide that is reckoned here`);
  const parts = [...metalGrams].map(([metal, grams]): Estimate => {
    const oxide = grams * cupelOxide(metal)!.perGram;
    return { best: oxide, high: oxide, low: FUMING.has(metal) ? 0 : oxide };
  });
  return answer(sumOf(parts), [
    assume('oxides by formula; zinc, antimony, bismuth and their like partly fume', ATOMIC_WEIGHTS),
  ]);
}

export interface CupelLoad {
  readonly oxideGrams: Estimate;
  /** Share of what the cupel can take up. */
  readonly share: Estimate;
  readonly verdict: 'fits' | 'nearly full' | 'may be too much' | 'too much';
  /** Cupels like these that it takes, none above nine tenths, by the best value. */
  readonly cupels: number;
}

/** From this share on a cupel is near its end: common practice, no source. */
export const NEARLY_FULL = 0.9;

/** A cupel as it stands in the muffle. */
export interface CupelGiven {
  readonly grams: number;
  /** Undefined where nobody says what it is made of. */
  readonly material: string | undefined;
}

/** How much of a cupel a button and its lead will take up. Metals in g by element, gold and silver left out. */
export function cupelLoad(
  metalGrams: ReadonlyMap<string, number>,
  cupelGrams: number,
  material: string,
): Result<CupelLoad> {
  if (!BY_MATERIAL.has(material)) return noAnswer(`how much a cupel of ${material} takes up is not known`);
  const oxides = oxidesToDrink(metalGrams);
  if (oxides.value === undefined) return oxides;
  const load = loadOn(oxides.value, [{ grams: cupelGrams, material }]);
  return load.value === undefined ? load : answer(load.value, [...oxides.assumed, ...load.assumed]);
}

/** Of a body that nobody names, or that no book tells of: from the least to the most of those that are known. */
const ANY_BODY: CupelBody = {
  material: 'unknown',
  takes: {
    low: Math.min(...CUPEL_BODIES.map(({ takes }) => takes.low)),
    best: 0.75,
    high: Math.max(...CUPEL_BODIES.map(({ takes }) => takes.high)),
  },
  source: 'its body is not known: from the least of magnesia to the most of bone ash',
};

/** How far cupels are filled by so much oxide, g; several share it by what they take up. */
export function loadOn(oxideGrams: Estimate, cupels: readonly CupelGiven[]): Result<CupelLoad> {
  if (cupels.length === 0 || !cupels.every(({ grams }) => grams > 0)) return noAnswer('the cupel is not weighed');
  const bodies = cupels.map(({ material }) => BY_MATERIAL.get(material ?? '') ?? ANY_BODY);
  const share = over(oxideGrams, sumOf(cupels.map(({ grams }, at) => times(bodies[at]!.takes, grams))));
  const load = {
    oxideGrams,
    share,
    verdict: verdictOf(share),
    cupels: Math.max(1, Math.ceil((cupels.length * share.best) / NEARLY_FULL - 1e-9)),
  };
  return answer(
    load,
    [...new Set(bodies)].map(({ material, source }) => assume(`what a cupel of ${material} takes up`, source)),
  );
}

function verdictOf(share: Estimate): CupelLoad['verdict'] {
  if (share.low > 1) return 'too much';
  if (share.best > 1) return 'may be too much';
  return share.best > NEARLY_FULL ? 'nearly full' : 'fits';
}

export type CupelStage = 'opening' | 'driving' | 'finish' | 'jewellery assay';

/** Heat of the muffle by stage, °C. */
export const CUPEL_HEAT: ReadonlyMap<
  CupelStage,
  { readonly low: number; readonly high: number; readonly source: string }
> = new Map([
  [
    'opening',
    { low: 840, high: 950, source: `a cupel takes up litharge only from about 840: ${ROSE}; the top ${FROM_MEMORY}` },
  ],
  ['driving', { low: 770, high: 900, source: `${ROSE}; the top ${FROM_MEMORY}` }],
  ['finish', { low: 910, high: 1000, source: `910 or more: ${ROSE}; the top ${FROM_MEMORY}` }],
  ['jewellery assay', { low: 1050, high: 1150, source: ISO_11426 }],
] satisfies [CupelStage, { low: number; high: number; source: string }][]);

/** Lowest heat at which a cupel takes up litharge, °C. */
export const ABSORBS_FROM_CELSIUS = CUPEL_HEAT.get('opening')!.low;

export interface HeatVerdict {
  readonly verdict: 'too cold' | 'right' | 'too hot';
  readonly does: string;
}

const TOO_COLD: ReadonlyMap<CupelStage, string> = new Map([
  ['opening', 'the lead does not uncover, or the litharge is not taken up'],
  ['driving', 'the button freezes, and litharge stays on it'],
  ['finish', 'the bead keeps lead'],
  ['jewellery assay', 'the bead keeps lead or copper'],
]);

/** A logged heat against the stage's window, with the stage's effects. Magnesia wants more heat than bone ash. */
export function cupelHeat(stage: CupelStage, celsius: number): Answer<HeatVerdict> {
  const window = CUPEL_HEAT.get(stage)!;
  const sources = [assume(`${window.low} to ${window.high} °C`, window.source)];
  if (celsius < window.low) return answer({ verdict: 'too cold', does: TOO_COLD.get(stage) ?? '' }, sources);
  if (celsius > window.high)
    return answer({ verdict: 'too hot', does: 'silver is lost with the fume and into the cupel' }, sources);
  return answer({ verdict: 'right', does: '' }, sources);
}

/** What a bead or a cupel shows of what went wrong. */
export interface Sign {
  readonly sign: string;
  readonly means: string;
  readonly source: string;
}

const sign = (seen: string, means: string, source = BERINGER): Sign => ({ sign: seen, means, source });

export const SIGNS: readonly Sign[] = [
  sign('the bead spreads and sticks to a blackened cupel', 'copper is left: too little lead'),
  sign('the bead is globular and rounder below', 'lead is left'),
  sign('the surface is dull and crystalline', 'platinum in the bead'),
  sign('the bead is yellow', 'more than half gold'),
  sign('the cupel is cracked and unfolded', 'antimony'),
  sign('the cupel is greenish to black', 'copper'),
  sign('the cupel is dark green and corroded', 'iron'),
  sign('rings of pale scoria', 'tin, zinc, arsenic or antimony'),
  sign(
    'the bead sprouted',
    'oxygen left the silver as it froze: cool slowly and cover; the risk fades above 30 % gold',
  ),
];

/** Least and most that a cupel gains by what went into it, against what it weighed: a gain beyond it is metal or damp. */
export function expectedGain(metalGrams: ReadonlyMap<string, number>, goldSilverLostGrams: Estimate): Result<Estimate> {
  const oxides = oxidesToDrink(metalGrams);
  if (oxides.value === undefined) return oxides;
  const fume: Estimate = { low: 0.85, best: 0.97, high: 1 };
  const assumed: Assumption[] = [...oxides.assumed, assume('up to 15 % of the litharge leaves as fume', FROM_MEMORY)];
  return answer(sumOf([times(oxides.value, fume), goldSilverLostGrams]), assumed);
}

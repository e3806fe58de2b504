/** What to add to a charge so that its slag comes to a wanted silicate degree, and what flux a feed wants to begin with. */
import { massFraction, molarMass, parseFormula } from '../../vocabulary/compounds';
import { material } from '../../vocabulary/materials';
import type { ChargeItem } from '../gas';
import { CHLORIDE_ASSUMED, chlorideGrams, SODA_PER_CHLORIDE, sodaForChloride } from './chloride';
import {
  answer,
  assume,
  BERINGER,
  COMMON_PRACTICE,
  type Estimate,
  exactly,
  FROM_MEMORY,
  noAnswer,
  over,
  type Result,
  sumOf,
  times,
} from './result';
import { pureItem, type Slag, shareOf, slagOf } from './slag';

/** Preferred degrees of an assay slag: mono- to sesquisilicate, more rarely bisilicate (Fulton, A Manual of Fire Assaying). */
export const PREFERRED_DEGREE: Estimate = { low: 1, best: 1.5, high: 2 };

export interface Adjustment {
  /** One of the two is above 0, or neither: the slag is too basic, or too acid, or right. g. */
  readonly silicaGrams: Estimate;
  readonly sodaAshGrams: Estimate;
  /** The same soda as bicarbonate, g. */
  readonly bicarbonateGrams: Estimate;
}

/**
 * Silica or soda for a silicate degree K: SiO2 = 60.08 (K × base − acid)/2 g, or soda ash = 105.99 (acid/K − base) g,
 * with acid and base in mol of oxygen. The bounds come from what is not known of the charge.
 */
export function adjustTo(slag: Slag, degree: number): Result<Adjustment> {
  if (!(degree > 0)) return noAnswer('the silicate degree must be above 0');
  const { acidOxygen: acid, baseOxygen: base } = slag;
  const silica = (has: number, needs: number): number => Math.max(0, (molarMass('SiO2') * (degree * needs - has)) / 2);
  const soda = (has: number, needs: number): number => Math.max(0, molarMass('Na2CO3') * (has / degree - needs));
  const silicaGrams = spread(silica(acid.best, base.best), silica(acid.high, base.low), silica(acid.low, base.high));
  const sodaAshGrams = spread(soda(acid.best, base.best), soda(acid.low, base.high), soda(acid.high, base.low));
  return answer({ silicaGrams, sodaAshGrams, bicarbonateGrams: times(sodaAshGrams, BICARBONATE_PER_ASH) }, [
    ...slag.assumed,
    assume(`a slag of silicate degree ${degree}`, 'as asked'),
  ]);
}

const spread = (best: number, low: number, high: number): Estimate => ({ best, low, high });

/** Bicarbonate that does the work of 1 g soda ash, g. */
export const BICARBONATE_PER_ASH = (2 * molarMass('NaHCO3')) / molarMass('Na2CO3');

/** Soda ash that makes sodium silicate of so much silica, g, at a silicate degree: 1.76 g/g at 2. */
export function sodaAshForSilica(silicaGrams: number, degree = 2): number {
  return adjustTo(slagOf([pureItem('SiO2', silicaGrams)]), degree).value?.sodaAshGrams.best ?? 0;
}

/** Silica that borax glass stands for at a degree K, g: (6 − K)/2 mol for a mol, since it brings six acid oxygens and a base. */
export function silicaOfBoraxGlass(boraxGlassGrams: number, degree: number): number {
  return freeSilica([pureItem('Na2B4O7', boraxGlassGrams)], degree);
}

/** Silica that a flux has over for the bases of others at a degree K, g; below 0 when it wants silica itself. */
export function freeSilica(flux: readonly ChargeItem[], degree: number): number {
  const { acidOxygen, baseOxygen } = slagOf(flux);
  return (molarMass('SiO2') * (acidOxygen.best - degree * baseOxygen.best)) / 2;
}

/** Crushed soda-lime glass in place of so much silica, g; no answer at a degree where glass has no silica to spare. */
export function glassForSilica(silicaGrams: number, degree: number): Result<number> {
  const glass = material('glass');
  const spare = glass ? freeSilica([{ material: glass, massGrams: 1, u: 0 }], degree) : 0;
  if (spare <= 0.05) return noAnswer('glass has no silica to spare at that silicate degree');
  return answer(silicaGrams / spare, [assume('container glass', 'published soda-lime glass table')]);
}

/** Fused borax to dissolve ferrous oxide, g: about its own weight. */
export function boraxGlassForIron(ferrousOxideGrams: number): Result<Estimate> {
  return answer(times({ low: 0.8, best: 1, high: 1.2 }, ferrousOxideGrams), [
    assume('fused borax dissolves about its own weight of FeO', BERINGER),
    assume('a fifth either way', FROM_MEMORY),
  ]);
}

/** Flux, silicate of soda and borax together, for a part of iron oxide in a roasted concentrate. */
export const FLUX_PER_IRON_OXIDE: Estimate = { low: 3.5, best: 4, high: 4.5 };

/** Borax crystals that hold so much borax glass, g. */
export const boraxCrystals = (boraxGlassGrams: number): number =>
  (boraxGlassGrams * molarMass('Na2B4O7·10H2O')) / molarMass('Na2B4O7');

export interface FluxAdvice {
  readonly kind: 'clean metal' | 'slag-making feed';
  /** Decahydrate, as bought, g; half as much borax glass does the same. */
  readonly boraxCrystalsGrams: Estimate;
  readonly sodaAshGrams: Estimate;
  readonly silicaGrams: Estimate;
  /** Carbon for iron to its lower oxide, as charcoal, g. */
  readonly charcoalGrams: Estimate;
  /** The slag that feed and fluxes make together, by their best values. */
  readonly slag: Slag;
  /** What a slag-making charge is reckoned from; none for metal. */
  readonly sums?: FluxSums;
}

/** Best values. */
export interface FluxSums {
  /** Of the feed, g: iron as FeO; lime, magnesia, bone ash, alumina and titania; the rest without litharge. */
  readonly ironGrams: number;
  readonly refractoryGrams: number;
  readonly gangueGrams: number;
  /** Silver chloride, g, and the soda ash that it still wants. */
  readonly chlorideGrams: number;
  readonly chlorideSodaGrams: number;
  /** The charge with its borax and as much soda ash as FeO, before silica or more soda: mol of oxygen. */
  readonly acidOxygen: Estimate;
  readonly baseOxygen: Estimate;
}

/** Below this share of slag-makers the feed counts as clean metal; from this share of metal on what is not known of it is none. A guess. */
const CLEAN_BELOW = 0.05;
const CLEAN_FROM = 0.5;

export interface FluxOptions {
  /** What is charged beside the feed already and ends in the slag. */
  readonly beside?: readonly ChargeItem[];
  /** Bars, buttons, cut scrap: nothing but a cover is wanted. */
  readonly solid?: boolean;
  /** Lead that the litharge of feed and what is beside it gives up to what reduces it already, g. */
  readonly leadReducedGrams?: number;
}

/**
 * Fluxes for a feed. Solid metal: a cover. Clean metal: parts in a hundred from memory. Otherwise: borax as much as the iron oxide and a
 * fifth of the rest, soda as much as the iron oxide, then silica or more soda to a silicate degree of 1 to 2; its litharge brought down.
 * No answer for a feed with mercury, of sulphides (roast, niter or iron first) or of unknown make.
 */
export function fluxFor(
  feed: readonly ChargeItem[],
  degree: Estimate = PREFERRED_DEGREE,
  { beside = [], solid = false, leadReducedGrams = 0 }: FluxOptions = {},
): Result<FluxAdvice> {
  const feedGrams = feed.reduce((sum, { massGrams }) => sum + massGrams, 0);
  const own = slagOf(feed);
  if (feedGrams <= 0) return noAnswer('there is no feed');
  if (feed.some(({ material: each }) => shareOf(each, MERCURY) > 0))
    return noAnswer('there is mercury in the feed: retort it off first');
  if (own.unknownGrams > feedGrams / 2) return noAnswer('what the feed is made of is not known');
  if (own.sulphideGrams > feedGrams / 10)
    return noAnswer('the feed is of sulphides: roast it dead, or reckon niter or iron first');
  if (solid) return coverOnly(feed, feedGrams);
  const oxides = [...own.oxideGrams.values()].reduce((so, { best }) => so + best, 0);
  const isMetal = metalGrams(feed) >= CLEAN_FROM * feedGrams;
  // Half of what nobody knows counts as slag in an ore; in metal it is no slag to flux for.
  const isClean = (isMetal ? oxides : own.grams.best) < CLEAN_BELOW * feedGrams;
  return isClean ? cleanMetal(feed, feedGrams) : slagMaking(feed, own, degree, beside, leadReducedGrams);
}

/** Metal as such in a charge, g; what is not known counts as none. */
export const metalGrams = (charge: readonly ChargeItem[]): number =>
  charge.reduce(
    (sum, { material: { composition }, massGrams }) =>
      sum +
      massGrams *
        composition
          .filter(({ what }) => parseFormula(what)?.size === 1 && what !== 'C' && what !== 'S')
          .reduce((so, { fraction }) => so + fraction, 0),
    0,
  );

/** Borax glass for a part of solid metal. */
const COVER: Estimate = { low: 0.01, best: 0.02, high: 0.05 };

function coverOnly(feed: readonly ChargeItem[], grams: number): Result<FluxAdvice> {
  const borax = times(COVER, boraxCrystals(grams));
  return answer(
    {
      kind: 'clean metal',
      boraxCrystalsGrams: borax,
      sodaAshGrams: NOTHING,
      silicaGrams: NOTHING,
      charcoalGrams: NOTHING,
      slag: slagOf([...feed, ...fluxes(borax.best, 0, 0)]),
    },
    [assume('solid metal wants a cover only: borax glass 1 to 5 parts in a hundred', COMMON_PRACTICE)],
  );
}

const MERCURY: ReadonlySet<string> = new Set(['Hg']);

/** Parts for a part of clean gravity gold. */
const CLEAN_BORAX: Estimate = { low: 0.2, best: 0.4, high: 0.6 };
const CLEAN_SODA: Estimate = { low: 0.1, best: 0.2, high: 0.3 };
const CLEAN_SILICA: Estimate = { low: 0.05, best: 0.12, high: 0.2 };

function cleanMetal(feed: readonly ChargeItem[], grams: number): Result<FluxAdvice> {
  const ofChloride = SODA_PER_CHLORIDE * chlorideGrams(feed);
  const [borax, silica] = [times(CLEAN_BORAX, grams), times(CLEAN_SILICA, grams)];
  const soda = sumOf([times(CLEAN_SODA, grams), exactly(ofChloride)]);
  return answer(
    {
      kind: 'clean metal',
      boraxCrystalsGrams: borax,
      sodaAshGrams: soda,
      silicaGrams: silica,
      charcoalGrams: NOTHING,
      slag: slagOf([...feed, ...fluxes(borax.best, soda.best, silica.best)]),
    },
    [
      assume('parts for a hundred of clean gravity gold: borax 20 to 60, soda 10 to 30, silica 5 to 20', FROM_MEMORY),
      ...(ofChloride > 0 ? [CHLORIDE_ASSUMED] : []),
    ],
  );
}

const NOTHING: Estimate = { best: 0, low: 0, high: 0 };

const fluxes = (borax: number, soda: number, silica: number): ChargeItem[] => [
  pureItem('Na2B4O7·10H2O', borax),
  pureItem('Na2CO3', soda),
  pureItem('SiO2', silica),
];

/** Borax for a part of iron oxide and for a part of other gangue; a charge of Beringer's has 10 to 50 of quartz. */
export const BORAX_PER_IRON = { low: 0.8, best: 1.1, high: 2 };
export const BORAX_PER_GANGUE = { low: 0.1, best: 0.2, high: 0.5 };
/** Lime, bone ash and alumina melt with much borax only: a guess from memory. */
export const BORAX_PER_REFRACTORY = { low: 0.6, best: 0.9, high: 1.4 };
const REFRACTORY_OXIDES: readonly string[] = ['CaO', 'MgO', 'P2O5', 'Al2O3', 'TiO2'];

function slagMaking(
  feed: readonly ChargeItem[],
  own: Slag,
  degree: Estimate,
  beside: readonly ChargeItem[],
  reducedBeside: number,
): Result<FluxAdvice> {
  const grams = (oxide: string): number => own.oxideGrams.get(oxide)?.best ?? 0;
  const [iron, litharge] = [grams('FeO'), grams('PbO')];
  const refractory = REFRACTORY_OXIDES.reduce((sum, oxide) => sum + grams(oxide), 0);
  const gangue = Math.max(0, own.grams.best - iron - litharge - refractory);
  const borax = spread3(
    (end) => BORAX_PER_IRON[end] * iron + BORAX_PER_GANGUE[end] * gangue + BORAX_PER_REFRACTORY[end] * refractory,
  );
  const leadReducedGrams = litharge * LEAD_IN_LITHARGE;
  const slagWith = (soda: number, silica: number): Slag =>
    slagOf([...feed, ...beside, ...fluxes(borax.best, soda, silica)], {
      leadReducedGrams: Math.max(leadReducedGrams, reducedBeside),
    });
  const chlorideSodaGrams = sodaForChloride([...feed, ...beside]);
  const begun = slagWith(iron + chlorideSodaGrams, 0);
  const at = (wanted: number): Adjustment | undefined => adjustTo(begun, wanted).value;
  const [low, best, high] = [at(degree.low), at(degree.best), at(degree.high)];
  if (!low || !best || !high) return noAnswer('the silicate degree must be above 0');
  const silicaGrams = { low: low.silicaGrams.best, best: best.silicaGrams.best, high: high.silicaGrams.best };
  const more = { low: high.sodaAshGrams.best, best: best.sodaAshGrams.best, high: low.sodaAshGrams.best };
  const asBase = { low: iron * 0.6 + more.low, best: iron + more.best, high: iron * 1.5 + more.high };
  const sodaAshGrams = sumOf([asBase, exactly(chlorideSodaGrams)]);
  return answer(
    {
      kind: 'slag-making feed',
      boraxCrystalsGrams: borax,
      sodaAshGrams,
      silicaGrams,
      charcoalGrams: sumOf([charcoalForIron(feed), charcoalForLead(leadReducedGrams)]),
      slag: slagWith(sodaAshGrams.best, silicaGrams.best),
      sums: {
        ironGrams: iron,
        refractoryGrams: refractory,
        gangueGrams: gangue,
        chlorideGrams: chlorideGrams(feed),
        chlorideSodaGrams,
        acidOxygen: begun.acidOxygen,
        baseOxygen: begun.baseOxygen,
      },
    },
    [
      ...(iron > 0
        ? [assume('borax and soda about as much as the iron oxide each', `roasted concentrate, ${BERINGER}`)]
        : []),
      ...(gangue > 0 ? [assume('a fifth of the gangue as borax', `quartz charge, ${BERINGER}`)] : []),
      ...(refractory > 0.1 * own.grams.best
        ? [assume('lime, bone ash and alumina: about their own weight of borax', FROM_MEMORY)]
        : []),
      ...(chlorideSodaGrams > 0 ? [CHLORIDE_ASSUMED] : []),
      ...(litharge > 0 ? [assume('1 g charcoal brings down 22.6 g lead', BERINGER)] : []),
      assume(`silicate degree ${degree.low} to ${degree.high}`, 'C. H. Fulton, A Manual of Fire Assaying'),
    ],
  );
}

const spread3 = (of: (end: 'low' | 'best' | 'high') => number): Estimate => ({
  low: of('low'),
  best: of('best'),
  high: of('high'),
});

/** Carbon for 1 g of an iron oxide to FeO, g: Fe3O4 + ½C = 3FeO + ½CO2, Fe2O3 + ½C = 2FeO + ½CO2. */
export const CARBON_TO_FERROUS: ReadonlyMap<string, number> = new Map([
  ['Fe3O4', molarMass('C') / 2 / molarMass('Fe3O4')],
  ['Fe2O3', molarMass('C') / 2 / molarMass('Fe2O3')],
]);

/** Carbon in wood charcoal, as a share: the materials' own figure. */
const CHARCOAL_CARBON = material('charcoal')?.composition.find(({ what }) => what === 'C');

/** Carbon of any kind as charcoal, g for a gram. */
export const CHARCOAL_PER_CARBON = 1 / (CHARCOAL_CARBON?.fraction ?? 1);

/** Charcoal that brings the iron of a feed to its lower oxide, g; air and crucible may do part of it. */
export function charcoalForIron(feed: readonly ChargeItem[]): Estimate {
  let carbon = 0;
  for (const { material: of, massGrams } of feed)
    for (const { what, fraction } of of.composition)
      carbon += massGrams * fraction * (CARBON_TO_FERROUS.get(what) ?? 0);
  const { fraction, low = fraction, high = fraction } = CHARCOAL_CARBON ?? { fraction: 1 };
  return { best: carbon / fraction, low: carbon / high, high: carbon / low };
}

/** Charcoal that brings so much lead down, g: 22.6 g lead a gram (Beringer & Beringer 1904), 30 at the most (from memory). */
export const charcoalForLead = (leadGrams: number): Estimate => over(exactly(leadGrams), CHARCOAL_POWER);

const CHARCOAL_POWER: Estimate = { low: 22, best: 22.6, high: 30 };

/** Share of litharge that is lead, for turning a lead button into the litharge that it takes. */
export const LEAD_IN_LITHARGE = massFraction('PbO', 'Pb');
export const LEAD_IN_RED_LEAD = massFraction('Pb3O4', 'Pb');

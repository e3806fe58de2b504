/** What flux a feed wants. */
import { massFraction, molarMass, parseFormula } from '../../vocabulary/compounds';
import { material } from '../../vocabulary/materials';
import type { ChargeItem } from '../gas';
import { CHLORIDE_ASSUMED, chlorideGrams, SODA_PER_CHLORIDE, sodaForChloride } from './chloride';
import { adjustTo, type DegreeAim, USUAL_AIM } from './degree';
import {
  ATOMIC_WEIGHTS,
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
import { heldInCharge } from './together';

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
  readonly aim: DegreeAim;
  /** What a slag-making charge is reckoned from; none for metal. */
  readonly sums?: FluxSums;
  /** Of clean metal whose slag is to have a degree, the borax alone. */
  readonly borax?: Slag;
  /** Solid metal: a cover is all, of so much, g. */
  readonly coveredGrams?: number;
}

/** Best values. */
export interface FluxSums {
  /** Of the feed, g: iron as FeO; lime, magnesia, bone ash, alumina and titania; the rest without litharge. */
  readonly ironGrams: number;
  readonly refractoryGrams: number;
  readonly gangueGrams: number;
  /** Of the feed what nobody knows, g: half of it is among the rest. */
  readonly unknownGrams: number;
  /** Carbon that the iron wants, and lead of the feed's litharge, g. */
  readonly carbonGrams: number;
  readonly leadGrams: number;
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
 * fifth of the rest, soda as much as the iron oxide, then silica or more soda to the silicate degree; its litharge brought down.
 * No answer for a feed with mercury, of sulphides (roast, niter or iron first) or of unknown make.
 */
export function fluxFor(
  feed: readonly ChargeItem[],
  aim: DegreeAim = USUAL_AIM,
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
  if (solid) return coverOnly(feed, feedGrams + metalGrams(beside), aim);
  const oxides = [...own.oxideGrams.values()].reduce((so, { best }) => so + best, 0);
  const isMetal = metalGrams(feed) >= CLEAN_FROM * feedGrams;
  // Half of what nobody knows counts as slag in an ore; in metal it is no slag to flux for.
  const isClean = (isMetal ? oxides : own.grams.best) < CLEAN_BELOW * feedGrams;
  return isClean ? cleanMetal(feed, feedGrams, aim) : slagMaking(feed, own, aim, beside, leadReducedGrams);
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
export const COVER: Estimate = { low: 0.01, best: 0.02, high: 0.05 };

function coverOnly(feed: readonly ChargeItem[], grams: number, aim: DegreeAim): Result<FluxAdvice> {
  const borax = times(COVER, boraxCrystals(grams));
  return answer(
    {
      kind: 'clean metal',
      boraxCrystalsGrams: borax,
      sodaAshGrams: NOTHING,
      silicaGrams: NOTHING,
      charcoalGrams: NOTHING,
      slag: slagOf([...feed, ...fluxes(borax.best, 0, 0)]),
      aim,
      coveredGrams: grams,
    },
    [
      assume('solid metal wants a cover only: borax glass 1 to 5 parts in a hundred', COMMON_PRACTICE),
      ...(aim.chosen ? [assume('a cover is brought to no silicate degree', 'it is borax alone')] : []),
    ],
  );
}

const MERCURY: ReadonlySet<string> = new Set(['Hg']);

/** Parts for a part of clean gravity gold. */
export const CLEAN_BORAX: Estimate = { low: 0.2, best: 0.4, high: 0.6 };
export const CLEAN_SODA: Estimate = { low: 0.1, best: 0.2, high: 0.3 };
export const CLEAN_SILICA: Estimate = { low: 0.05, best: 0.12, high: 0.2 };

function cleanMetal(feed: readonly ChargeItem[], grams: number, aim: DegreeAim): Result<FluxAdvice> {
  const ofChloride = exactly(SODA_PER_CHLORIDE * chlorideGrams(feed));
  const borax = times(CLEAN_BORAX, grams);
  const begun = slagOf([pureItem(BORAX, borax.best)]);
  const own = aim.chosen ? toDegree(begun, aim) : undefined;
  const silica = own?.silicaGrams ?? times(CLEAN_SILICA, grams);
  const soda = sumOf([own?.sodaAshGrams ?? times(CLEAN_SODA, grams), ofChloride]);
  const parts = own
    ? [
        assume('for a hundred of clean gravity gold 20 to 60 of borax', FROM_MEMORY),
        assume(`soda or silica to a silicate degree of ${degreeWords(aim)}`, aim.source),
      ]
    : [assume('parts for a hundred of clean gravity gold: borax 20 to 60, soda 10 to 30, silica 5 to 20', FROM_MEMORY)];
  return answer(
    {
      kind: 'clean metal',
      boraxCrystalsGrams: borax,
      sodaAshGrams: soda,
      silicaGrams: silica,
      charcoalGrams: NOTHING,
      slag: slagOf([...feed, ...fluxes(borax.best, soda.best, silica.best)]),
      aim,
      ...(own ? { borax: begun } : {}),
    },
    [...parts, ...(ofChloride.best > 0 ? [CHLORIDE_ASSUMED] : [])],
  );
}

/** Silica or soda ash that brings a slag to its degree, g, from one end of the aim to the other. */
export const toDegree = (
  slag: Slag,
  { degree }: DegreeAim,
): { readonly silicaGrams: Estimate; readonly sodaAshGrams: Estimate } => {
  const at = (wanted: number) => adjustTo(slag, wanted).value!;
  const [low, best, high] = [at(degree.low), at(degree.best), at(degree.high)];
  return {
    silicaGrams: { low: low.silicaGrams.best, best: best.silicaGrams.best, high: high.silicaGrams.best },
    sodaAshGrams: { low: high.sodaAshGrams.best, best: best.sodaAshGrams.best, high: low.sodaAshGrams.best },
  };
};

const degreeWords = ({ degree: { low, high } }: DegreeAim): string => (low < high ? `${low} to ${high}` : `${low}`);

const BORAX = 'Na2B4O7·10H2O';
const NOTHING: Estimate = { best: 0, low: 0, high: 0 };

const fluxes = (borax: number, soda: number, silica: number): ChargeItem[] => [
  pureItem(BORAX, borax),
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
  aim: DegreeAim,
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
  const { silicaGrams, sodaAshGrams: more } = toDegree(begun, aim);
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
      aim,
      sums: {
        ironGrams: iron,
        refractoryGrams: refractory,
        gangueGrams: gangue,
        unknownGrams: own.unknownGrams,
        carbonGrams: carbonForIron(feed).best,
        leadGrams: leadReducedGrams,
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
      ...(carbonForIron(feed).best > 0
        ? [
            assume(
              'carbon takes magnetite (0.026 g a gram) and ferric oxide (0.038 g) to FeO',
              `Fe3O4 + ½ C = 3 FeO + ½ CO2, Fe2O3 + ½ C = 2 FeO + ½ CO2; ${ATOMIC_WEIGHTS}`,
            ),
          ]
        : []),
      assume(`silicate degree ${degreeWords(aim)}`, aim.source),
    ],
  );
}

const spread3 = (of: (end: 'low' | 'best' | 'high') => number): Estimate => ({
  low: of('low'),
  best: of('best'),
  high: of('high'),
});

/** Carbon for 1 g of an iron oxide to FeO, g: Fe3O4 + ½C = 3FeO + ½CO2, Fe2O3 + ½C = 2FeO + ½CO2. */
const CARBON_TO_FERROUS: ReadonlyMap<string, number> = new Map([
  ['Fe3O4', molarMass('C') / 2 / molarMass('Fe3O4')],
  ['Fe2O3', molarMass('C') / 2 / molarMass('Fe2O3')],
]);

/** Carbon in wood charcoal, as a share: the materials' own figure. */
const CHARCOAL_CARBON = material('charcoal')?.composition.find(({ what }) => what === 'C');

/** Carbon of any kind as charcoal, g for a gram. */
export const CHARCOAL_PER_CARBON = 1 / (CHARCOAL_CARBON?.fraction ?? 1);

/** Charcoal that brings the iron of a feed to its lower oxide, g; air and crucible may do part of it. */
export function charcoalForIron(feed: readonly ChargeItem[]): Estimate {
  const carbon = carbonForIron(feed);
  const { fraction, low = fraction, high = fraction } = CHARCOAL_CARBON ?? { fraction: 1 };
  return over(carbon, { best: fraction, low, high });
}

const carbonForIron = (feed: readonly ChargeItem[]): Estimate =>
  heldInCharge(feed, (what) => CARBON_TO_FERROUS.get(what) ?? 0);

/** Charcoal that brings so much lead down, g: 22.6 g lead a gram (Beringer & Beringer 1904), 30 at the most (from memory). */
export const charcoalForLead = (leadGrams: number): Estimate => over(exactly(leadGrams), CHARCOAL_POWER);

const CHARCOAL_POWER: Estimate = { low: 22, best: 22.6, high: 30 };

/** Share of litharge that is lead, for turning a lead button into the litharge that it takes. */
export const LEAD_IN_LITHARGE = massFraction('PbO', 'Pb');
export const LEAD_IN_RED_LEAD = massFraction('Pb3O4', 'Pb');

/** The way to a flux, in figures that can be followed: from the oxides of the feed to borax, soda and silica. */
import { SODA_PER_CHLORIDE } from '../engine/bench/chloride';
import {
  BORAX_PER_GANGUE,
  BORAX_PER_IRON,
  BORAX_PER_REFRACTORY,
  CHARCOAL_PER_CARBON,
  CLEAN_BORAX,
  CLEAN_SILICA,
  CLEAN_SODA,
  COVER,
  type FluxAdvice,
  type FluxSums,
} from '../engine/bench/flux';
import { type Assumption, assume, type Estimate, exactly, type Result, times } from '../engine/bench/result';
import { type Slag, slagOf } from '../engine/bench/slag';
import { yieldsOf } from '../engine/bench/slag-oxides';
import type { ChargeItem } from '../engine/gas';
import { rawName } from '../engine/left-of';
import { massFraction, molarMass, parseFormula } from '../vocabulary/compounds';
import { material } from '../vocabulary/materials';
import type { Advice } from './advice';
import type { Job } from './job';
import type { Smelt } from './smelt';
import { bestWords, estimateWords, guessWords, termWords } from './words';

export const FLUX = 'flux';

/** Borax glass that holds as much borate as a gram of the crystals, g. */
export const GLASS_PER_CRYSTALS = massFraction('Na2B4O7·10H2O', 'B') / massFraction('Na2B4O7', 'B');

/** What the feed is made of: `  FeO  110 g (33..160) = 176 g × (0.5 Fe3O4 × 0.931 + 0.1 Fe2O3 × 0.900)`. */
export const feedRows = (feed: readonly ChargeItem[], { kind, sums }: FluxAdvice): readonly string[] => {
  const rows = feed.map(
    ({ material, massGrams }) => `${material.name.padEnd(19)} ${guessWords(exactly(massGrams), 'g').slice(1)}`,
  );
  if (kind === 'clean metal') return rows;
  const unknown = sums?.unknownGrams ?? 0;
  return [
    ...rows,
    ...[...slagOf(feed).oxideGrams].map(
      ([oxide, grams]) => `  ${oxide.padEnd(18)}${estimateWords(grams, 'g')} = ${feedTerms(feed, oxide)}`,
    ),
    ...(unknown > 0.005 ? [`  not named         ${bestWords(exactly(unknown), 'g')}, half of it counts as slag`] : []),
  ];
};

const feedTerms = (feed: readonly ChargeItem[], oxide: string): string =>
  feed
    .flatMap(({ material: { composition }, massGrams }) => {
      const terms = composition.flatMap(({ what, fraction }) => {
        const moles = yieldsOf(what).find(([formula]) => formula === oxide)?.[1];
        if (!moles) return [];
        const by = (moles * molarMass(oxide)) / molarMass(what);
        return [`${Number(fraction.toPrecision(3))} ${what}${what === oxide ? '' : ` × ${by.toFixed(3)}`}`];
      });
      const all = terms.join(' + ');
      return terms.length > 0 ? [`${termWords(massGrams, 'g')} × ${terms.length > 1 ? `(${all})` : all}`] : [];
    })
    .join(' + ');

/** Where the make of a feed is from. */
export const makeGround = (feed: readonly ChargeItem[]): readonly Assumption[] =>
  [...new Set(feed.map(({ material }) => material.name))].flatMap((name) => {
    if (name === 'metal' || parseFormula(name)) return [];
    const builtIn = material(rawName(name))?.source;
    return [assume(`what ${name} is made of`, builtIn ? `built in, ${builtIn}` : 'the workshop file and the notes')];
  });

/** Borax by the oxides, soda as the iron, then silica or more soda to the degree. */
export const fluxRows = ({
  sums,
  borax: alone,
  coveredGrams: covered,
  boraxCrystalsGrams: borax,
  sodaAshGrams: soda,
  silicaGrams: silica,
  aim: { degree },
}: FluxAdvice): readonly string[] => {
  if (covered !== undefined) {
    const glass = times(borax, GLASS_PER_CRYSTALS);
    return [`borax glass         ${COVER.best} × ${termWords(covered, 'g')} of metal = ${estimateWords(glass, 'g')}`];
  }
  if (alone) {
    const last =
      silica.best > 0
        ? `${silicaRow(alone, degree.best)} = ${estimateWords(silica, 'g')}`
        : `${sodaRow(alone, degree.best)} = ${estimateWords(soda, 'g')}`;
    return [
      `borax crystals      ${CLEAN_BORAX.best} × metal = ${estimateWords(borax, 'g')}`,
      `  as borax glass    × ${GLASS_PER_CRYSTALS.toFixed(3)} = ${termWords(borax.best * GLASS_PER_CRYSTALS, 'g')}`,
      `with the borax      ${oxygenWords(alone)}`,
      last,
    ];
  }
  if (!sums)
    return [
      `borax crystals      ${CLEAN_BORAX.best} × feed = ${estimateWords(borax, 'g')}`,
      `  as borax glass    × ${GLASS_PER_CRYSTALS.toFixed(3)} = ${termWords(borax.best * GLASS_PER_CRYSTALS, 'g')}`,
      `soda ash            ${CLEAN_SODA.best} × feed = ${estimateWords(soda, 'g')}`,
      `silica              ${CLEAN_SILICA.best} × feed = ${estimateWords(silica, 'g')}`,
    ];
  const asIron = sums.ironGrams > 0.005 || sums.chlorideSodaGrams > 0;
  const last =
    silica.best > 0
      ? `${silicaRow(sums, degree.best)} = ${estimateWords(silica, 'g')}`
      : `${sodaRow(sums, degree.best)}${asIron ? ' more, in all' : ' ='} ${estimateWords(soda, 'g')}`;
  return [
    `borax crystals      ${boraxTerms(sums)} = ${estimateWords(borax, 'g')}`,
    `  as borax glass    × ${GLASS_PER_CRYSTALS.toFixed(3)} = ${termWords(borax.best * GLASS_PER_CRYSTALS, 'g')}`,
    ...(asIron ? [`soda ash            as FeO, ${termWords(sums.ironGrams, 'g')}`] : []),
    ...(sums.chlorideSodaGrams > 0
      ? [
          `  for the chloride  ${SODA_PER_CHLORIDE.toFixed(3)} × ${termWords(sums.chlorideGrams, 'g')} = ${termWords(sums.chlorideSodaGrams, 'g')} more`,
        ]
      : []),
    `with all that       ${oxygenWords(sums)}`,
    last,
  ];
};

/** `charcoal            2.96 g carbon for the iron / 0.85 + 81 g lead / 22.6 = 6.7 g`. */
export const charcoalRow = ({ sums, charcoalGrams }: FluxAdvice): readonly string[] => {
  if (!sums) return [];
  const terms = [
    ...(sums.carbonGrams > 0
      ? [
          `${termWords(sums.carbonGrams, 'g')} carbon for the iron / ${Number((1 / CHARCOAL_PER_CARBON).toPrecision(3))}`,
        ]
      : []),
    ...(sums.leadGrams > 0 ? [`${termWords(sums.leadGrams, 'g')} lead / 22.6`] : []),
  ];
  return terms.length > 0 ? [`charcoal            ${terms.join(' + ')} = ${estimateWords(charcoalGrams, 'g')}`] : [];
};

const oxygenWords = ({ acidOxygen, baseOxygen }: Oxygen): string =>
  `${molWords(acidOxygen)} mol acid, ${molWords(baseOxygen)} mol base oxygen`;

const molWords = ({ best }: Estimate): string => termWords(best, '');

type Oxygen = Pick<Slag, 'acidOxygen' | 'baseOxygen'>;

/** Soda that a slag still wants for its degree, as a formula with its figures. */
export const sodaRow = ({ acidOxygen, baseOxygen }: Oxygen, degree: number): string =>
  `soda ash            ${molarMass('Na2CO3').toFixed(2)} × (${molWords(acidOxygen)} mol acid/${degree} − ${molWords(baseOxygen)} mol base)`;

/** Silica likewise. */
export const silicaRow = ({ acidOxygen, baseOxygen }: Oxygen, degree: number): string =>
  `silica              ${molarMass('SiO2').toFixed(2)} × (${degree} × ${molWords(baseOxygen)} mol base − ${molWords(acidOxygen)} mol acid)/2`;

const boraxTerms = ({ ironGrams, refractoryGrams, gangueGrams }: FluxSums): string => {
  const terms = [
    [BORAX_PER_IRON.best, ironGrams, 'FeO'],
    [BORAX_PER_REFRACTORY.best, refractoryGrams, 'lime, alumina, titania'],
    [BORAX_PER_GANGUE.best, gangueGrams, 'the rest'],
  ] as const;
  return terms
    .filter(([, grams]) => grams > 0.005)
    .map(([by, grams, of]) => `${by} × ${termWords(grams, 'g')} ${of}`)
    .join(' + ');
};

/** `slag of these 172 g, a gram of shop-flux leaves 0.86 g: 200 g`. */
export const recipeRow = (name: string, slag: Estimate, grams: Estimate): string =>
  `slag of all these   ${termWords(slag.best, 'g')}; a gram of ${name} leaves ${termWords(slag.best / grams.best, 'g')}`;

/** Nobody says what a lot is made of. */
export const notKnown = (job: Job, { unknown }: Smelt): Advice => {
  const names = unknown.map(({ flow }) => flow.lot?.name ?? 'the feed').join(' and ');
  const [first] = unknown;
  return {
    topic: FLUX,
    at: first?.flow.place ?? job.entry.head,
    label: `no flux: make of ${unknown[0]?.flow.lot?.name ?? 'feed'} not known`,
    short: 'make not known',
    rank: 'extra',
    working: () => ({
      says: `What ${names} is made of is not known, so no flux can be told.`,
      assumed: [],
      todo: 'Say it where it came in: `material black-sand`, `material lemel`, or a material of your own in workshop.yaml with its oxides or minerals.',
    }),
  };
};

/** What stands against any flux. */
export const refused = (job: Job, { reason }: Result<FluxAdvice>): Advice => ({
  topic: FLUX,
  at: job.entry.head,
  label: 'no flux can be told',
  rank: 'extra',
  working: () => ({ says: `No flux can be told: ${reason}.`, assumed: [] }),
});

/** The way to a flux, in figures that can be followed: from the oxides of the feed to borax, soda and silica. */
import { SODA_PER_CHLORIDE } from '../engine/bench/chloride';
import {
  BORAX_PER_GANGUE,
  BORAX_PER_IRON,
  BORAX_PER_REFRACTORY,
  CLEAN_BORAX,
  type FluxAdvice,
  type FluxSums,
} from '../engine/bench/flux';
import { type Estimate, exactly, type Result } from '../engine/bench/result';
import { type Slag, slagOf } from '../engine/bench/slag';
import type { ChargeItem } from '../engine/gas';
import { massFraction, molarMass } from '../vocabulary/compounds';
import type { Advice } from './advice';
import type { Job } from './job';
import type { Smelt } from './smelt';
import { estimateWords, guessWords, termWords } from './words';

export const FLUX = 'flux';

/** Borax glass that holds as much borate as a gram of the crystals, g. */
export const GLASS_PER_CRYSTALS = massFraction('Na2B4O7·10H2O', 'B') / massFraction('Na2B4O7', 'B');

/** What the feed is made of. */
export const feedRows = (feed: readonly ChargeItem[], { kind }: FluxAdvice): readonly string[] => {
  const rows = feed.map(
    ({ material, massGrams }) => `${material.name.padEnd(19)} ${guessWords(exactly(massGrams), 'g').slice(1)}`,
  );
  if (kind === 'clean metal') return rows;
  return [
    ...rows,
    ...[...slagOf(feed).oxideGrams].map(([oxide, grams]) => `  ${oxide.padEnd(18)}${estimateWords(grams, 'g')}`),
  ];
};

/** Borax by the oxides, soda as the iron, then silica or more soda to the degree. */
export const fluxRows = ({
  sums,
  borax: alone,
  boraxCrystalsGrams: borax,
  sodaAshGrams: soda,
  silicaGrams: silica,
  aim: { degree },
}: FluxAdvice): readonly string[] => {
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
  if (!sums) return [];
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

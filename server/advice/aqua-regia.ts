/** Dissolving gold in hydrochloric and nitric acid: how much of either, the gas, the silver chloride that stays, what brings the gold back. */
import {
  type AquaRegia,
  acidPerGram,
  aquaRegia,
  COATS,
  COATS_FROM,
  chlorideHeld,
  goldBack,
  HYDROCHLORIC_EXCESS,
  NITRIC_EXCESS,
} from '../engine/bench/aqua-regia';
import { type Answer, assume, COMMON_PRACTICE, type Estimate, exactly, over, sumOf } from '../engine/bench/result';
import { acidLines, acidWritten, type OfAcid } from './acid-of';
import type { Advice, Topic, Working, Writing, Wrong } from './advice';
import { acidGround, baseOf, copperForAcid } from './base';
import { type Contents, chargedOf, type Job } from './job';
import { bestWords, estimateWords, guessWords, rangeWords } from './words';

const TOPIC = 'aqua regia';

export const inAquaRegia: Topic = (job) => {
  if (job.entry.verb !== 'dissolve') return [];
  const [hydrochloric, nitric] = [acidLines(job, 'HCl'), acidLines(job, 'HNO3')];
  if (hydrochloric.lines.length === 0 || nitric.lines.length === 0) return [];
  const charged = chargedOf(job, 'before');
  const metals = charged && dissolvedOf(charged);
  const wanted = metals && aquaRegia(metals);
  if (!charged || !metals || wanted?.value === undefined) return [];
  const case_: Case = { job, charged, metals, hydrochloric, nitric, wanted };
  const wrong = shortOf(case_);
  const at = hydrochloric.lines[0]!.flow.place;
  const working = (): Working => workingOf(case_);
  if (!job.planned) return wrong.length > 0 ? [{ topic: TOPIC, at, rank: 'doubt', working, wrong }] : [];
  return [acidsAdvice(case_, at, wrong), ...productAdvice(case_), ...coating(case_)];
};

interface Case {
  readonly job: Job;
  readonly charged: Contents;
  readonly metals: ReadonlyMap<string, Estimate>;
  readonly hydrochloric: OfAcid;
  readonly nitric: OfAcid;
  readonly wanted: Answer<AquaRegia>;
}

/** Gold and silver, lead, and other base metal as the copper that takes as much acid, g; none where the gold is not known. */
const dissolvedOf = (charged: Contents): ReadonlyMap<string, Estimate> | undefined => {
  const gold = charged.metals.get('Au');
  if (!gold || !(gold.best > 0)) return undefined;
  const base = baseOf(charged);
  const all: readonly (readonly [string, Estimate | undefined])[] = [
    ['Au', gold],
    ['Ag', charged.metals.get('Ag')],
    ['Cu', base.grams && copperForAcid(base)],
    ['Pb', base.lead],
    ['Pd', charged.metals.get('Pd')],
    ['Pt', charged.metals.get('Pt')],
  ];
  return new Map(all.flatMap(([metal, of]) => (of && of.high > 0 ? [[metal, of] as const] : [])));
};

/** Of an acid so much pure, as mL of its bottle. */
const millilitres = (pure: Estimate, { bottle }: OfAcid): Estimate =>
  over(pure, bottle.fraction * bottle.gramsPerMillilitre);

const acidsAdvice = (case_: Case, at: Advice['at'], wrong: readonly Wrong[]): Advice => {
  const { hydrochloric, nitric, wanted } = case_;
  const all = [
    [hydrochloric, millilitres(wanted.value.hydrochloricGrams, hydrochloric)],
    [nitric, millilitres(wanted.value.nitricGrams, nitric)],
  ] as const;
  const writes = all.flatMap(([{ lines, bottle }, amount]): readonly Writing[] => {
    const open = lines.find(({ flow }) => !flow.amount?.figure)?.flow;
    return open
      ? [{ flow: open, amount: guessWords(amount, 'mL'), range: `${bottle.name} ${rangeWords(amount, 'mL')}` }]
      : [];
  });
  const same = { topic: TOPIC, at, working: () => workingOf(case_), wrong } as const;
  if (writes.length > 0) return { ...same, rank: 'result', writes };
  const [muriatic] = all;
  const label = `acid wanted ${rangeWords(muriatic[1], 'mL')}`;
  return { ...same, label, rank: 'extra' };
};

const workingOf = ({ charged, metals, hydrochloric, nitric, wanted }: Case): Working => {
  const { hydrochloricGrams, nitricGrams, gasLitres, airCubicMetres, chlorideGrams } = wanted.value;
  const [muriatic, strong] = [millilitres(hydrochloricGrams, hydrochloric), millilitres(nitricGrams, nitric)];
  const gold = goldBack(metals.get('Au')!);
  const perMetal = [...metals].map(([metal, grams]) => {
    const each = acidPerGram(metal)!;
    return `${metal.padEnd(18)}${estimateWords(grams, 'g')} × ${each.hydrochloric.toFixed(3)} HCl, × ${each.nitric.toFixed(3)} HNO3`;
  });
  return {
    says: `The metal wants ${rangeWords(muriatic, 'mL')} of ${hydrochloric.bottle.name}, and ${rangeWords(strong, 'mL')} of ${nitric.bottle.name} little by little: no more of it than dissolves, for what is over must leave before gold comes down.`,
    rows: [
      ...perMetal,
      excess('HCl', hydrochloricGrams, HYDROCHLORIC_EXCESS),
      `  acid of ${percent(hydrochloric)}    ${estimateWords(muriatic, 'mL')}, ${gramsAMillilitre(hydrochloric)} g of HCl a mL`,
      excess('HNO3', nitricGrams, NITRIC_EXCESS),
      `  acid of ${percent(nitric)}    ${estimateWords(strong, 'mL')}, ${gramsAMillilitre(nitric)} g of HNO3 a mL`,
      `gas               HNO3 / 63.01 × 24.1 L = ${estimateWords(gasLitres, 'L')} at 20 °C, as NO to NO2; chlorine and nitrosyl chloride come besides`,
      `air to thin it    ${estimateWords(airCubicMetres, 'm³')}, to 5 ppm of NO2`,
      ...(chlorideGrams.high > 0 ? [`silver chloride   ${estimateWords(chlorideGrams, 'g')}, stays`] : []),
      'to bring the gold back, one of',
      ...gold.value.map(({ what, grams }) => `  ${what.padEnd(16)}${estimateWords(grams, 'g')}`),
    ],
    assumed: [...wanted.assumed, ...acidGround(baseOf(charged)), ...gold.assumed],
    todo: CARE,
  };
};

/** `HCl  15 g × 1.7 (1.1..2.3) = 25 g (16..35)`. */
const excess = (acid: string, grams: Estimate, by: Estimate): string =>
  `${acid.padEnd(18)}${bestWords(exactly(grams.best / by.best), 'g')} in all × ${by.best} (${by.low}..${by.high}) = ${estimateWords(grams, 'g')}`;

const CARE =
  'Hydrochloric acid first, warm; nitric acid in small portions, each when the last is quiet. Never cap it, never with anything organic, under a hood with the fume washed, as local codes have it. Then let the rest of the nitric acid go, dilute, filter off the chloride, and test what is left for gold before it is poured away.';

const percent = ({ bottle }: OfAcid): string => `${Math.round(100 * bottle.fraction)} %`;
const gramsAMillilitre = ({ bottle }: OfAcid): string => (bottle.fraction * bottle.gramsPerMillilitre).toFixed(2);

/** Less hydrochloric acid than the chlorides of gold and silver hold: no care can make it enough. */
const shortOf = ({ job, charged, metals, hydrochloric }: Case): readonly Wrong[] => {
  if (hydrochloric.pureGrams === undefined) return [];
  const gold = metals.get('Au')!;
  const least = chlorideHeld(gold.low, metals.get('Ag')?.low ?? 0).value;
  if (hydrochloric.pureGrams >= least || !(hydrochloric.pureGrams > 0)) return [];
  const line = hydrochloric.lines[0]!.flow;
  const held = (least / hydrochloric.pureGrams).toFixed(1);
  return [
    {
      code: 'acid-short',
      place: line.amount?.place ?? line.place,
      says: `${charged.guessed ? 'By what was said of it too' : 'Too'} little hydrochloric acid for ${bestWords(gold, 'g')} of gold: its chloride alone holds ${held} times as much. ${job.planned ? 'Take' : 'Add'} more, or gold stays in the metal.`,
    },
  ];
};

/** What comes out, once both acids have their amounts. */
const productAdvice = ({ job, metals, hydrochloric, nitric, wanted }: Case): readonly Advice[] => {
  if (hydrochloric.millilitres === undefined || nitric.millilitres === undefined) return [];
  const water = acidWritten(job).water.length > 0;
  const volume = exactly(hydrochloric.millilitres + nitric.millilitres);
  const outs = job.entry.flows.filter(({ word, none }) => word === 'out' && !none);
  const isNameless = outs.some(({ kind }) => kind === undefined);
  const writes: Writing[] = [];
  const put = (kind: string, amount: string, range: string): void => {
    const line = outs.find((out) => out.kind === kind);
    if (line?.amount?.figure) return;
    writes.push(line ? { flow: line, amount, range } : { part: 'out', line: `out ${amount} ${kind}`, range });
  };
  const { chlorideGrams } = wanted.value;
  if (chlorideGrams.best >= LEAST_RESIDUE && !isNameless)
    put('residue', guessWords(chlorideGrams, 'g'), `residue ${rangeWords(chlorideGrams, 'g')}`);
  if (!isNameless && !water)
    put('solution', guessWords(volume, 'mL'), `solution ${guessWords(volume, 'mL')} and wash water`);
  const gold = metals.get('Au')!;
  const working = (): Working => ({
    says: `${rangeWords(gold, 'g')} of gold goes into solution${chlorideGrams.high > 0 ? `, and ${rangeWords(chlorideGrams, 'g')} of silver chloride stays, dried` : ''}.`,
    rows: [
      `solution          ${bestWords(exactly(hydrochloric.millilitres!), 'mL')} + ${bestWords(exactly(nitric.millilitres!), 'mL')} = ${guessWords(volume, 'mL')} and wash water`,
      ...(chlorideGrams.high > 0
        ? [
            `silver chloride   ${estimateWords(metals.get('Ag')!, 'g')} of silver / 0.7526 = ${estimateWords(chlorideGrams, 'g')}`,
          ]
        : []),
    ],
    assumed: [assume('what fumes off is not counted', COMMON_PRACTICE)],
  });
  return [{ topic: 'dissolved', at: job.entry.head, rank: writes.length > 0 ? 'result' : 'extra', working, writes }];
};

/** Less is not worth a line, g. */
const LEAST_RESIDUE = 0.01;

/** Silver in so much that its chloride stops the acid. */
const coating = ({ job, charged, metals }: Case): readonly Advice[] => {
  const silver = metals.get('Ag');
  const share = silver && over(silver, charged.grams.best);
  if (!silver || !share || share.best < COATS_FROM) return [];
  const [first] = job.entry.flows.filter(({ word }) => word === 'in');
  const working = (): Working => ({
    says: `${Math.round(100 * share.best)} % of it is silver: its chloride coats the metal, and gold stays below it.`,
    rows: [
      `silver            ${estimateWords(silver, 'g')}`,
      `of                ${estimateWords(sumOf([charged.grams]), 'g')}`,
    ],
    assumed: [COATS],
    todo: 'Inquart it and part it with nitric acid first.',
  });
  return [
    {
      topic: 'coated',
      at: first?.place ?? job.entry.head,
      label: 'silver coats it: part it first',
      rank: 'doubt',
      working,
    },
  ];
};

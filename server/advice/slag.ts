/** The slag of a charge: its degree, whether it runs, what it is to weigh, and what to add for a better one. */
import { adjustTo, PREFERRED_DEGREE } from '../engine/bench/flux';
import { assume, type Estimate, FROM_MEMORY } from '../engine/bench/result';
import { degreeName, type Slag } from '../engine/bench/slag';
import { ACID_ABOVE, BASIC_BELOW, BORATE_FLUID, FULTON, STIFFENERS } from '../engine/bench/slag-warnings';
import { molarMass } from '../vocabulary/compounds';
import type { Topic, Working } from './advice';
import type { Job } from './job';
import { smeltOf } from './smelt';
import { bestWords, estimateWords, rangeWords } from './words';
import { slagLeft, yieldOf } from './yield';

const TOPIC = 'slag';

/** Less slag than this share of the charge holds little and eats little. A guess. */
const LEAST_SLAG = 0.05;

export const slag: Topic = (job) => {
  const smelt = smeltOf(job);
  if (!smelt || smelt.unknown.length > 0 || smelt.unknownAdded || smelt.added.length === 0) return [];
  if (job.step!.added.some(({ mass }) => !mass)) return [];
  const pour = yieldOf(job);
  const whole = [...smelt.feed, ...smelt.added].reduce((so, { massGrams }) => so + massGrams, 0);
  if (!(pour.slag.grams.best > LEAST_SLAG * whole)) return [];
  const expected = slagLeft(job, pour);
  const fault = faultOf(pour.slag);
  const { entry } = job;
  const written = writtenSlag(job);
  const rows = [...(job.planned ? oxideRows(pour.slag) : []), ...rowsOf(pour.slag, expected, written)];
  const assumed = job.planned ? pour.slag.assumed : [];
  if (!fault) {
    const working = (): Working => ({
      says: soundWords(pour.slag),
      rows,
      assumed: [...assumed, assume('a degree of 1 to 2 runs well', FULTON)],
    });
    return [{ topic: TOPIC, at: entry.head, rank: 'extra', working }];
  }
  const says = `${fault.says} ${fault.cure}`;
  return [
    {
      topic: TOPIC,
      at: entry.head,
      label: fault.label,
      rank: 'doubt',
      working: () => ({ says, rows, assumed: [...assumed, assume(fault.limit, fault.source)] }),
      wrong: [{ code: fault.code, place: entry.head, says }],
    },
  ];
};

interface Fault {
  readonly code: 'slag-too-acid' | 'slag-too-basic' | 'slag-stiff';
  readonly label: string;
  readonly says: string;
  readonly cure: string;
  readonly limit: string;
  readonly source: string;
}

/** What is amiss for certain: beyond the bound whatever of the charge is not known. */
const faultOf = (made: Slag): Fault | undefined => {
  const degree = surely(made);
  const isFluid = made.borateFraction >= BORATE_FLUID;
  if (!isFluid && degree.low > ACID_ABOVE) {
    const soda = adjustTo(made, PREFERRED_DEGREE.best).value!.sodaAshGrams;
    return {
      code: 'slag-too-acid',
      label: 'slag too acid',
      says: `The slag is too acid (silicate degree ${degreeFigure(made)}, ${ACID_ABOVE} at most): stiff, and it holds prills.`,
      cure: `Add about ${bestWords(soda, 'g')} of soda ash, or borax.`,
      limit: `stiff above a degree of ${ACID_ABOVE}, unless a fifth of it is borate`,
      source: `${FULTON}; the bound ${FROM_MEMORY}`,
    };
  }
  if (!isFluid && degree.high < BASIC_BELOW) {
    const silica = adjustTo(made, PREFERRED_DEGREE.low).value!.silicaGrams;
    return {
      code: 'slag-too-basic',
      label: 'slag too basic',
      says: `The slag is too basic (silicate degree ${degreeFigure(made)}, ${BASIC_BELOW} at least): it eats the crucible.`,
      cure: `Add about ${bestWords(silica, 'g')} of silica, or more glass or borax.`,
      limit: `it eats the crucible below a degree of ${BASIC_BELOW}`,
      source: `${FULTON}; the bound ${FROM_MEMORY}`,
    };
  }
  const stiff = stiffShare(made);
  if (!isFluid && stiff > STIFFENERS)
    return {
      code: 'slag-stiff',
      label: 'slag stiff',
      says: `At least ${Math.round(100 * stiff)} % of the slag is alumina and titania: stiff, and it holds prills.`,
      cure: 'Add borax until a quarter of the slag is borax glass and more, a little fluorspar, and heat.',
      limit: `stiff from ${Math.round(100 * STIFFENERS)} % alumina and titania on`,
      source: FROM_MEMORY,
    };
  return undefined;
};

/** Degree with what is not known taken for lime at the one end and for silica at the other. */
const surely = ({
  degree,
  acidOxygen,
  baseOxygen,
  unknownGrams,
}: Slag): { readonly low: number; readonly high: number } => {
  const lime = unknownGrams / molarMass('CaO');
  const silica = (2 * unknownGrams) / molarMass('SiO2');
  const ratio = (acid: number, base: number): number =>
    base > 0 ? acid / base : acid > 0 ? Number.POSITIVE_INFINITY : 0;
  return {
    low: Math.min(degree?.low ?? Number.POSITIVE_INFINITY, ratio(acidOxygen.low, baseOxygen.high + lime)),
    high: Math.max(
      degree && Number.isFinite(degree.high) ? degree.high : 0,
      ratio(acidOxygen.high + silica, baseOxygen.low),
    ),
  };
};

const stiffShare = ({ oxideGrams, grams }: Slag): number =>
  ((oxideGrams.get('Al2O3')?.low ?? 0) + (oxideGrams.get('TiO2')?.low ?? 0)) / grams.high;

const degreeFigure = ({ degree }: Slag): string => (degree ? degree.best.toFixed(1) : 'without a base');

const soundWords = (made: Slag): string => {
  const borate = `${Math.round(100 * made.borateFraction)} % borate`;
  if (!made.degree) return `The slag has no base; ${borate}.`;
  const { best } = made.degree;
  const name = degreeName(best);
  const runs =
    best > ACID_ABOVE && made.borateFraction >= BORATE_FLUID ? 'Acid by its oxides, and fluid by its borax.' : '';
  return `The slag is a ${name}, silicate degree ${best.toFixed(1)}, with ${borate}. ${runs}`.trim();
};

const writtenSlag = ({ step }: Job): number | undefined => {
  const own = step!.outputs.filter(({ flow }) => flow.kind === 'slag' && !flow.none);
  if (own.length === 0 || own.some(({ mass }) => !mass)) return undefined;
  return own.reduce((so, { mass }) => so + mass!.value.toNumber(), 0);
};

const oxideRows = ({ oxideGrams }: Slag): readonly string[] =>
  [...oxideGrams].map(([oxide, grams]) => `${oxide.padEnd(18)}${estimateWords(grams, 'g')}`);

const rowsOf = (made: Slag, expected: Estimate, written: number | undefined): readonly string[] => {
  const { acidOxygen, baseOxygen } = made;
  const target = adjustTo(made, PREFERRED_DEGREE.best).value;
  const soda = target && target.sodaAshGrams.best > 0.5 ? `soda ash ${bestWords(target.sodaAshGrams, 'g')}` : undefined;
  const silica = target && target.silicaGrams.best > 0.5 ? `silica ${bestWords(target.silicaGrams, 'g')}` : undefined;
  return [
    `degree            ${acidOxygen.best.toFixed(2)} mol acid / ${baseOxygen.best.toFixed(2)} mol base oxygen = ${degreeFigure(made)}`,
    `slag expected     ${rangeWords(expected, 'g')}`,
    ...(written === undefined
      ? []
      : [`slag written      ${bestWords({ best: written, low: written, high: written }, 'g')}`]),
    ...(soda || silica ? [`for a degree of ${PREFERRED_DEGREE.best} add ${soda ?? silica}`] : []),
  ];
};

/** The slag of a charge: its degree, whether it runs, what it is to weigh, and what to add for a better one. */
import { adjustTo, type DegreeAim, FULTON, PREFERRED_DEGREE } from '../engine/bench/degree';
import { assume, type Estimate } from '../engine/bench/result';
import { degreeName, type Slag } from '../engine/bench/slag';
import { sideOf } from '../engine/bench/slag-oxides';
import { ACID_ABOVE, BORATE_FLUID, type SlagWarning, slagWarnings } from '../engine/bench/slag-warnings';
import { molarMass } from '../vocabulary/compounds';
import type { Topic, Working } from './advice';
import type { Job } from './job';
import { slagAim } from './slag-aim';
import { isChloride, smeltOf } from './smelt';
import { bestWords, estimateWords, rangeWords, termWords } from './words';
import { slagLeft, yieldOf } from './yield';

const TOPIC = 'slag';

/** Less slag than this share of the charge holds little and eats little. A guess. */
const LEAST_SLAG = 0.05;

export const slag: Topic = (job) => {
  const smelt = smeltOf(job);
  if (!smelt || smelt.unknown.length > 0 || smelt.unknownAdded || smelt.added.length === 0) return [];
  // Its slag is salt and the soda that is over: no silicate has to run.
  if (isChloride(smelt)) return [];
  if (job.step!.added.some(({ mass }) => !mass)) return [];
  const pour = yieldOf(job);
  const whole = [...smelt.feed, ...smelt.added].reduce((so, { massGrams }) => so + massGrams, 0);
  if (!(pour.slag.grams.best > LEAST_SLAG * whole)) return [];
  const { at = job.entry.head, ...aim } = slagAim(job);
  const warnings = slagWarnings(pour.slag, [...smelt.feed, ...smelt.added], aim);
  const fault = warnings.find(isFault);
  const rows = (): readonly string[] => [
    ...oxideRows(pour.slag),
    ...rowsOf(pour.slag, aim, slagLeft(job, pour), writtenSlag(job)),
  ];
  const assumed = job.planned ? pour.slag.assumed : [];
  if (!fault) {
    const working = (): Working => ({
      says: soundWords(pour.slag),
      rows: rows(),
      assumed: [...assumed, assume('a degree of 1 to 2 runs well', FULTON)],
      ...besides(warnings),
    });
    const label = aim.chosen && job.planned ? { label: `slag comes to ${degreeFigure(pour.slag)}` } : {};
    return [{ topic: TOPIC, at, ...label, rank: 'extra', working }];
  }
  const says = `${fault.says} ${cureWords(pour.slag, aim, fault)}`;
  const code = CODES[fault.what];
  return [
    {
      topic: TOPIC,
      at,
      label: code.replaceAll('-', ' '),
      rank: 'doubt',
      working: () => ({
        says,
        rows: rows(),
        assumed: [...assumed, assume(fault.limit, fault.source)],
        ...besides(warnings),
      }),
      wrong: [{ code, place: at, says }],
    },
  ];
};

const CODES = { 'too-acid': 'slag-too-acid', 'too-basic': 'slag-too-basic', stiff: 'slag-stiff' } as const;

interface Fault extends SlagWarning {
  readonly what: keyof typeof CODES;
}

const isFault = (one: SlagWarning): one is Fault => one.what in CODES && one.sure;

/** The cure with its figure, where there is one. */
const cureWords = (made: Slag, { degree, chosen }: DegreeAim, { what, cure }: Fault): string => {
  if (what === 'too-acid') {
    const soda = adjustTo(made, degree.best).value!.sodaAshGrams;
    return `Add about ${bestWords(soda, 'g')} of soda ash${chosen ? '' : ', or borax'}.`;
  }
  if (what === 'stiff') return cure;
  if (chosen) return `Add about ${bestWords(adjustTo(made, degree.best).value!.silicaGrams, 'g')} of silica.`;
  const silica = adjustTo(made, PREFERRED_DEGREE.low).value!.silicaGrams;
  return `Add about ${bestWords(silica, 'g')} of silica, or more glass or borax.`;
};

/** Told elsewhere, with figures of their own. */
const ELSEWHERE: ReadonlySet<SlagWarning['what']> = new Set(['sulphur-unmet', 'niter-with-fuel']);

/** What may be amiss, or is good to know: not for a finding. */
const besides = (warnings: readonly SlagWarning[]): { readonly todo?: string } => {
  const others = warnings.filter((one) => !isFault(one) && !ELSEWHERE.has(one.what));
  const words = others.map(
    ({ what, says, cure, source }) => `${what in CODES ? 'Perhaps: ' : ''}${says} ${cure} (${source})`,
  );
  return words.length > 0 ? { todo: words.join(' ') } : {};
};

const wantedWords = ({ degree: { low, high } }: DegreeAim): string => (low < high ? `${low} to ${high}` : `${low}`);

const degreeFigure = ({ degree }: Slag): string => (degree ? degree.best.toFixed(1) : 'without a base');

const soundWords = (made: Slag): string => {
  const borate = `${Math.round(100 * made.borateFraction)} % borate`;
  if (!made.degree) return `The slag has no base; ${borate}.`;
  const { best } = made.degree;
  const name = degreeName(best);
  const what = name.startsWith('beyond') ? 'beyond a trisilicate' : `a ${name}`;
  const runs =
    best > ACID_ABOVE && made.borateFraction >= BORATE_FLUID ? 'Acid by its oxides, and fluid by its borax.' : '';
  return `The slag is ${what}, silicate degree ${best.toFixed(1)}, with ${borate}. ${runs}`.trim();
};

/** Of what is done; of a plan it is what is expected. */
const writtenSlag = ({ step, planned }: Job): number | undefined => {
  if (planned) return undefined;
  const own = step!.outputs.filter(({ flow }) => flow.kind === 'slag' && !flow.none);
  if (own.length === 0 || own.some(({ mass }) => !mass)) return undefined;
  return own.reduce((so, { mass }) => so + mass!.value.toNumber(), 0);
};

/** `SiO2  47 g (42..50): 46.8/60.09 × 2 = 1.56 mol acid`. */
const oxideRows = ({ oxideGrams, aluminaIsBase }: Slag): readonly string[] =>
  [...oxideGrams].map(([oxide, grams]) => {
    const own = `${oxide.padEnd(18)}${estimateWords(grams, 'g')}`;
    const counts = sideOf(oxide, aluminaIsBase);
    if (!counts) return own;
    const mole = molarMass(oxide);
    const by = counts.oxygens > 1 ? ` × ${counts.oxygens}` : '';
    const moles = (counts.oxygens * grams.best) / mole;
    return `${own}: ${termWords(grams.best, '')}/${mole.toFixed(2)}${by} = ${termWords(moles, '')} mol ${counts.side}`;
  });

/** Good as it is: by its degree, or, where none was chosen, by its borax. */
const isRight = ({ degree, borateFraction }: Slag, { chosen, degree: { low, best, high } }: DegreeAim): boolean => {
  if (!chosen && borateFraction >= BORATE_FLUID) return true;
  const isOne = low === high && degree !== undefined && Math.abs(degree.best / best - 1) < 0.02;
  return isOne || (degree !== undefined && degree.best >= low && degree.best <= high);
};

const rowsOf = (made: Slag, aim: DegreeAim, expected: Estimate, written: number | undefined): readonly string[] => {
  const { acidOxygen, baseOxygen } = made;
  const target = isRight(made, aim) ? undefined : adjustTo(made, aim.degree.best).value;
  const soda = target && target.sodaAshGrams.best > 0.5 ? `soda ash ${bestWords(target.sodaAshGrams, 'g')}` : undefined;
  const silica = target && target.silicaGrams.best > 0.5 ? `silica ${bestWords(target.silicaGrams, 'g')}` : undefined;
  return [
    `degree            ${termWords(acidOxygen.best, '')} mol acid / ${termWords(baseOxygen.best, '')} mol base oxygen = ${degreeFigure(made)}${aim.chosen ? `; ${wantedWords(aim)} wanted (${aim.source})` : ''}`,
    `slag expected     ${rangeWords(expected, 'g')}`,
    ...(written === undefined
      ? []
      : [`slag written      ${bestWords({ best: written, low: written, high: written }, 'g')}`]),
    ...(soda || silica ? [`for a degree of ${aim.degree.best} add ${soda ?? silica}`] : []),
  ];
};

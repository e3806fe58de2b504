/** A density by weighing in air and water, and the gold that it leaves room for. */
import { assayed, hydrostaticOf, matrixOf, QUARTZ } from '../engine/accounts/assays';
import { mayHoldQuartz } from '../engine/accounts/metals';
import { goldByDensity, goldInQuartz, hydrostaticDensity, waterKilogramsPerCubicMetre } from '../engine/bench/density';
import { type Assumption, assume, type Estimate } from '../engine/bench/result';
import { decimal } from '../quantity/decimal';
import { showPlaces } from '../quantity/show';
import { fitting } from '../reports/figures';
import { element } from '../vocabulary/elements';
import { accountsOf } from '../workspace/accounts';
import type { Advice, Topic } from './advice';
import type { Job } from './job';

const AIR = 0.0012;

export const density: Topic = (job) => {
  const { entry } = job;
  const weighed = entry.verb === 'assay' ? hydrostaticOf(entry) : undefined;
  const found = weighed && hydrostaticDensity(weighed);
  if (!weighed || !found) return [];
  if (!found.value) return isTooSmall(found.reason) ? [tooSmall(entry.head, found.reason)] : [];
  const { value } = found;
  const readings = readingsOf(job, value);
  const water = entry.others.find(({ word }) => word === 'water')?.place ?? entry.head;
  const figure = `${placed(value.best, 2)} g/cm³`;
  const working: Advice['working'] = () => {
    const perMillilitre = (waterKilogramsPerCubicMetre(weighed.celsius).value ?? 0) / 1000;
    const [air, below] = [weighed.airGrams, weighed.waterGrams];
    const unsure = readings.length > 1 ? [UNSURE] : [];
    return {
      says: [`${figure}.`, ...readings.map(({ says }) => says)].join(' '),
      rows: [
        `water at ${weighed.celsius} °C    ${placed(perMillilitre, 4)} g/cm³; air ${AIR}`,
        `density           ${air} × (${placed(perMillilitre, 4)} − ${AIR})/(${air} − ${below}) + ${AIR}`,
        `                  = ${placed(value.best, 2)} g/cm³ (${placed(value.low, 2)}..${placed(value.high, 2)})`,
        ...readings.flatMap(({ rows }) => rows),
      ],
      assumed: [...found.assumed, ...readings.flatMap(({ assumed }) => assumed), ...unwritten(weighed.celsiusWritten)],
      todo: [
        ...unsure,
        'A hollow, a bubble or slag inside makes it read low, and so does a plating over base metal. It replaces no assay.',
      ].join(' '),
    };
  };
  // What the assay itself says stands on its first line.
  const quartz = matrixOf(entry) === QUARTZ ? undefined : readings.find(({ isQuartz }) => isQuartz);
  const both = quartz && fitting(`${figure}, in quartz Au ${quartz.range}`, figure);
  const short = weighed.celsiusWritten ? figure : `${figure}, water taken at ${weighed.celsius} °C`;
  return [{ topic: 'density', at: water, label: both ?? short, rank: 'result', working }];
};

const isTooSmall = (reason: string): boolean => reason.includes('scale');

const tooSmall = (at: Advice['at'], reason: string): Advice => ({
  topic: 'density',
  at,
  label: 'too small a piece for this scale',
  rank: 'doubt',
  working: () => ({ says: `No density: ${reason}.`, assumed: [], todo: 'Take a finer scale, or more pieces of it.' }),
});

const UNSURE =
  'Write `material quartz` in this assay, or `material scrap` or another where the lot came in, and one reading stands.';

/** What the density means if the piece is this or that. */
interface Meaning {
  readonly isQuartz: boolean;
  /** `57..84 %`. */
  readonly range: string;
  readonly says: string;
  readonly rows: readonly string[];
  readonly assumed: readonly Assumption[];
}

/** One where the record says what it is; both where it may be either. */
const readingsOf = (job: Job, density: Estimate): readonly Meaning[] => {
  const { entry, workspace } = job;
  const { metals } = accountsOf(workspace);
  const segment = entry.name && metals.lineage.segmentAt(entry.name.name, entry);
  const [alloy, quartz] = [asAlloy(job, density), asQuartz(density)];
  if (matrixOf(entry) === QUARTZ || segment?.story.make?.material === QUARTZ) return quartz;
  if (segment && mayHoldQuartz(segment)) return [...quartz, ...alloy];
  // What was assayed as metal is metal.
  const isAssayed = segment && metals.assays(segment).some((one) => one !== entry && assayed(one).get('Au')?.share);
  const { material, kind } = segment?.story.make ?? {};
  const isKnown = isAssayed === true || material !== undefined || kind !== undefined;
  return isKnown || density.best > MOST_DOUBTFUL ? alloy : [...alloy, ...quartz];
};

/** Above this little quartz is left to speak of: 18 karat and native gold are heavier. */
const MOST_DOUBTFUL = 14;

const asQuartz = (density: Estimate): readonly Meaning[] => {
  const found = goldInQuartz(density);
  if (!found.value) return [];
  const { goldFraction, nativeFraction, nativeDensity: native, quartzDensity: stone } = found.value;
  const [of, is] = [placed(density.best, 2), placed(native, 2)];
  return [
    {
      isQuartz: true,
      range: percentOf(goldFraction).replace(' and ', '..'),
      says: `If it is native gold in quartz, gold is between ${percentOf(goldFraction)}.`,
      rows: [
        'gold in quartz    native gold = ρN (ρ − ρQ)/(ρ (ρN − ρQ))',
        `  native gold     ${is} × (${of} − ${stone})/(${of} × (${is} − ${stone})) = ${Math.round(100 * nativeFraction.best)} %, ${percentOf(nativeFraction).replace(' and ', '..')}`,
        `  gold            × 0.85 (0.65..0.98) = ${Math.round(100 * goldFraction.best)} %, ${percentOf(goldFraction).replace(' and ', '..')}`,
      ],
      assumed: found.assumed,
    },
  ];
};

const asAlloy = (job: Job, density: Estimate): readonly Meaning[] => {
  const gold = goldByDensity(density);
  if (!gold.value)
    return [{ isQuartz: false, range: '', says: `As metal alone it is ${gold.reason}.`, rows: [], assumed: [] }];
  const { goldFraction, restSilver, restCopper } = gold.value;
  return [
    {
      isQuartz: false,
      range: percentOf(goldFraction).replace(' and ', '..'),
      says: `As metal alone gold is between ${percentOf(goldFraction)}, whatever silver and copper share the rest.`,
      rows: [
        ...goldRows(job, density, restSilver, restCopper),
        `gold              ${percentOf(goldFraction).replace(' and ', '..')}, with ${placed(density.low, 2)}..${placed(density.high, 2)} g/cm³ and the error of the method`,
      ],
      assumed: gold.assumed,
    },
  ];
};

const unwritten = (isWritten: boolean): readonly Assumption[] =>
  isWritten
    ? []
    : [assume('water at 20 °C: its temperature is not written', 'ten degrees change it by two parts in a thousand')];

const placed = (value: number, places: number): string => showPlaces(decimal(value), places);

const percentOf = ({ low, high }: Estimate): string => `${Math.round(100 * low)} and ${Math.round(100 * high)} %`;

const goldRows = (
  job: Job,
  of: Estimate,
  restSilver: number | undefined,
  restCopper: number | undefined,
): readonly string[] => {
  const [gold, silver, copper] = ['Au', 'Ag', 'Cu'].map((symbol) => element(symbol)?.density?.value ?? 0);
  const row = (rest: string, at: number | undefined, share: number | undefined): string =>
    `rest all ${rest.padEnd(9)}${share === undefined ? 'cannot be' : `${gold} × (${placed(of.best, 2)} − ${at})/(${placed(of.best, 2)} × (${gold} − ${at})) = ${placed(100 * share, 1)} %`}`;
  const ratio = silverOfRest(job);
  const closer = ratio === undefined ? undefined : goldByDensity(of, ratio).value?.goldFraction;
  return [
    'gold              ρAu (ρ − ρrest)/(ρ (ρAu − ρrest))',
    row('silver', silver, restSilver),
    row('copper', copper, restCopper),
    ...(closer && ratio !== undefined
      ? [
          `as it is known    ${Math.round(100 * ratio)} % of the rest silver: ${percentOf(closer).replace(' and ', '..')}`,
        ]
      : []),
  ];
};

/** Share of silver in silver and copper, where both are known of the lot. */
const silverOfRest = ({ workspace, entry }: Job): number | undefined => {
  const { metals } = accountsOf(workspace);
  const segment = entry.name && metals.lineage.segmentAt(entry.name.name, entry);
  const known = segment && metals.best(segment);
  const [silver, copper] = ['Ag', 'Cu'].map((symbol) => known?.get(symbol)?.share?.value);
  if (silver === undefined || copper === undefined || !(silver + copper > 0)) return undefined;
  return silver / (silver + copper);
};

/** A density by weighing in air and water, and the gold that it leaves room for. */
import { hydrostaticOf } from '../engine/accounts/assays';
import { goldByDensity, hydrostaticDensity, waterKilogramsPerCubicMetre } from '../engine/bench/density';
import { type Assumption, assume, type Estimate } from '../engine/bench/result';
import { decimal } from '../quantity/decimal';
import { showPlaces } from '../quantity/show';
import { element } from '../vocabulary/elements';
import { accountsOf } from '../workspace/accounts';
import type { Advice, Topic } from './advice';
import type { Job } from './job';

const AIR = 0.0012;

export const density: Topic = (job) => {
  const { entry } = job;
  const weighed = entry.verb === 'assay' ? hydrostaticOf(entry) : undefined;
  const found = weighed && hydrostaticDensity(weighed);
  if (!weighed || !found?.value) return [];
  const { value } = found;
  const gold = goldByDensity(value);
  const water = entry.others.find(({ word }) => word === 'water')?.place ?? entry.head;
  const label = `${placed(value.best, 2)} g/cm³`;
  const working: Advice['working'] = () => {
    const perMillilitre = (waterKilogramsPerCubicMetre(weighed.celsius).value ?? 0) / 1000;
    const [air, below] = [weighed.airGrams, weighed.waterGrams];
    return {
      says: `${label}${gold.value ? `: gold between ${percentOf(gold.value.goldFraction)}, whatever silver and copper share the rest` : `. ${gold.reason}`}.`,
      rows: [
        `water at ${weighed.celsius} °C    ${placed(perMillilitre, 4)} g/cm³; air ${AIR}`,
        `density           ${air} × (${placed(perMillilitre, 4)} − ${AIR})/(${air} − ${below}) + ${AIR}`,
        `                  = ${placed(value.best, 2)} g/cm³ (${placed(value.low, 2)}..${placed(value.high, 2)})`,
        ...(gold.value ? goldRows(job, value, gold.value.restSilver, gold.value.restCopper) : []),
      ],
      assumed: [...found.assumed, ...(gold.value ? gold.assumed : []), ...unwritten(weighed.celsiusWritten)],
      todo: 'A hollow, a bubble or slag inside makes it read low, and so does a plating over base metal. It replaces no assay.',
    };
  };
  const short = weighed.celsiusWritten ? label : `${label}, water taken at ${weighed.celsius} °C`;
  return [{ topic: 'density', at: water, label: short, rank: 'result', working }];
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

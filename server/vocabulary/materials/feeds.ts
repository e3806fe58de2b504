/** Common feeds, as ranges: nobody knows a feed before it is assayed. */
import { givesOffOf } from './heat';
import { BERINGER, type Constituent, type DensityRange, type MaterialRow, MEMORY, WEIGHTS } from './row';

const feed = (
  name: string,
  composition: readonly Constituent[],
  open: string | undefined,
  bulkDensity?: DensityRange,
  source: string = MEMORY,
): MaterialRow => ({
  name,
  group: 'feed',
  composition,
  open,
  givesOff: givesOffOf(composition),
  bulkDensity,
  source,
});

export const FEEDS: readonly MaterialRow[] = [
  feed(
    'scrap',
    [
      { what: 'Au', fraction: 0.5, low: 0.2, high: 0.95 },
      { what: 'Ag', fraction: 0.15, low: 0, high: 0.6 },
      { what: 'Cu', fraction: 0.3, low: 0, high: 0.5 },
    ],
    'zinc, nickel and what the solder was made of',
    { low: 2, high: 6, source: MEMORY },
  ),
  feed(
    'lemel',
    [
      { what: 'Au', fraction: 0.4, low: 0.1, high: 0.8 },
      { what: 'Ag', fraction: 0.15, low: 0, high: 0.5 },
      { what: 'Cu', fraction: 0.25, low: 0, high: 0.4 },
      { what: 'Fe', fraction: 0.03, low: 0, high: 0.1 },
    ],
    'emery, wax, dust and saw blades',
    { low: 1, high: 4, source: MEMORY },
  ),
  feed(
    'placer-gold',
    [
      { what: 'Au', fraction: 0.85, low: 0.65, high: 0.98 },
      { what: 'Ag', fraction: 0.12, low: 0.02, high: 0.3 },
    ],
    'a little copper and iron, and sand that was not panned out',
    { low: 5, high: 11, source: MEMORY },
  ),
  feed(
    'black-sand',
    [
      { what: 'Fe3O4', fraction: 0.5, low: 0.2, high: 0.85 },
      { what: 'Fe2O3', fraction: 0.1, low: 0, high: 0.3 },
      { what: 'FeTiO3', fraction: 0.15, low: 0, high: 0.5 },
      { what: 'SiO2', fraction: 0.1, low: 0.02, high: 0.3 },
    ],
    'garnet, zircon, gold and whatever else was heavy',
    { low: 2.2, high: 2.8, source: MEMORY },
  ),
  feed(
    'sulphide-concentrate',
    [
      { what: 'FeS2', fraction: 0.6, low: 0.2, high: 0.9 },
      { what: 'SiO2', fraction: 0.2, low: 0.05, high: 0.5 },
      { what: 'FeAsS', fraction: 0.05, low: 0, high: 0.3 },
      { what: 'CuFeS2', fraction: 0.05, low: 0, high: 0.3 },
    ],
    'other sulphides and gangue',
    { low: 1.8, high: 2.8, source: MEMORY },
  ),
  feed('quartz', [{ what: 'SiO2', fraction: 0.95, low: 0.85, high: 1 }], 'clay, iron stain and sulphides', {
    low: 1.3,
    high: 1.7,
    source: `solid 2.6, ${BERINGER}; crushed ${MEMORY}`,
  }),
  feed(
    'sweeps',
    [
      { what: 'SiO2', fraction: 0.4, low: 0.1, high: 0.7 },
      { what: 'Fe2O3', fraction: 0.15, low: 0, high: 0.4 },
      { what: 'Al2O3', fraction: 0.15, low: 0, high: 0.4 },
      { what: 'C', fraction: 0.03, low: 0, high: 0.15 },
    ],
    'ash, gypsum, metal: take nothing for granted',
    { low: 0.6, high: 1.5, source: MEMORY },
  ),
  feed(
    'cupel-bottoms',
    [
      { what: 'Ca3(PO4)2', fraction: 0.48, low: 0.4, high: 0.75 },
      { what: 'CaO', fraction: 0.04, low: 0.01, high: 0.1 },
      { what: 'PbO', fraction: 0.44, low: 0.15, high: 0.55 },
    ],
    'copper and bismuth oxides, a little silver and gold; a cupel takes up to its own weight of litharge; poisonous dust',
    { low: 1.0, high: 1.6, source: MEMORY },
  ),
  feed(
    'cement-bottoms',
    [
      { what: 'CaO', fraction: 0.38, low: 0.3, high: 0.58 },
      { what: 'SiO2', fraction: 0.12, low: 0.09, high: 0.2 },
      { what: 'Al2O3', fraction: 0.03, low: 0.02, high: 0.07 },
      { what: 'Fe2O3', fraction: 0.02, low: 0, high: 0.05 },
      { what: 'PbO', fraction: 0.4, low: 0.1, high: 0.5 },
    ],
    'copper and bismuth oxides, a little silver and gold; poisonous dust',
    { low: 1.3, high: 2.0, source: MEMORY },
  ),
  feed(
    'amalgam',
    [
      { what: 'Hg', fraction: 0.6, low: 0.4, high: 0.7 },
      { what: 'Au', fraction: 0.35, low: 0.2, high: 0.55 },
    ],
    'silver and base metal that came with the gold',
  ),
  feed('silver-chloride', [{ what: 'AgCl', fraction: 1 }], undefined, { low: 1.5, high: 2.5, source: MEMORY }, WEIGHTS),
];

/** Fluxes and salts that go to the crucible, and what cupels are made of. */
import { givesOffOf } from './heat';
import { mix, pure } from './mix';
import { BULK_TABLES, type MaterialRow, MEMORY } from './row';

const BORAX_BULK = { low: 0.85, high: 0.96, source: BULK_TABLES };
const BORATE_MELT = { low: 2.1, high: 2.4, source: MEMORY };

export const FLUXES: readonly MaterialRow[] = [
  {
    ...pure({ name: 'borax', group: 'flux' }, 'Na2B4O7·10H2O'),
    // The bare name does not say whether the water is in it, so anything from none to all of it may leave.
    givesOff: givesOffOf([{ what: 'Na2B4O7·10H2O', fraction: 1 }]).map((gas) => ({
      ...gas,
      low: 0,
      high: gas.fraction,
    })),
    bulkDensity: BORAX_BULK,
    meltDensity: BORATE_MELT,
    ambiguous: {
      means: ['borax-decahydrate', 'borax-pentahydrate', 'borax-glass'],
      why: 'nearly half of the decahydrate is water: by weight it does the work of half as much borax glass',
    },
  },
  pure(
    {
      name: 'borax-decahydrate',
      group: 'flux',
      bulkDensity: BORAX_BULK,
      meltDensity: BORATE_MELT,
    },
    'Na2B4O7·10H2O',
  ),
  pure(
    {
      name: 'borax-pentahydrate',
      group: 'flux',
      bulkDensity: { low: 0.95, high: 1.1, source: MEMORY },
      meltDensity: BORATE_MELT,
    },
    'Na2B4O7·5H2O',
  ),
  pure(
    {
      name: 'borax-glass',
      group: 'flux',
      bulkDensity: { low: 1.0, high: 1.3, source: MEMORY },
      meltDensity: BORATE_MELT,
    },
    'Na2B4O7',
  ),
  pure(
    {
      name: 'boric-acid',
      group: 'flux',
      bulkDensity: { low: 0.8, high: 0.95, source: MEMORY },
    },
    'H3BO3',
  ),
  pure(
    {
      name: 'soda-ash',
      group: 'flux',
      bulkDensity: { low: 0.57, high: 1.05, source: `${BULK_TABLES}, light 0.57-0.65, dense 1.00-1.05` },
    },
    'Na2CO3',
  ),
  pure(
    {
      name: 'washing-soda',
      group: 'flux',
      bulkDensity: { low: 0.8, high: 1.0, source: MEMORY },
    },
    'Na2CO3·10H2O',
  ),
  pure(
    {
      name: 'bicarbonate',
      group: 'flux',
      bulkDensity: { low: 0.69, high: 1.2, source: BULK_TABLES },
    },
    'NaHCO3',
  ),
  pure(
    {
      name: 'potash',
      group: 'flux',
      bulkDensity: { low: 0.7, high: 1.3, source: MEMORY },
    },
    'K2CO3',
  ),
  pure(
    {
      name: 'lye',
      group: 'flux',
      bulkDensity: { low: 0.9, high: 1.2, source: MEMORY },
    },
    'NaOH',
  ),
  pure(
    {
      name: 'silica',
      group: 'flux',
      bulkDensity: { low: 0.8, high: 1.6, source: MEMORY },
      meltDensity: { low: 2.2, high: 2.2, source: MEMORY },
    },
    'SiO2',
  ),
  mix(
    {
      name: 'glass',
      group: 'flux',
      bulkDensity: { low: 1.2, high: 1.6, source: MEMORY },
      meltDensity: { low: 2.5, high: 2.52, source: 'published soda-lime glass table' },
      open: 'colouring and refining additions, about one part in a hundred',
    },
    [
      { what: 'SiO2', fraction: 0.74, low: 0.7, high: 0.74 },
      { what: 'Na2O', fraction: 0.13, low: 0.12, high: 0.16 },
      { what: 'CaO', fraction: 0.105, low: 0.05, high: 0.11 },
      { what: 'Al2O3', fraction: 0.013 },
    ],
    'published soda-lime glass table, containers',
  ),
  pure(
    {
      name: 'fluorspar',
      group: 'flux',
      bulkDensity: { low: 1.3, high: 1.6, source: MEMORY },
    },
    'CaF2',
  ),
  {
    ...pure({ name: 'lime', group: 'flux' }, 'CaO'),
    givesOff: [{ what: 'CO2', when: 'heat', fraction: 0, low: 0, high: 0.4397 }],
    bulkDensity: { low: 0.8, high: 1.1, source: MEMORY },
    ambiguous: {
      means: ['quicklime', 'slaked-lime', 'limestone'],
      why: '1 g of burnt lime does the work of 1.8 g limestone or 1.3 g slaked lime, which lose their weight in the heat',
    },
  },
  pure(
    {
      name: 'quicklime',
      group: 'flux',
      bulkDensity: { low: 0.8, high: 1.1, source: MEMORY },
    },
    'CaO',
  ),
  pure(
    {
      name: 'slaked-lime',
      group: 'flux',
      bulkDensity: { low: 0.4, high: 0.65, source: MEMORY },
    },
    'Ca(OH)2',
  ),
  pure(
    {
      name: 'limestone',
      group: 'flux',
      bulkDensity: { low: 1.1, high: 1.6, source: `${BULK_TABLES}, chalk powder 1.12; lumps ${MEMORY}` },
    },
    'CaCO3',
  ),
  pure(
    {
      name: 'salt',
      group: 'salt',
      bulkDensity: { low: 1.1, high: 1.3, source: MEMORY },
      meltDensity: { low: 1.5, high: 1.6, source: MEMORY },
    },
    'NaCl',
  ),
  pure(
    {
      name: 'sal-ammoniac',
      group: 'salt',
      bulkDensity: { low: 0.6, high: 0.9, source: MEMORY },
    },
    'NH4Cl',
  ),
];

/** What cupels are made of: they drink litharge, and give nothing off once they have been heated red. */
export const REFRACTORIES: readonly MaterialRow[] = [
  mix(
    {
      name: 'bone-ash',
      group: 'refractory',
      bulkDensity: { low: 0.8, high: 0.8, source: BULK_TABLES },
      open: 'magnesia, fluoride and a little carbonate that varies',
    },
    [
      { what: 'Ca3(PO4)2', fraction: 0.86, low: 0.8, high: 0.92 },
      { what: 'CaO', fraction: 0.08, low: 0.02, high: 0.12 },
    ],
    MEMORY,
  ),
  mix(
    {
      name: 'cement',
      group: 'refractory',
      bulkDensity: { low: 1.5, high: 1.5, source: BULK_TABLES },
      open: 'alkalis, sulphate and loss on ignition',
    },
    [
      { what: 'CaO', fraction: 0.64, low: 0.6, high: 0.67 },
      { what: 'SiO2', fraction: 0.21, low: 0.18, high: 0.24 },
      { what: 'Al2O3', fraction: 0.05, low: 0.03, high: 0.08 },
      { what: 'Fe2O3', fraction: 0.03, low: 0.01, high: 0.05 },
      { what: 'MgO', fraction: 0.02, low: 0.01, high: 0.05 },
    ],
    MEMORY,
  ),
  pure(
    {
      name: 'magnesia',
      group: 'refractory',
      bulkDensity: { low: 0.5, high: 1.2, source: MEMORY },
    },
    'MgO',
  ),
];

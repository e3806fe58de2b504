/** What oxidises and what reduces in the crucible. */
import { mix, pure } from './mix';
import { BERINGER, BULK_TABLES, type MaterialRow, MEMORY } from './row';

/** What oxidises: litharge and red lead also flux, and bring the lead that collects. */
export const OXIDANTS: readonly MaterialRow[] = [
  pure(
    {
      name: 'litharge',
      group: 'collector',
      bulkDensity: { low: 2, high: 4, source: MEMORY },
      meltDensity: { low: 9.3, high: 9.7, source: MEMORY },
    },
    'PbO',
  ),
  pure(
    {
      name: 'red-lead',
      group: 'collector',
      bulkDensity: { low: 2, high: 4, source: MEMORY },
    },
    'Pb3O4',
  ),
  pure(
    {
      name: 'niter',
      group: 'oxidant',
      bulkDensity: { low: 1.0, high: 1.2, source: MEMORY },
    },
    'KNO3',
  ),
  pure(
    {
      name: 'soda-niter',
      group: 'oxidant',
      bulkDensity: { low: 1.1, high: 1.3, source: MEMORY },
    },
    'NaNO3',
  ),
  pure(
    {
      name: 'manganese-dioxide',
      group: 'oxidant',
      bulkDensity: { low: 1.2, high: 2.0, source: MEMORY },
    },
    'MnO2',
  ),
  pure(
    {
      name: 'iron-rust',
      group: 'oxidant',
      bulkDensity: { low: 0.8, high: 1.6, source: MEMORY },
    },
    'Fe2O3',
  ),
];

/** What brings metal down out of its oxide. Oxygen taken: g of lead brought down per g, times the oxygen of litharge. */
export const REDUCTANTS: readonly MaterialRow[] = [
  {
    ...mix(
      {
        name: 'flour',
        group: 'reductant',
        bulkDensity: { low: 0.5, high: 0.6, source: MEMORY },
        open: 'ash and fat, a few parts in a hundred',
      },
      [
        { what: 'C6H10O5', fraction: 0.85, low: 0.82, high: 0.87 },
        { what: 'H2O', fraction: 0.13, low: 0.1, high: 0.15 },
      ],
      `starch, protein and moisture ${MEMORY}; lead brought down: ${BERINGER}`,
    ),
    takesOxygen: { practical: 0.865, theory: 1.007, source: `11.2 g lead per g, ${BERINGER}` },
  },
  {
    ...mix(
      {
        name: 'charcoal',
        group: 'reductant',
        bulkDensity: { low: 0.2, high: 0.6, source: `${BULK_TABLES}, lump 0.2, ground 0.6` },
        open: 'ash, and tar that was not burnt off',
      },
      [
        { what: 'C', fraction: 0.85, low: 0.75, high: 0.95 },
        { what: 'H2O', fraction: 0.05, low: 0.01, high: 0.1 },
      ],
      `composition ${MEMORY}; lead brought down: ${BERINGER}`,
    ),
    takesOxygen: { practical: 1.745, theory: 2.264, source: `22.6 g lead per g, ${BERINGER}` },
  },
  {
    ...pure(
      {
        name: 'tartar',
        group: 'reductant',
        bulkDensity: { low: 0.7, high: 1.0, source: MEMORY },
      },
      'KHC4H4O6',
    ),
    takesOxygen: {
      practical: 0.425,
      theory: 0.425,
      source: 'burnt to the end, by formula; in practice half of flour, the same within 2 %',
    },
  },
  pure(
    {
      name: 'sugar',
      group: 'reductant',
      bulkDensity: { low: 0.8, high: 0.95, source: MEMORY },
    },
    'C12H22O11',
  ),
  {
    ...pure(
      {
        name: 'iron',
        group: 'reductant',
        bulkDensity: { low: 2.5, high: 4.5, source: MEMORY },
      },
      'Fe',
    ),
    meltDensity: { low: 6.9, high: 7.1, source: MEMORY },
  },
  pure(
    {
      name: 'iron-nails',
      group: 'reductant',
      bulkDensity: { low: 1.5, high: 4, source: MEMORY },
    },
    'Fe',
  ),
];

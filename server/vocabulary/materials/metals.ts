/** Metals from the shelf: collectors, inquarting silver, precipitating copper and zinc. */
import { element } from '../elements';
import { givesOffOf } from './heat';
import { type Constituent, type DensityRange, type MaterialGroup, type MaterialRow, MEMORY, WEIGHTS } from './row';

const metal = (name: string, symbol: string, meltDensity: number, group: MaterialGroup = 'metal'): MaterialRow => ({
  name,
  group,
  composition: [{ what: symbol, fraction: 1 }],
  givesOff: givesOffOf([{ what: symbol, fraction: 1 }]),
  bulkDensity: loose(symbol),
  meltDensity: { low: meltDensity, high: meltDensity, source: MEMORY },
  source: WEIGHTS,
});

/** From shot and clippings, about half air, to the solid bar. */
function loose(symbol: string): DensityRange | undefined {
  const solid = element(symbol)?.density;
  return (
    solid && { low: solid.value / 2, high: solid.value, source: `solid: ${solid.source}; half for shot: ${MEMORY}` }
  );
}

const alloy = (name: string, composition: readonly Constituent[], source: string, open?: string): MaterialRow => ({
  name,
  group: 'metal',
  composition,
  givesOff: givesOffOf(composition),
  ...(open === undefined ? {} : { open }),
  source,
});

export const METALS: readonly MaterialRow[] = [
  metal('gold', 'Au', 17.3),
  metal('silver', 'Ag', 9.3),
  metal('copper', 'Cu', 8.0),
  metal('lead', 'Pb', 10.7, 'collector'),
  metal('test-lead', 'Pb', 10.7, 'collector'),
  metal('zinc', 'Zn', 6.6),
  metal('tin', 'Sn', 7.0),
  metal('bismuth', 'Bi', 10.1, 'collector'),
  metal('nickel', 'Ni', 7.8),
  metal('palladium', 'Pd', 10.4),
  metal('platinum', 'Pt', 19.8),
  alloy(
    'sterling',
    [
      { what: 'Ag', fraction: 0.925 },
      { what: 'Cu', fraction: 0.075 },
    ],
    'the fineness 925; copper as the rest is common practice, no source',
  ),
  alloy(
    'brass',
    [
      { what: 'Cu', fraction: 0.65, low: 0.55, high: 0.9 },
      { what: 'Zn', fraction: 0.35, low: 0.1, high: 0.45 },
    ],
    MEMORY,
  ),
  alloy(
    'bronze',
    [
      { what: 'Cu', fraction: 0.88, low: 0.78, high: 0.95 },
      { what: 'Sn', fraction: 0.1, low: 0.04, high: 0.22 },
    ],
    MEMORY,
    'zinc, lead, phosphorus',
  ),
  {
    ...alloy(
      'solder',
      [
        { what: 'Ag', fraction: 0.5, low: 0, high: 0.8 },
        { what: 'Cu', fraction: 0.2, low: 0, high: 0.4 },
        { what: 'Zn', fraction: 0.1, low: 0, high: 0.25 },
        { what: 'Sn', fraction: 0.05, low: 0, high: 0.97 },
        { what: 'Pb', fraction: 0, low: 0, high: 0.6 },
        { what: 'Cd', fraction: 0, low: 0, high: 0.25 },
      ],
      MEMORY,
      'gold, in solder for gold',
    ),
    ambiguous: {
      means: ['silver-solder', 'soft-solder'],
      why: 'hard solder is silver with zinc, soft solder is tin and lead, which make gold brittle',
    },
  },
  alloy(
    'silver-solder',
    [
      { what: 'Ag', fraction: 0.65, low: 0.4, high: 0.8 },
      { what: 'Cu', fraction: 0.22, low: 0.1, high: 0.4 },
      { what: 'Zn', fraction: 0.13, low: 0.02, high: 0.25 },
      { what: 'Cd', fraction: 0, low: 0, high: 0.25 },
    ],
    MEMORY,
  ),
  alloy(
    'soft-solder',
    [
      { what: 'Sn', fraction: 0.6, low: 0.3, high: 0.97 },
      { what: 'Pb', fraction: 0.4, low: 0, high: 0.7 },
    ],
    MEMORY,
  ),
];

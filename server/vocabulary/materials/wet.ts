/** Acids, water and the salts of wet refining, at the strengths they are usually bought in. */
import { givesOffOf } from './heat';
import {
  BERINGER,
  type Constituent,
  type DensityRange,
  type MaterialGroup,
  type MaterialRow,
  MEMORY,
  WEIGHTS,
} from './row';

const solution = (name: string, group: MaterialGroup, what: Constituent, bulkDensity: DensityRange): MaterialRow => {
  const { fraction, low = fraction, high = fraction } = what;
  const composition = [what, { what: 'H2O', fraction: 1 - fraction, low: 1 - high, high: 1 - low }];
  return {
    name,
    group,
    composition,
    givesOff: givesOffOf(composition),
    bulkDensity,
    source: `${MEMORY}, as usually bought`,
  };
};

const salt = (name: string, formula: string, group: MaterialGroup = 'salt'): MaterialRow => ({
  name,
  group,
  composition: [{ what: formula, fraction: 1 }],
  givesOff: givesOffOf([{ what: formula, fraction: 1 }]),
  source: WEIGHTS,
});

export const WET: readonly MaterialRow[] = [
  solution(
    'nitric-acid',
    'acid',
    { what: 'HNO3', fraction: 0.68, low: 0.65, high: 0.7 },
    { low: 1.4, high: 1.42, source: `68 % is 1.414 at 15 °C, ${BERINGER}` },
  ),
  solution(
    'hydrochloric-acid',
    'acid',
    { what: 'HCl', fraction: 0.36, low: 0.31, high: 0.38 },
    { low: 1.15, high: 1.19, source: MEMORY },
  ),
  solution(
    'sulphuric-acid',
    'acid',
    { what: 'H2SO4', fraction: 0.96, low: 0.93, high: 0.98 },
    { low: 1.83, high: 1.84, source: MEMORY },
  ),
  solution(
    'ammonia',
    'salt',
    { what: 'NH3', fraction: 0.25, low: 0.24, high: 0.28 },
    { low: 0.89, high: 0.91, source: MEMORY },
  ),
  {
    ...salt('water', 'H2O', 'water'),
    bulkDensity: { low: 0.997, high: 0.999, source: 'density of air-free water, 15 to 25 °C (Tanaka et al. 2001)' },
  },
  salt('copperas', 'FeSO4·7H2O', 'reductant'),
  salt('metabisulphite', 'Na2S2O5', 'reductant'),
  salt('oxalic-acid', 'H2C2O4·2H2O', 'reductant'),
  salt('urea', 'CO(NH2)2'),
  salt('sulphamic-acid', 'H3NSO3'),
];

/** Published limits of what may be breathed, each with its source. They are no permission: local law and licensed practice come first. */
import { answer, assume, FROM_MEMORY, noAnswer, type Result } from './result';

export type LimitKind =
  | 'OSHA PEL'
  | 'OSHA ceiling'
  | 'OSHA action level'
  | 'NIOSH REL'
  | 'NIOSH 15 min'
  | 'NIOSH ceiling'
  | 'NIOSH IDLH';

export interface ExposureLimit {
  readonly substance: string;
  readonly kind: LimitKind;
  readonly value: number;
  readonly unit: 'mg/m3' | 'ppm';
  readonly source: string;
}

const POCKET_GUIDE = 'NIOSH Pocket Guide';
const TABLE = 'general engineering table of exposure limits';

const limit = (
  substance: string,
  kind: LimitKind,
  value: number,
  unit: 'mg/m3' | 'ppm',
  source: string,
): ExposureLimit => ({
  substance,
  kind,
  value,
  unit,
  source,
});

export const EXPOSURE_LIMITS: readonly ExposureLimit[] = [
  limit('lead', 'OSHA PEL', 0.05, 'mg/m3', POCKET_GUIDE),
  limit('lead', 'NIOSH REL', 0.05, 'mg/m3', POCKET_GUIDE),
  limit('lead', 'OSHA action level', 0.03, 'mg/m3', 'CDC page on lead limits'),
  limit('lead', 'NIOSH IDLH', 100, 'mg/m3', POCKET_GUIDE),
  limit('mercury vapour', 'NIOSH REL', 0.05, 'mg/m3', 'page quoting NIOSH'),
  limit(
    'mercury',
    'OSHA PEL',
    0.1,
    'mg/m3',
    'pages quoting 29 CFR 1910.1000 table Z-2, where it is listed as a ceiling',
  ),
  limit('nitrogen dioxide', 'OSHA ceiling', 5, 'ppm', 'NIOSH IDLH documentation'),
  limit('nitrogen dioxide', 'NIOSH 15 min', 1, 'ppm', 'NIOSH IDLH documentation'),
  limit('nitrogen dioxide', 'NIOSH IDLH', 20, 'ppm', 'NIOSH IDLH documentation'),
  limit('chlorine', 'OSHA ceiling', 1, 'ppm', TABLE),
  limit('sulphur dioxide', 'OSHA PEL', 5, 'ppm', TABLE),
  limit('carbon monoxide', 'OSHA PEL', 50, 'ppm', 'page quoting OSHA'),
  limit('carbon monoxide', 'NIOSH REL', 35, 'ppm', 'page quoting NIOSH'),
  limit('carbon monoxide', 'NIOSH ceiling', 200, 'ppm', 'page quoting NIOSH'),
  limit('zinc oxide fume', 'OSHA PEL', 5, 'mg/m3', TABLE),
  limit('cadmium', 'OSHA PEL', 0.005, 'mg/m3', TABLE),
  limit('arsenic', 'OSHA PEL', 0.01, 'mg/m3', FROM_MEMORY),
  limit('beryllium', 'OSHA PEL', 0.0002, 'mg/m3', FROM_MEMORY),
  limit('tellurium', 'OSHA PEL', 0.1, 'mg/m3', TABLE),
  limit('crystalline silica', 'OSHA PEL', 0.05, 'mg/m3', FROM_MEMORY),
  limit('hydrogen cyanide', 'OSHA PEL', 10, 'ppm', TABLE),
];

export function exposureLimit(substance: string, kind: LimitKind): ExposureLimit | undefined {
  return EXPOSURE_LIMITS.find((each) => each.substance === substance && each.kind === kind);
}

export const limitsOf = (substance: string): readonly ExposureLimit[] =>
  EXPOSURE_LIMITS.filter((each) => each.substance === substance);

/** Limit for lead over a longer shift, µg/m³: 400 over the hours. Up to 8 hours the limit is 50. */
export function leadLimitMicrograms(shiftHours: number): Result<number> {
  if (!(shiftHours > 0 && shiftHours <= 24)) return noAnswer('a shift has up to 24 hours');
  return answer(Math.min(50, 400 / shiftHours), [assume('400 over the hours of the shift', 'CDC page on lead limits')]);
}

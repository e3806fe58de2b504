/**
 * Runs that chance seldom makes: Nelson's eight tests, as listed in the documentation of two statistics libraries. For watching a shop the
 * first alone is the custom; all eight together raise a false alarm often. Figures are in standard deviations from their centre.
 */

export interface RunTest {
  readonly says: string;
  /** How many figures in a row it looks at. */
  readonly length: number;
  readonly holds: (row: readonly number[]) => boolean;
}

const oneSide = (row: readonly number[], least: number, beyond: number): boolean =>
  [1, -1].some((side) => row.filter((z) => side * z > beyond).length >= least);

const steps = (row: readonly number[]): number[] => row.slice(1).map((z, at) => Math.sign(z - row[at]!));

export const RUN_TESTS: readonly RunTest[] = [
  { says: 'beyond three sigma', length: 1, holds: ([z]) => Math.abs(z!) > 3 },
  { says: 'nine in a row on one side', length: 9, holds: (row) => oneSide(row, 9, 0) },
  {
    says: 'six in a row rising or falling',
    length: 6,
    holds: (row) => [1, -1].some((way) => steps(row).every((step) => step === way)),
  },
  {
    says: 'fourteen in a row up and down in turn',
    length: 14,
    holds: (row) => steps(row).every((step, at, all) => step !== 0 && (at === 0 || step === -all[at - 1]!)),
  },
  { says: 'two of three beyond two sigma on one side', length: 3, holds: (row) => oneSide(row, 2, 2) },
  { says: 'four of five beyond one sigma on one side', length: 5, holds: (row) => oneSide(row, 4, 1) },
  { says: 'fifteen in a row within one sigma', length: 15, holds: (row) => row.every((z) => Math.abs(z) < 1) },
  { says: 'eight in a row outside one sigma', length: 8, holds: (row) => row.every((z) => Math.abs(z) > 1) },
];

/** Index of the figure at which a test first holds; undefined if it never does. */
export const firstRun = (z: readonly number[], { length, holds }: RunTest): number | undefined => {
  for (let end = length; end <= z.length; end++) if (holds(z.slice(end - length, end))) return end - 1;
  return undefined;
};

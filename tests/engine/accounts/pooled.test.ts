/** Several assays of one lot: what they have in common does not average away, however they stand on the page. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread } from '../../../server/engine/accounts/inexact';
import { hintsOf } from '../../../server/features/hints';
import { findingsOf } from '../../../server/rules/findings';
import { accountsOf } from '../../../server/workspace/accounts';
import type { Workspace } from '../../../server/workspace/workspace';
import { pageWorkspace } from '../../support/workspace';

const goldOf = (page: Workspace, lot = 'A') => {
  const { metals } = accountsOf(page);
  const known = metals.best(metals.lineage.segmentAt(lot)!).get('Au');
  return { value: known!.share!.value, u: spread(known!.share!) };
};

const says = (page: Workspace): string[] =>
  findingsOf(page, 'page.melt')
    .filter(({ code }) => code === 'assays-disagree')
    .map(({ says: words }) => words);

const RECEIVED = '2026-04-01\nreceive A 30.00 g\n';
const readings = (values: readonly string[]): string => values.map((value) => `  Au ${value} %, Ag 5.0 %`).join('\n');
const inOne = (how: string, values: readonly string[]) =>
  pageWorkspace(`${RECEIVED}assay A by ${how}\n${readings(values)}`);
const inMany = (how: string, values: readonly string[]) =>
  pageWorkspace(RECEIVED + values.map((value) => `assay A by ${how}\n${readings([value])}`).join('\n'));

const SIX = ['90.0', '91.0', '89.0', '90.5', '89.5', '90.0'];

describe('readings of one method', () => {
  // Scatter of the six 0.707 %, of their mean 0.289 %; the method 0.4 % in all of them, the last digit 0.1 %/√12.
  test('come to the same in one entry and in six, and nobody is told that they disagree', () => {
    const expected = Math.hypot(0.004, 0.001 / Math.sqrt(12), 0.0070711 / Math.sqrt(6));
    for (const page of [inOne('xrf', SIX), inMany('xrf', SIX)]) {
      expect(goldOf(page).value).toBeCloseTo(0.9, 12);
      expect(goldOf(page).u).toBeCloseTo(expected, 6);
      expect(says(page)).toEqual([]);
    }
  });

  test('of one laboratory have its error in common: four are hardly surer than one', () => {
    const four = ['90.00', '90.02', '89.98', '90.00'];
    expect(goldOf(inMany('fire at lab', four)).u).toBeCloseTo(goldOf(inOne('fire at lab', four)).u, 12);
    expect(goldOf(inMany('fire at lab', four)).u).toBeGreaterThan(0.001);
  });

  test('of two laboratories average: they know nothing of each other', () => {
    const page = pageWorkspace(
      `${RECEIVED}assay A by fire at lab\n  Au 90.00 %\nassay A by fire at other-lab\n  Au 90.00 %`,
    );
    expect(goldOf(page).u).toBeCloseTo(0.001 / Math.SQRT2, 5);
  });

  test('a guess beside them is none of them', () => {
    const page = inMany('xrf', ['90.00', '90.02', '~70']);
    expect(goldOf(page).value).toBeCloseTo(0.9001, 9);
  });

  test('by bead and cornet, and as a share: one series too', () => {
    const page = pageWorkspace(
      `${RECEIVED}assay A by fire\n  took 500.0 mg\n  cornet 450.0 mg\nassay A by fire\n  Au 90.00 %`,
    );
    expect(goldOf(page).u).toBeGreaterThan(0.00099);
  });

  test('split over entries in any way leave what is known as it is', () => {
    const value = fc.integer({ min: 850, max: 950 }).map((tenths) => (tenths / 10).toFixed(1));
    fc.assert(
      fc.property(
        fc.array(fc.array(value, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 4 }),
        fc.constantFrom('xrf', 'fire at lab', 'touch'),
        (split, how) => {
          const one = goldOf(inOne(how, split.flat()));
          const many = pageWorkspace(RECEIVED + split.map((part) => `assay A by ${how}\n${readings(part)}`).join('\n'));
          expect(goldOf(many).value).toBeCloseTo(one.value, 12);
          expect(goldOf(many).u).toBeCloseTo(one.u, 12);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('assays that disagree', () => {
  test('one far from the others of its kind is named where it stands', () => {
    expect(says(inMany('xrf', ['90.0', '90.1', '94.0', '90.0']))).toEqual([
      expect.stringContaining('Au 94.0 % here and 90.0 % in 3 other assays by xrf'),
    ]);
  });

  test('of two the later is held against the earlier', () => {
    expect(says(inMany('xrf', ['90.0', '94.0']))).toEqual([
      expect.stringContaining('Au 94.0 % here and 90.0 % in assay A by xrf'),
    ]);
  });

  test('of another method: once, series against series', () => {
    const page = pageWorkspace(
      `${RECEIVED}assay A by fire at lab\n  Au 86.00 %\n${SIX.map((one) => `assay A by xrf\n  Au ${one} %`).join('\n')}`,
    );
    expect(says(page)).toEqual([
      expect.stringContaining('Au 90.0 % in 6 assays by xrf and 86.0 % in assay A by fire at lab'),
    ]);
  });
});

describe('the hint at an assay', () => {
  const hintAt = (text: string, line: string): string | undefined => {
    const page = pageWorkspace(text);
    return hintsOf(page, 'page.melt').find(({ offset }) => text.slice(0, offset).split('\n').at(-1) === line)?.label;
  };
  const SAMPLED = '2026-03-01\nreceive B 30.00 g\nassay B by xrf\n  Au 90.2 %\nsample B\n  out Q 0.500 g drillings\n';

  test('of a sample is held against what its lot is known by without it', () => {
    expect(hintAt(`${SAMPLED}assay Q by fire at lab\n  Au 88.00 %`, 'assay Q by fire at lab')).toBe(
      'Au 88.0 % ±0.2, by xrf 90.2 %',
    );
  });

  test.each([
    ['stamp Au 22 k', 'by stamp ~90 %'],
    ['claim Au 91 %', 'by claim ~91 %'],
    ['expect Au 91 %', 'by expectation ~91 %'],
  ])('names what was said: %s', (said, by) => {
    expect(hintAt(`2026-03-01\nreceive A 30.00 g\n  ${said}\nassay A by fire\n  Au 90.0 %`, 'assay A by fire')).toBe(
      `Au 90.0 % ±0.2, ${by}`,
    );
  });

  test('names products where nothing was said', () => {
    const page =
      '2026-03-01\nreceive A 100.00 g\nassay A by fire\n  Au 30.0 %, Ag 60.0 %\n' +
      'part P\n  in A 100.00 g\n  add nitric-acid 400 mL\n  out Pau 30.0 g sponge annealed\n  out PL 2.0 L solution';
    expect(hintAt(page, 'assay A by fire')).toBe('Au 30.0 % ±0.2, by products ~29.8 %');
  });
});

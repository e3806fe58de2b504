/** Side views, as indented rows: label, then its detail behind a colon. */
import { describe, expect, test } from 'vitest';
import { type Branch, dayView, familyView, onHandView, placesView } from '../../server/features/views';
import { workspaceOf } from '../support/workspace';

const PAGE = `2026-05-04
receive H1 from high-fell
  12.00 g
  claim Au 80 %

receive A 20.00 g
  bought 900 USD

cast C1
  in A
  out B 19.98 g bar, at strongbox

plan cupel K1
  in B

2026-05-05
assay B by fire, corrected
  Au 90.00 ±0.05 % expanded
`;

const workspace = workspaceOf({ 'page.melt': PAGE, 'workshop.yaml': 'parties:\n  high-fell: customer\n' });

const rows = (branches: readonly Branch[], indent = ''): string[] =>
  branches.flatMap(({ label, detail, children }) => [
    `${indent}${label}${detail === '' ? '' : `: ${detail}`}`,
    ...rows(children, `${indent}  `),
  ]);

describe('the side views', () => {
  test('what is on hand, by owner, with fine metal and place', () => {
    // 19.98 × 0.9000 = 17.982
    expect(rows(onHandView(workspace))).toEqual([
      'the shop: Au 17.982 g',
      '  B: 19.98 g bar · Au 17.982 g ±0.011 · at strongbox',
      'high-fell: Au ~9.6 g',
      expect.stringMatching(/^ {2}H1: 12\.00 g · Au ~9\.6 g ±/),
    ]);
  });

  test('what is on hand, by place; whose it is where it is not the shop’s', () => {
    expect(rows(placesView(workspace))).toEqual([
      'strongbox: Au 17.982 g',
      '  B: 19.98 g bar · Au 17.982 g ±0.011',
      'no place written: Au ~9.6 g',
      expect.stringMatching(/^ {2}H1: 12\.00 g · Au ~9\.6 g ±.* · high-fell$/),
    ]);
  });

  test('the day under the cursor, with what is planned', () => {
    expect(rows(dayView(workspace, 'page.melt', PAGE.indexOf('in A')))).toEqual([
      '2026-05-04: 4 entries, 1 heat',
      'receive H1',
      'receive A',
      'cast C1: 0.02 g lost (0.10 %), usual',
      'plan cupel K1',
    ]);
  });

  test('the lot under the cursor, and nothing where there is none', () => {
    expect(rows(familyView(workspace, 'page.melt', PAGE.indexOf('out B') + 4))).toEqual([
      'B: 19.98 g bar · Au 17.982 g ±0.011',
      'came of',
      expect.stringMatching(/^ {2}A: 20\.00 g · Au 1[78]\.\d+ g ±.* · cast C1 2026-05-04$/),
    ]);
    expect(familyView(workspace, 'page.melt', PAGE.indexOf('cast'))).toEqual([]);
  });

  test('every lot leads to its line', () => {
    const [shop] = onHandView(workspace);
    const { file, start } = shop!.children[0]!.at!;
    expect(file).toBe('page.melt');
    expect(PAGE.slice(start).startsWith('out B')).toBe(true);
  });
});

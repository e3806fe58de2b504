/** A class on one sample: each group against all, and against the certified value. */
import { describe, expect, it } from 'vitest';
import { made, ofPage } from '../support/documents';

const PAGE = `2026-05-04
receive REF 20.00 g
  claim Au 75.10 ±0.05 % expanded
assay REF by fire, Au 75.0 %, hand AB
assay REF by fire, Au 75.2 %, hand CD
assay REF by fire, Au 75.1 %, hand CD
assay REF by fire, Au 75.05 %, hand EF
assay REF by fire, Au 76.4 %, hand GH
assay REF by fire at harbour-lab, Au 75.3 %`;

const rows = (page: string): readonly (readonly string[])[] =>
  made(ofPage(page), 'assay-comparison', {})
    .sections.filter(({ title }) => title === 'REF, by hand')
    .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])))
    .map(({ cells }) => cells.map(({ text, ground }) => (ground ? `${text} ${ground}` : text)));

describe('a sample that a class assayed', () => {
  it('shows each hand against the median of all and against the claim', () => {
    // Means 75.00, 75.15, 75.05, 76.40: median 75.10, deviations 0.10, 0.05, 0.05, 1.30, their median 0.075; 0.6745 × 1.30 / 0.075 = 11.7.
    expect(rows(PAGE)).toEqual([
      ['AB', 'Au', '1', '75.00 %', '-0.10 points', '-0.90', '-0.10 points'],
      ['CD', 'Au', '2', '75.15 %', '+0.05 points', '0.45', '+0.05 points'],
      ['EF', 'Au', '1', '75.05 %', '-0.05 points', '-0.45', '-0.05 points'],
      ['GH', 'Au', '1', '76.40 %', '+1.30 points', '12 far off', '+1.30 points'],
      ['all 4', 'Au', '5', '75.10 %', '', '', '0.00 points'],
    ]);
  });

  it('judges nobody where there is no spread, and says nothing of the claim where there is none', () => {
    const same = PAGE.replace(/ {2}claim.*\n/, '').replace(/Au 75[.\d]+ %, hand/g, 'Au 75.0 %, hand');
    // An empty column is left out: the score, and the claim.
    expect(rows(same).map((cells) => cells.at(-1))).toEqual([
      '0.00 points',
      '0.00 points',
      '0.00 points',
      '+1.40 points',
      '',
    ]);
  });

  it('is no class with fewer hands', () => {
    expect(rows(PAGE.replace(', hand GH', ''))).toEqual([]);
  });
});

/** What samples cost in metal, and whether larger ones would help. */
import { describe, expect, it } from 'vitest';
import type { Choice } from '../../server/documents/choice';
import { made, ofPage } from '../support/documents';

const PAGE = `2026-05-04
quote Au 3110.34768 USD/ozt
receive A 200.00 g
sample A
  out A1 2.00 g drillings
  out A2 2.00 g drillings, to harbour-lab
assay A1 by fire, Au 60.0 %
assay A2 by fire, Au 61.0 %`;

const taken = (page: string, choice: Choice = {}) => {
  const found = made(ofPage(page), 'assay-comparison', choice).sections.find(
    ({ title }) => title === 'What samples took',
  );
  const blocks = found?.blocks ?? [];
  return {
    rows: blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])),
    told: blocks.flatMap((block) => (block.form === 'sentences' ? block.sentences.map(({ text }) => text) : [])),
  };
};

describe('what samples took', () => {
  it('is told by weight, by metal and by what that is worth', () => {
    const { rows } = taken(PAGE);
    expect(rows.map(({ cells }) => cells.slice(0, 4).map(({ text }) => text))).toEqual([
      ['A1', 'A', '2026-05-04', 'here'],
      ['A2', 'A', '2026-05-04', 'harbour-lab'],
    ]);
    // 2.00 g at 60.0 % are 1.2 g of gold, at 100 USD/g 120 USD.
    expect(Number(rows[0]!.cells[5]!.figure!.value)).toBeCloseTo(1.2, 6);
    expect(Number(rows[0]!.cells.at(-1)!.figure!.value)).toBeCloseTo(120, 2);
  });

  it('says how far two of one lot lie apart, and what is of the assay', () => {
    // 60.0 and 61.0 about their mean 60.5: d = 16.53 ‰, d/√2 = 11.69.
    expect(taken(PAGE).told[0]).toBe(
      'Two samples of one lot scatter by 12 ‰ of the gold in them (√(Σ d²/2n), 1 pair), the assay with it: no sample was assayed twice.',
    );
    // A1 once more, 60.2: its mean 60.1. Apart 0.9/60.55/√2 = 10.51 ‰, again 0.2/60.1/√2 = 2.353; √(10.51² − 2.353²) = 10.24.
    const again = taken(`${PAGE}\nassay A1 by fire, Au 60.2 %`).told;
    expect(again[0]).toBe(
      'Two samples of one lot scatter by 11 ‰ of the gold in them (√(Σ d²/2n), 1 pair), the assay alone by 2.4 ‰ (1 pair), so the sampling by 10 ‰.',
    );
    expect(again[1]).toContain('four times as heavy would halve what is of the sampling');
    expect(again[2]).toBe('One pair is few: read nothing fine into it.');
  });

  it('does not blame the sampling for what the assay scatters', () => {
    expect(taken(`${PAGE}\nassay A1 by fire, Au 62.0 %`).told[1]).toBe(
      'Larger samples would not help: the assay explains all of it.',
    );
  });

  it('says that one sample alone tells nothing of it, and is left out where none was taken', () => {
    expect(taken(PAGE.replace(/assay A2.*/, 'note none')).told[0]).toContain('no such pair is written in this period');
    expect(taken('2026-05-04\nreceive A 20.00 g\nassay A by fire, Au 60.0 %')).toEqual({ rows: [], told: [] });
    expect(taken(PAGE, { from: '2026-06-01' }).rows).toEqual([]);
  });
});

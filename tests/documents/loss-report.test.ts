/** The loss report tells of the same heats as the findings do. */
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { made, ofPage } from '../support/documents';

/** Slag and button together make up the whole; of the metal alone so much is missing. */
const melt = (button: string, slag: string): string =>
  `2026-05-04\nreceive A 80.00 g\n  material scrap\nmelt M1\n  in A 80.00 g\n  add borax-glass 20 g\n  out B ${button} g button\n  out S ${slag} g slag`;

const outside = (page: string): readonly string[] =>
  made(ofPage(page), 'loss-report', {})
    .sections.filter(({ title }) => title === 'Outside what is usual')
    .flatMap(({ blocks }) =>
      blocks.flatMap((block) =>
        block.form === 'table' ? block.rows.map(({ cells }) => cells.at(-1)!.text) : ['none outside'],
      ),
    );

describe('a period in which nothing was done', () => {
  it('has no step that lost too much, for it has none, and no limits of nothing', () => {
    const page = melt('79.80', '19.9');
    const { sections } = made(ofPage(page), 'loss-report', { to: '2026-04-30' });
    expect(sections[0]!.blocks).toEqual([
      { form: 'sentences', sentences: [{ text: 'No step was done in this period.', place: undefined }] },
    ]);
    expect(sections.map(({ title }) => title)).toEqual([
      'Outside what is usual',
      'Where gold went that is not in a lot',
      'Where silver went that is not in a lot',
    ]);
  });
});

describe('metal that flux and slag hide from the balance', () => {
  it('is missing in the report as it is in the finding', () => {
    const page = melt('75.00', '24.8');
    expect(findingsOf(ofPage(page), 'page.melt').map(({ says }) => says)).toEqual([
      '5.00 g of metal is missing in melt M1, more than such a melt usually loses (up to 0.40 g). Prills in the slag?',
    ]);
    expect(outside(page)).toEqual([
      '5.00 g of metal is missing in melt M1, more than such a melt usually loses (up to 0.40 g).',
    ]);
  });

  it('is too much in both', () => {
    const page = melt('80.50', '19.3');
    expect(findingsOf(ofPage(page), 'page.melt').map(({ code }) => code)).toEqual(['metal-gained']);
    expect(outside(page)).toEqual(['80.50 g of metal came out of melt M1, 0.50 g more than was charged.']);
  });

  it('is in neither where all is as usual', () => {
    const page = melt('79.80', '19.9');
    expect(findingsOf(ofPage(page), 'page.melt')).toEqual([]);
    expect(outside(page)).toEqual(['none outside']);
  });
});

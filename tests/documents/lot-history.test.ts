/** The history of a lot of which a part was taken. */
import { expect, it } from 'vitest';
import { formed, ofPage } from '../support/documents';

const PAGE = `2026-05-04
receive A 100.00 g
assay A by fire
  Au 60.0 %
cast C1
  in 40.00 g of A
  out BAR-1 40.00 g bar
`;

// 100.00 g − 40.00 g leave 60.00 g; 60.00 g × 60.0 % is 36.00 g of gold.
it('tells what the rest holds', () => {
  const text = formed('md', 'lot-history', { lot: 'A' }, ofPage(PAGE));
  expect(text).toContain('## What it holds, of 60.00 g ±');
  expect(text).toMatch(/\| Au \| 60.0 % ±0.\d+ \| 36.00 g ±/);
});

// Gone whole: what there was at first. 100.00 g × 60.0 % is 60.0 g.
it('of one that is used up, what it held', () => {
  const text = formed(
    'md',
    'lot-history',
    { lot: 'A' },
    ofPage(PAGE.replace('40.00 g of A', 'A').replace('40.00 g bar', '99.98 g bar')),
  );
  expect(text).toContain('## What it held, of 100.00 g ±');
  expect(text).toMatch(/\| Au \| 60.0 % ±0.\d+ \| 60.00? g ±/);
});

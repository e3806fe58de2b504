/** Selling beside the lines of a page: what stands at their ends, and the whole sum in the hover. */
import { describe, expect, test } from 'vitest';
import { hintsOf } from '../../server/features/hints';
import { hoverAt } from '../../server/features/hover';
import type { Workspace } from '../../server/workspace/workspace';
import { SETTLED } from '../support/settled';
import { pageWorkspace } from '../support/workspace';

const SHOP = `shop: { currency: USD }
parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 %, Ag: 90 % }
        charges:
          melting: 40.00 USD
        days: 14 days
        price day: settled
`;

// 50.00 × 0.9 × 0.98 × 2500 / 31.1034768 = 3544.62; 50.00 × 0.05 × 0.9 × 30 / 31.1034768 = 2.17; less 40.00: 3506.79.
// Of the whole, 45 × 80.38 + 2.5 × 0.9645 = 3619.34, that is 96.9 %.
const PAGE = `2026-05-04
quote Au 2500.00 USD/ozt
quote Ag 30.00 USD/ozt
receive A 50.00 g
assay A by fire, corrected
  Au 90.00 %, Ag 5.00 %
offer A from quay-refiner
ship V1 to quay-refiner
  in A 50.00 g
${SETTLED}`;

/** The label at the end of the line that begins so. */
const labelAt = (workspace: Workspace, start: string): string | undefined => {
  const { text } = workspace.pages.get('page.melt')!.page;
  const end = text.indexOf('\n', text.indexOf(start));
  return hintsOf(workspace, 'page.melt').find(({ offset }) => offset === end)?.label;
};

const hoverOn = (workspace: Workspace, start: string): string => {
  const { text } = workspace.pages.get('page.melt')!.page;
  return hoverAt(workspace, 'page.melt', text.indexOf(start))?.markdown ?? '';
};

describe('at the end of the line', () => {
  const workspace = pageWorkspace(PAGE, SHOP);

  test('of an offer: what it brings, and how much of the metal that is', () => {
    expect(labelAt(workspace, 'offer A')).toBe('3506.8 USD ±1.7, 96.9 % of the metal');
  });

  test('of a shipment: what it is worth by the terms', () => {
    expect(labelAt(workspace, 'ship V1')).toBe('worth 3506.8 USD ±1.7 by the terms');
  });

  test('of a second settlement: that it is not counted, and nothing of what it owes', () => {
    const second = '2026-05-20\nsettle V1 with quay-refiner\n  total 1.00 USD\n';
    expect(labelAt(pageWorkspace(`${PAGE}${second}`, SHOP), 'settle V1 with')).toBe('settled before: not counted');
  });

  test('of a settlement: that it agrees, or what is owed', () => {
    expect(labelAt(workspace, 'settle V1')).toBe('agrees, 3503.25 USD');
    const slips = PAGE.replace('3503.25', '3053.25').replace('price Au 2500.00', 'price Au 2499.00');
    expect(labelAt(pageWorkspace(slips, SHOP), 'settle V1')).toBe('2 lines differ: 450.00 USD owed');
  });

  test('of a settlement whose money has not come: that it has not', () => {
    const waits = PAGE.replace(', paid 2026-05-11', '');
    expect(labelAt(pageWorkspace(waits, SHOP), 'settle V1')).toBe('agrees, 3503.25 USD, not paid yet');
  });

  test("of a customer's metal: what is still owed of it, and that their bill agrees; nothing is priced", () => {
    const shop = `${SHOP}  hall-bench:\n    role: customer\n    terms:\n      2026-01-01:\n        pays: { Au: 98 % }\n        charges: { toll: 60.00 USD }\n`;
    const page = `2026-05-04
quote Au 2500.00 USD/ozt
receive H from hall-bench
  50.00 g
assay H by fire, corrected
  Au 70.00 ±0.02 % expanded
ship V2 to hall-bench
  in 40.00 g of H
settle H
  received 50.00 g
  charge toll 60.00 USD
  total 60.00 USD, paid 2026-05-04
`;
    // 50 × 0.7 × 0.98 = 34.3 g are due, 40 × 0.7 = 28 g went back.
    const workspace = pageWorkspace(page, shop);
    expect(labelAt(workspace, 'ship V2')).toBe('given back, Au 6.300 g ±0.006 still owed');
    expect(labelAt(workspace, 'settle H')).toBe('bill agrees, 60.00 USD');
    expect(labelAt(pageWorkspace(page.replace('total 60', 'total 66'), shop), 'settle H')).toBe(
      'bill: 1 line differs, 6.00 USD',
    );
    expect(hoverOn(workspace, 'settle H')).toContain(
      'Billed 2026-05-04: 60.00 USD to be paid by hall-bench, paid 2026-05-04.',
    );
  });

  test('of a sale of hand: what was paid of the metal', () => {
    // 4.00 × 2500 / 31.1034768 = 321.51.
    expect(labelAt(workspace, 'sell N')).toBe('93.3 % of the metal, worth 321.5 USD');
  });

  test('of what was corrected as it is now', () => {
    const typed = PAGE.replace('3503.25', '3053.25').replace('for 300.00', 'for 30.00');
    const mended = pageWorkspace(
      `${typed}2026-06-02\ncorrect settle V1\n  because misread\n  total 3503.25 USD was 3053.25 USD\ncorrect sell N for 300.00 USD was 30.00 USD\n  because misread\n`,
      SHOP,
    );
    expect(labelAt(mended, 'settle V1')).toBe('agrees, 3503.25 USD');
    expect(labelAt(mended, '  total')).toBe('corrected: 3503.25 USD');
    expect(labelAt(mended, 'sell N')).toBe('corrected: 300.00 USD');
    const told = hoverOn(mended, 'sell N');
    expect(told).toContain('sell N of 2026-05-10, corrected on 2026-06-02: 300.00 USD was 30.00 USD, because misread.');
    expect(told).toContain('Paid 300.00 USD: 93.3 % of the metal, worth 321.5 USD ±0.4 at its full price.');
    expect(hoverOn(mended, 'settle V1')).toContain(
      'settle V1 of 2026-05-10, corrected on 2026-06-02: total 3503.25 USD',
    );
  });
});

describe('in the hover', () => {
  const workspace = pageWorkspace(PAGE, SHOP);

  test('of an offer stands the sum, and that it is no offer', () => {
    const told = hoverOn(workspace, 'offer A');
    expect(told).toMatch(/Au 50 g × 90\.00 % = 45\.000 g fine × 98 % = 44\.100 g at 2500\.00 USD\/ozt +3544\.62 USD/);
    expect(told).toMatch(/total +3506\.79 USD/);
    expect(told).toContain('These figures are no offer and no advice.');
  });

  test('of a settlement stand its lines against ours, and their figures worked through', () => {
    const told = hoverOn(workspace, 'settle V1');
    expect(told).toContain('Nothing differs from the journal.');
    expect(told).toMatch(/Au paid share +98 % +98 % +agrees/);
    expect(told).toMatch(/total +3503\.25 USD/);
  });
});

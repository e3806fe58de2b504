/** Two bars that were settled in one sum: the buyer's assay is of both together, and of neither alone. */
import { expect, it } from 'vitest';
import { formed, ofPage } from '../support/documents';

const WORKSHOP = `parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 % }
`;

const PAGE = `2026-07-10
receive A 200.00 g
receive B 100.00 g
cast C1
  in A 200.00 g
  out BAR-1 200.00 g bar
cast C2
  in B 100.00 g
  out BAR-2 100.00 g bar
assay BAR-1 by fire at kontor-lab
  Au 58.10 ±0.06 % expanded
assay BAR-2 by fire at kontor-lab
  Au 73.10 ±0.06 % expanded
ship V1 to quay-refiner
  in BAR-1 200.00 g
  in BAR-2 100.00 g
2026-07-20
settle V1
  received 300.00 g, Au 62.90 %
  pays Au 98 %, price Au 80.00 USD/g
  total 14793.09 USD
`;

const compared = (choice = {}): string =>
  formed('md', 'assay-comparison', choice, ofPage(PAGE, WORKSHOP)).replaceAll('\\', '');

// Au of both: 200.00 × 58.10 % = 116.20 g and 100.00 × 73.10 % = 73.10 g, together 189.30 g of 300.00 g, 63.10 %. They find 62.90 %, 0.20 less.
// ± of 0.06 of each: √(120² + 60²) mg of 300 g, 0.0447 points, and 0.0058 of the last place of theirs: 0.0451; 0.20 / 0.0451 is 4.4.
it('holds it against what both come to', () => {
  const together = compared().split('## BAR-1 and BAR-2 together')[1]!;
  expect(together).toMatch(/\| Au \| quay-refiner \| settle V1 \| 2026-07-20 \| 62.90 % \| -0.20 points \| 4.4 \|/);
  expect(together).toMatch(/\*\*the figure used\*\* \| {2}\| {2}\| \*\*63.10 % ±0.0[45]/);
});

it('and against neither alone', () => {
  for (const text of [compared(), compared({ lot: 'BAR-2' })]) {
    expect(text).toContain('## BAR-1 and BAR-2 together');
    expect(text).toContain('- BAR-2: fire, kontor-lab');
    expect(text).not.toContain('## BAR-2\n');
    expect(text.match(/settle V1/g)).toHaveLength(1);
  }
});

it('the shipment list holds it against the same figure', () => {
  expect(formed('md', 'shipment', { entry: 'V1' }, ofPage(PAGE, WORKSHOP)).replaceAll('\\', '')).toMatch(
    /\| assay, Au \| 62.90 % \| 63.10 % ±0.04 \| -0.20 % ±0.05 \|/,
  );
});

/** Ways to sell: whose price holds, how old it is, which lots are melted together. */
import { describe, expect, test } from 'vitest';
import { lotSays } from '../../server/reports/selling/routes';
import { type Routes, routesOf } from '../../server/workspace/selling/routes';
import { fewestFor } from '../../server/workspace/selling/ways';
import { pageWorkspace } from '../support/workspace';

const SHOP = `shop: { currency: EUR }
parties:
  own-bench: own
  quay-refiner:
    role: refiner
    terms:
      2026-01-01: { pays: { Au: 98 % }, minimum: 50 g }
`;

const LOT = `2026-03-02
quote Au 75.00 EUR/g
receive A from own-bench
  100.00 g
assay A by fire
  Au 60.00 %
`;

const routes = (page: string): Routes => routesOf(pageWorkspace(page, SHOP), 'A') as Routes;

describe('the ways to sell a lot', () => {
  test('say that a price is older than the workshop lets it be', () => {
    expect(lotSays(routes(LOT))).toHaveLength(2);
    expect(lotSays(routes(`${LOT}2026-04-20\nnote rain\n`)).at(-1)).toBe(
      'The price of Au is of 2026-03-02, 49 days old: write a `quote` of today.',
    );
  });

  test('take the price that an offer names, and that of the day from all others', () => {
    const offer = `offer A from moor-refiner\n  pays Au 95 %, price Au 80.00 EUR/g\n`;
    const paid = routes(`${LOT}${offer}`).ranked.flatMap(({ route, outcome }) =>
      route.key === 'sell' ? [[route.buyer.party, outcome.paid.amount.toString()]] : [],
    );
    // 60 × 0.95 × 80.00, and 60 × 0.98 × 75.00.
    expect(paid).toEqual([
      ['moor-refiner', '4560'],
      ['quay-refiner', '4410'],
    ]);
  });
});

describe('lots that are melted together to reach a least lot', () => {
  const lots = (...grams: number[]) =>
    grams.map((one) => ({ lot: `${one}`, piece: { grams: one, gold: 0.6, silver: 0.2 } }));
  const chosen = (wanted: number, ...grams: number[]) => fewestFor(wanted, lots(...grams))?.map(({ lot }) => lot);

  test('are as few as do, and no heavier than is wanted', () => {
    // One of 40 g is enough for 30 g: the 200 g stay where they are.
    expect(chosen(30, 200, 40, 20, 15)).toEqual(['40']);
    // None does alone: the heaviest, and then the lightest that closes the gap.
    expect(chosen(55, 40, 30, 20, 15)).toEqual(['40', '15']);
    expect(chosen(200, 40, 30)).toBeUndefined();
  });
});

/** Offers: held against the terms on file word by word, and against the other ways to sell. */
import { describe, expect, test } from 'vitest';
import { leftOutSays, routeCells } from '../../server/reports/selling/routes';
import { passedSays } from '../../server/reports/selling/words';
import { findingsOf } from '../../server/rules/findings';
import { type Routes, routesOf } from '../../server/workspace/selling/routes';
import { pageWorkspace, textOf } from '../support/workspace';

const WORKSHOP = `shop:
  currency: EUR
parties:
  me: own
  tarn-buyer:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 94 %, Ag: 80 % }
        less: { Au: 0.3 % }
        charges: { handling: 1 % of value }
        days: 3 days
  moor-refiner: refiner
  yen-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 99 % }
        charges: { assay: 3000 JPY }
`;

const LOT = `2026-05-02
quote Au 70.00 EUR/g
quote Ag 0.90 EUR/g
receive A
  100.00 g on bench
  bought 4000.00 EUR
assay A by fire, corrected
  Au 80.00 %, Ag 15.00 %
`;

// 100 g, gold 80 g less 0.24 g is 79.76 × 0.94 × 70 = 5248.21; silver 15 × 0.8 × 0.9 = 10.80; less 1 % of 5259.01: 5206.42 EUR.
const TERMS = 'the terms from 2026-01-01 come to 5206.42 EUR';

const workspaceOf = (offer: string) => pageWorkspace(`${LOT}${offer}`, WORKSHOP);

const toldOf = (offer: string, codes = ['offer-below-terms', 'offer-total']) => {
  const workspace = workspaceOf(offer);
  return findingsOf(workspace, 'page.melt')
    .filter(({ code }) => codes.includes(code))
    .map((finding) => `${textOf(workspace, finding)}: ${finding.says}`);
};

describe('an offer below the terms on file', () => {
  const BELOW: readonly (readonly [string, string, string])[] = [
    // (70 - 60) × 79.76 × 0.94 × 0.99 = 742.25.
    ['a low price', 'price Au 60.00 EUR/g', '742.25 EUR below them, by its `price Au`.'],
    [
      'a charge more',
      'charge handling 1 % of value, charge assay 300.00 EUR',
      '300.00 EUR below them, by its `charge assay`.',
    ],
    // 1.6 g instead of 0.24 g: 1.36 × 0.94 × 70 × 0.99 = 88.59; each line of both is rounded to a coin.
    ['more taken off', 'less Au 2 %', '88.60 EUR below them, by its `less Au`.'],
    // 79.76 g less 10 g is 69.76 g, where the share pays 74.9744 g: 5.2144 × 70 × 0.99 = 361.36.
    ['a least that is kept', 'keeps Au 10 g', '361.36 EUR below them, by its `keeps Au`.'],
    ['a low share', 'pays Au 90 %, pays Ag 80 %', '221.10 EUR below them, by its `pays Au`.'],
    ['a metal that is not paid', 'pays Au 94 %', '10.69 EUR below them, by no `pays Ag`.'],
    ['a sum for the whole', 'total 5000.00 EUR', '206.42 EUR below them, by its `total`.'],
    [
      'a sum beside its shares',
      'pays Au 94 %, pays Ag 80 %, total 5000.00 EUR',
      '206.42 EUR below them, by its `total`.',
    ],
  ];
  for (const [what, words, says] of BELOW) {
    test(`${what}: how much, and which word makes it`, () => {
      const [told, ...more] = toldOf(`offer A from tarn-buyer\n  ${words}\n`);
      expect(more).toEqual([]);
      expect(told).toContain(TERMS);
      expect(told).toContain(says);
    });
  }

  test('of several words each with what it makes, the dearest first', () => {
    const [told] = toldOf('offer A from tarn-buyer\n  price Au 60.00 EUR/g\n  charge handling 2 % of value\n');
    // (70 - 60) × 79.76 × 0.94 × 0.98 = 734.75, each line rounded; 1 % of the 4509.66 that the metal comes to = 45.10.
    expect(told).toContain('by its `price Au` (734.76 EUR) and its `charge handling` (45.10 EUR).');
  });

  const QUIET: readonly (readonly [string, string])[] = [
    ['all left to the terms', ''],
    ['the price of the day, rounded to a coin', '  price Au 70.00 EUR/g, price Ag 0.90 EUR/g\n'],
    ['more than the terms', '  pays Au 96 %, pays Ag 80 %\n'],
    ['a sum within what the assay leaves open', '  total 5206.00 EUR\n'],
    ['a charge that no rate turns into its money', '  charge assay 300.00 GBP\n'],
  ];
  for (const [what, words] of QUIET)
    test(`is quiet of ${what}`, () => expect(toldOf(`offer A from tarn-buyer\n${words}`)).toEqual([]));

  test('a price that is written to the coin is that of the day', () => {
    const inDollars = LOT.replace('quote Au 70.00 EUR/g', 'quote Au 2410.00 USD/ozt\nquote USD 0.92 EUR');
    // 2410 × 0.92 / 31.1034768 = 71.2846 EUR/g.
    const told = (price: string) =>
      findingsOf(
        pageWorkspace(`${inDollars}offer A from tarn-buyer\n  price Au ${price} EUR/g\n`, WORKSHOP),
        'page.melt',
      );
    expect(told('71.28').map(({ code }) => code)).not.toContain('offer-below-terms');
    expect(told('71.27').map(({ code }) => code)).toContain('offer-below-terms');
  });

  test('where the last quote is of another day a market may have moved by 3 %', () => {
    const later = (price: string) => toldOf(`2026-05-05\noffer A from tarn-buyer\n  price Au ${price} EUR/g\n`);
    expect(later('68.50')).toEqual([]);
    expect(later('67.00')).toHaveLength(1);
  });
});

describe('a total beside lines', () => {
  test('that have their prices is held against these, once', () => {
    const offer = 'pays Au 94 %, price Au 70.00 EUR/g, pays Ag 80 %, price Ag 0.90 EUR/g, total 5000.00 EUR';
    expect(toldOf(`offer A from tarn-buyer\n  ${offer}\n`)).toEqual([
      'total 5000.00 EUR: The lines of the offer come to 5206.42 EUR by our weight and assay, not to 5000.00 EUR: 206.42 EUR less. Ask by which weight, assay or charge.',
    ]);
  });

  test('without prices or terms is held against those of the day', () => {
    const told = (total: string) => toldOf(`offer A from moor-refiner\n  pays Au 90 %, total ${total} EUR\n`);
    // 80 × 0.9 × 70 = 5040.00, and 3 % of it is 151.20.
    expect(told('4900.00')).toEqual([]);
    expect(told('4800.00')[0]).toContain(
      'come to 5040.00 EUR by our weight and assay and the price of the day, not to 4800.00 EUR: 240.00 EUR less',
    );
  });

  test('of a party without terms is enough: nothing more is asked for', () => {
    expect(toldOf('offer A from moor-refiner\n  total 5100.00 EUR\n', ['terms-missing'])).toEqual([]);
  });
});

const routes = (offer: string): Routes => {
  const found = routesOf(workspaceOf(offer), 'A');
  if (typeof found === 'string') throw new Error(found);
  return found;
};

const rows = (of: Routes) => of.ranked.map((one) => routeCells(one, false));

describe('among the ways to sell', () => {
  test('a sum for the whole stands as what it is, for the lot as it is', () => {
    const all = rows(routes('offer A from moor-refiner\n  total 5100.00 EUR\n'));
    expect(all.filter(([, to]) => to?.startsWith('moor-refiner'))).toEqual([
      ['sell as it is', 'moor-refiner, by its offer', '5100.00 EUR', '', '5100.00 EUR', '0', ''],
    ]);
  });

  test('beside it the terms on file are still a way', () => {
    const all = rows(routes('offer A from tarn-buyer\n  total 5100.00 EUR\n'));
    const direct = all.filter(([key, to]) => key === 'sell as it is' && to?.startsWith('tarn-buyer'));
    expect(direct.map(([, to, paid]) => [to, paid])).toEqual([
      ['tarn-buyer, by the terms', '5206.42 EUR'],
      ['tarn-buyer, by its offer', '5100.00 EUR'],
    ]);
  });

  test('an offer of anything but shares is by the offer too', () => {
    const all = rows(routes('offer A from tarn-buyer\n  price Au 69.00 EUR/g\n'));
    expect(all.map(([, to]) => to)).toContain('tarn-buyer, by its offer');
    expect(all.map(([, to]) => to)).not.toContain('tarn-buyer, by the terms');
  });

  const LEFT_OUT: readonly (readonly [string, string, string])[] = [
    [
      'of no share',
      'offer A from moor-refiner\n  price Au 65.00 EUR/g\n',
      'it names no share, and no terms are on file',
    ],
    [
      'in a currency without a rate',
      'offer A from moor-refiner\n  total 4000.00 GBP\n',
      'it is in GBP, and no rate is written',
    ],
    [
      'for more than is left',
      'offer A from moor-refiner\n  total 5100.00 EUR\nsplit Y1\n  in 40.00 g of A\n  out B 40.00 g bar on bench\n',
      'it was for 100.00 g ±0.01, and the lot is 60.00 g ±0.01 now',
    ],
  ];
  for (const [what, offer, says] of LEFT_OUT)
    test(`an offer ${what} is not among them, and that is said`, () => {
      const found = routes(offer);
      expect(found.ranked.map(({ route }) => route.buyer.party)).not.toContain('moor-refiner');
      expect(found.leftOut.map((one) => leftOutSays(found, one))).toEqual([expect.stringContaining(says)]);
    });

  test('a charge without a rate is said, and such a way is told of after those that are whole', () => {
    const all = rows(routes(''));
    const direct = all.filter(([key]) => key === 'sell as it is').map(([, to, paid, , , , note]) => [to, paid, note]);
    expect(direct).toEqual([
      ['tarn-buyer, by the terms', '5206.42 EUR', ''],
      ['yen-refiner, by the terms', '≤ 5544.00 EUR', 'without its charge of 3000 JPY: no rate'],
    ]);
  });
});

describe('a later quote in a currency without a rate', () => {
  const passed = 'quote Au 7000.00 JPY/g\n';

  test('hides neither the quote before it nor what is below the terms', () => {
    const told = toldOf(`2026-05-03\n${passed}offer A from tarn-buyer\n  price Au 60.00 EUR/g\n`);
    expect(told).toHaveLength(1);
  });

  test('is said where the ways to sell are told', () => {
    const found = routes(`2026-05-03\n${passed}`);
    expect(rows(found)[0]![2]).toBe('5206.42 EUR');
    expect(found.passed.map(passedSays)).toEqual([
      'Au is quoted in JPY on 2026-05-03, and no rate of JPY is written: the quote before it counts.',
    ]);
  });

  test('is used once its rate is written', () => {
    const found = routes(`2026-05-03\nquote JPY 0.006 EUR\n${passed}`);
    expect(found.passed).toEqual([]);
    expect(found.full).toBeCloseTo(80 * 42 + 15 * 0.9, 6);
  });
});

describe('metal sold of hand', () => {
  // By the terms 5206.42 EUR.
  test('for a sum below the terms on file is told at the sum', () => {
    expect(toldOf('sell A to tarn-buyer for 5000.00 EUR\n')).toEqual([
      '5000.00 EUR: They pay 5000.00 EUR; the terms from 2026-01-01 come to 5206.42 EUR. The sale is 206.42 EUR below them.',
    ]);
  });

  test('for no less than the terms, or to somebody without terms, is not', () => {
    expect(toldOf('sell A to tarn-buyer for 5206.42 EUR\n')).toEqual([]);
    // What assay and weight leave open.
    expect(toldOf('sell A to tarn-buyer for 5205.00 EUR\n')).toEqual([]);
    expect(toldOf('sell A to ring-and-thread for 4000.00 EUR\n')).toEqual([]);
  });

  test('is told once where an offer of it was below already', () => {
    expect(toldOf('offer A from tarn-buyer\n  total 5000.00 EUR\nsell A to tarn-buyer for 5000.00 EUR\n')).toEqual([
      expect.stringContaining('They offer 5000.00 EUR'),
    ]);
  });
});

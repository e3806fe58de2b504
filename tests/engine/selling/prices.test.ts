/** Prices of a day, and currencies, which are turned into one another by a written rate only. */
import { describe, expect, test } from 'vitest';
import { isPriced, priceOn, quotesBy, rateOn } from '../../../server/engine/selling/prices';
import { outliers, unitSlips } from '../../../server/engine/selling/quote-slips';
import { salesOf } from '../../../server/workspace/selling/sales';
import { pageWorkspace } from '../../support/workspace';

const quotes = (page: string) => salesOf(pageWorkspace(page)).quotes;

const PAGE = `2026-05-04
quote Au 2480.00 USD/ozt
quote Ag 0.94 USD/g
2026-05-06
quote Au 2500.00 USD/ozt
quote EUR 1.25 USD
2026-05-08
quote Au 64000.00 EUR/kg
`;

const price = (metal: string, date: string, currency?: string, page = PAGE): string => {
  const found = priceOn(quotes(page), metal, date, currency);
  return isPriced(found)
    ? `${found.amount} ${found.currency} for ${found.perGrams} g of ${found.quote.date}${found.rate ? ` at ${found.rate.of}` : ''}, ${found.ageDays} days`
    : `no ${found.missing}`;
};

describe('the price of a day', () => {
  test('is the last that was written by then', () => {
    expect(price('Au', '2026-05-03')).toBe('no price');
    expect(price('Au', '2026-05-04')).toBe('2480 USD for 31.1034768 g of 2026-05-04, 0 days');
    expect(price('Au', '2026-05-07')).toBe('2500 USD for 31.1034768 g of 2026-05-06, 1 days');
    expect(price('Ag', '2026-05-07')).toBe('0.94 USD for 1 g of 2026-05-04, 3 days');
    expect(price('Pt', '2026-05-07')).toBe('no price');
  });

  test('in another currency by a rate alone, either way round', () => {
    // 64000 EUR × 1.25.
    expect(price('Au', '2026-05-09', 'USD')).toBe('80000 USD for 1000 g of 2026-05-08 at EUR, 3 days');
    // 0.94 USD / 1.25.
    expect(price('Ag', '2026-05-09', 'EUR')).toBe('0.752 EUR for 1 g of 2026-05-04 at EUR, 5 days');
    expect(price('Ag', '2026-05-05', 'EUR')).toBe('no rate');
    expect(price('Ag', '2026-05-09', 'CHF')).toBe('no rate');
  });

  test('an older one in the right currency stands where no rate is written', () => {
    const page = PAGE.replace('quote EUR 1.25 USD\n', '');
    expect(price('Au', '2026-05-09', 'USD', page)).toBe('2500 USD for 31.1034768 g of 2026-05-06, 3 days');
  });

  test('of the same day the last written one; a void one, and one in no unit of mass, not at all', () => {
    const page =
      '2026-05-04\nquote Au 2480.00 USD/ozt\nquote Au 2490.00 USD/ozt\n2026-05-05\nquote Au 1.00 USD/ozt\nvoid quote Au of 2026-05-05\nquote Au 2500 USD';
    expect(price('Au', '2026-05-09', 'USD', page)).toContain('2490 USD');
  });

  test('a rate and its inverse', () => {
    expect(rateOn(quotes(PAGE), 'EUR', 'USD', '2026-05-06')?.factor.toString()).toBe('1.25');
    expect(rateOn(quotes(PAGE), 'USD', 'EUR', '2026-05-06')?.factor.toString()).toBe('0.8');
    expect(rateOn(quotes(PAGE), 'USD', 'EUR', '2026-05-05')).toBeUndefined();
  });
});

describe('a line that gives no price', () => {
  test.each([
    ['without one', 'quote Au'],
    ['without a metal', 'quote 2500.00 USD/ozt'],
    ['of nothing', 'quote Au 0.00 USD/ozt'],
    ['in no unit', 'quote Au 2500.00 USD'],
  ])('%s', (_, line) => {
    expect(quotes(`2026-05-04\n${line}\n`)).toEqual([]);
  });

  test('before any day', () => {
    expect(quotes('quote Au 2500.00 USD/ozt\n')).toEqual([]);
  });
});

describe('the fixing that was agreed', () => {
  const FIXED = `2026-05-04
quote Au 2480.00 USD/ozt, fixing late
2026-05-05
quote Au 2500.00 USD/ozt, fixing early
quote Au 2510.00 USD/ozt, fixing late
quote Au 2520.00 USD/ozt
quote Ag 29.00 USD/ozt, fixing early
`;
  const by = (date: string, fixing: string | undefined): string[] =>
    quotesBy(quotes(FIXED), date, fixing).map(({ of, amount, date: day }) => `${of} ${amount} ${day.slice(-2)}`);
  const ALL = ['Au 2480 04', 'Au 2500 05', 'Au 2510 05', 'Au 2520 05', 'Ag 29 05'];

  test('stands alone for its metal on its day; other metals and other days stay', () => {
    expect(by('2026-05-05', 'late')).toEqual(['Au 2480 04', 'Au 2510 05', 'Ag 29 05']);
  });

  test('takes nothing away where it was not written, or none was agreed', () => {
    expect(by('2026-05-05', 'noon')).toEqual(ALL);
    expect(by('2026-05-06', 'late')).toEqual(ALL);
    expect(by('2026-05-04', 'early')).toEqual(ALL);
    expect(by('2026-05-05', undefined)).toEqual(ALL);
  });
});

describe('a price by the wrong unit', () => {
  const slips = (page: string): string[] =>
    [...unitSlips(quotes(page))].map(
      ([{ of, amount }, { unit, beside }]) => `${of} ${amount}: ${unit}, as ${beside.amount}`,
    );

  test('is told by the one before it in the same currency', () => {
    expect(slips('2026-05-04\nquote Au 2500.00 USD/ozt\n2026-05-06\nquote Au 80.50 USD/ozt')).toEqual([
      'Au 80.5: g, as 2500',
    ]);
    expect(slips('2026-05-04\nquote Ag 30.00 USD/ozt\nquote Ag 965.00 USD/ozt')).toEqual(['Ag 965: kg, as 30']);
    expect(slips('2026-05-04\nquote Au 80.00 USD/g\nquote Au 2510.00 USD/g')).toEqual(['Au 2510: ozt, as 80']);
  });

  test('is told once, whichever of the two is the wrong one, and never of those that follow', () => {
    const wrongFirst =
      '2026-05-04\nquote Au 80.00 USD/ozt\nquote Au 2500.00 USD/ozt\nquote Au 2510.00 USD/ozt\nquote Au 2490.00 USD/ozt';
    expect(slips(wrongFirst)).toEqual(['Au 2500: kg, as 80']);
    const wrongSecond = '2026-05-04\nquote Au 2500.00 USD/ozt\nquote Au 80.00 USD/ozt\nquote Au 2510.00 USD/ozt';
    expect(slips(wrongSecond)).toEqual(['Au 80: g, as 2500']);
  });

  test('is no price that rose or fell, that is of another metal, another currency, or a rate', () => {
    expect(
      slips(
        '2026-05-04\nquote Au 2500.00 USD/ozt\nquote Au 900.00 USD/ozt\nquote Au 2500.00 USD/ozt\nquote Ag 80.00 USD/ozt\nquote Au 80.00 EUR/ozt\nquote EUR 1.10 USD\nquote EUR 34.00 USD',
      ),
    ).toEqual([]);
  });
});

describe('a price far from those before and after it', () => {
  const apart = (metal: string, ...prices: readonly string[]): readonly string[] => {
    const page = prices.map((price, at) => `2026-05-0${at + 1}\nquote ${metal} ${price} USD/ozt\n`).join('');
    return [...outliers(quotes(page), 7)].map(([quote, { off }]) => `${quote.amount} ${(100 * off).toFixed(1)} %`);
  };

  test('is told where these agree, and from the nearer', () => {
    // 2840 / 2495 = 1.138.
    expect(apart('Au', '2480.00', '2840.00', '2495.00')).toEqual(['2840 13.8 %']);
    expect(apart('Au', '2480.00', '2248.00', '2495.00')).toEqual(['2248 -9.4 %']);
  });

  test('is none where the market moved and stayed, or where no later one is written', () => {
    expect(apart('Au', '2480.00', '2640.00', '2650.00')).toEqual([]);
    expect(apart('Au', '2480.00', '2490.00', '2640.00')).toEqual([]);
  });

  test('of silver twice as far', () => {
    expect(apart('Ag', '29.00', '30.20', '29.10')).toEqual([]);
    expect(apart('Ag', '29.00', '92.00', '29.10')).toHaveLength(1);
  });

  test('is not asked of quotes that are more than the days of an old price away', () => {
    const page =
      '2026-05-01\nquote Au 2480.00 USD/ozt\n2026-05-10\nquote Au 2840.00 USD/ozt\n2026-05-11\nquote Au 2495.00 USD/ozt';
    expect(outliers(quotes(page), 7).size).toBe(0);
    expect(outliers(quotes(page), 9).size).toBe(1);
  });
});

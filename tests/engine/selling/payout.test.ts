/** What a lot brings: sums worked by hand, published settlements, and the laws of it. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEFAULT_ROUNDING, type Deal } from '../../../server/engine/selling/deal';
import { type Consigned, isComplete, type Payout, payoutOf } from '../../../server/engine/selling/payout';
import type { ChargeTerm, Cut } from '../../../server/engine/workshop';
import { type Decimal, decimal, roundTo, sum } from '../../../server/quantity/decimal';
import { minorDigits, minorUnit, money } from '../../../server/quantity/money';
import { unit } from '../../../server/quantity/units';
import digits from '../../fixtures/measurement/currency-digits.json';

const OZT = unit('ozt')!.factor;

const deal = (of: Partial<Deal>): Deal => ({
  pays: new Map(),
  less: new Map(),
  keeps: new Map(),
  charges: new Map(),
  rounding: DEFAULT_ROUNDING,
  fineStepGrams: undefined,
  ...of,
});

const paid = (share: string) => [{ from: decimal(0), share: decimal(share) }];

/** Of a share where no currency is given. */
const charge = (amount: string, of?: string, per?: string, currency: string | null = 'USD'): ChargeTerm => ({
  amount: decimal(amount),
  currency: currency ?? undefined,
  per: per === undefined ? undefined : unit(per),
  of,
});

const lot = (grams: string, shares: Readonly<Record<string, string>>, received = grams): Consigned => ({
  grams: decimal(grams),
  receivedGrams: decimal(received),
  shares: new Map(Object.entries(shares).map(([metal, share]) => [metal, decimal(share)])),
});

/** Prices by the troy ounce. */
const reckon = (of: Consigned, by: Deal, prices: Readonly<Record<string, string>>, currency = 'USD'): Payout =>
  payoutOf(of, by, {
    currency,
    priceFor: (metal) =>
      prices[metal] === undefined ? undefined : { amount: decimal(prices[metal]), currency, perGrams: OZT },
    convert: (one) => (one.currency === currency ? one : undefined),
  });

const total = (of: Payout): string => of.total.amount.toString();

describe('a payout', () => {
  test('by hand: two metals, charges at once, by weight and of the value', () => {
    const terms = deal({
      pays: new Map([
        ['Au', paid('0.985')],
        ['Ag', paid('0.90')],
      ]),
      charges: new Map([
        ['melting', charge('45.00')],
        ['refining', charge('0.30', 'melted', 'g')],
        ['handling', charge('0.005', 'value', undefined, null)],
      ]),
    });
    const made = reckon(lot('138.71', { Au: '0.9131', Ag: '0.08' }, '138.95'), terms, { Au: '2491.00', Ag: '28.95' });
    // Gold: 138.71 × 0.9131 = 126.656101 g, × 0.985 = 124.756259485 g, × 2491 / 31.1034768 = 9991.4198…
    // Silver: 138.71 × 0.08 = 11.0968 g, × 0.9 = 9.98712 g, × 28.95 / 31.1034768 = 9.29568…
    // Charges: 45.00; 0.30 × 138.71 = 41.613; 0.005 × (9991.42 + 9.30) = 50.0036.
    expect(made.metals.map(({ value }) => value.amount.toString())).toEqual(['9991.42', '9.3']);
    expect(made.charges.map(({ cost }) => cost.amount.toString())).toEqual(['45', '41.61', '50']);
    expect(total(made)).toBe('9864.11');
  });

  test('taken off first, kept at least, rounded down: each where it should be', () => {
    const plain = { pays: new Map([['Au', paid('0.99')]]) };
    const one = lot('100', { Au: '0.5' });
    const grams = (of: Partial<Deal>) =>
      reckon(one, deal({ ...plain, ...of }), { Au: '31.1034768' }).metals[0]!.payableGrams;
    // 50 g fine; × 0.99.
    expect(grams({}).toString()).toBe('49.5');
    // 2 % of the fine metal off first: 49 g × 0.99.
    expect(grams({ less: new Map([['Au', { share: decimal('0.02') }]]) }).toString()).toBe('48.51');
    expect(grams({ less: new Map([['Au', { grams: decimal('0.5') }]]) }).toString()).toBe('49.005');
    // 10 thousandths of the lot are 1 g, more than the half gram that the share keeps; 2 thousandths are less.
    expect(grams({ keeps: new Map([['Au', { share: decimal('0.01') }]]) }).toString()).toBe('49');
    expect(grams({ keeps: new Map([['Au', { share: decimal('0.002') }]]) }).toString()).toBe('49.5');
    expect(grams({ keeps: new Map([['Au', { grams: decimal('60') }]]) }).toString()).toBe('0');
    // 49.997 g fine is 49.99 g on a step of a hundredth.
    const odd = reckon(lot('100', { Au: '0.49997' }), deal({ ...plain, fineStepGrams: decimal('0.01') }), { Au: '1' });
    expect(odd.metals[0]!.fineGrams.toString()).toBe('49.99');
  });

  test('a share by fineness is that of the highest band that is reached; below the lowest nothing is paid', () => {
    const bands = [
      { from: decimal('0.3'), share: decimal('0.97') },
      { from: decimal('0.9'), share: decimal('0.985') },
    ];
    const share = (fine: string) =>
      reckon(lot('100', { Au: fine }), deal({ pays: new Map([['Au', bands]]) }), {
        Au: '1',
      }).metals[0]!.share.toString();
    expect([share('0.2999'), share('0.3'), share('0.8999'), share('0.9')]).toEqual(['0', '0.97', '0.97', '0.985']);
  });

  test('what has no price, no rate, or no share is named and not counted', () => {
    const terms = deal({
      pays: new Map([['Au', paid('0.9')]]),
      charges: new Map([['toll', charge('1', undefined, undefined, 'EUR')]]),
    });
    const made = reckon(lot('10', { Au: '0.5', Ag: '0.4', Cu: '0.1' }), terms, {});
    expect([made.unpriced, made.unconverted, made.unpaid.map(({ metal }) => metal)]).toEqual([
      ['Au'],
      ['toll'],
      ['Ag'],
    ]);
    expect(total(made)).toBe('0');
  });

  test('a sum is whole where each metal has its price and each charge its rate', () => {
    const whole = (prices: Readonly<Record<string, string>>, currency = 'USD') => {
      const terms = {
        pays: new Map([['Au', paid('0.9')]]),
        charges: new Map([['assay', charge('25', undefined, undefined, currency)]]),
      };
      const made = reckon(lot('10', { Au: '0.5' }), deal(terms), prices);
      return [made.unpriced, made.unconverted, isComplete(made)];
    };
    expect(whole({ Au: '1' })).toEqual([[], [], true]);
    expect(whole({})).toEqual([['Au'], [], false]);
    expect(whole({ Au: '1' }, 'EUR')).toEqual([[], ['assay'], false]);
    expect(whole({}, 'EUR')).toEqual([['Au'], ['assay'], false]);
  });

  test('a metal that the deal pays and the lot does not hold makes no line, and wants no price', () => {
    const pays = new Map(['Au', 'Ag', 'Pt'].map((metal) => [metal, paid('1')] as const));
    const made = reckon(lot('10', { Au: '0.5', Ag: '0' }), deal({ pays }), { Au: '1' });
    expect([made.metals.map(({ metal }) => metal), made.unpriced]).toEqual([['Au'], []]);
  });

  test('a charge is of what it names: the value of all or of one metal, grams received, melted, or fine', () => {
    const pays = new Map(['Au', 'Ag'].map((metal) => [metal, paid('1')] as const));
    // 110 g received, melted to 100 g: 50 g of gold at 1 a gram and 40 g of silver at 0.1 are worth 50 and 4.
    const cost = (term: ChargeTerm): string =>
      reckon(lot('100', { Au: '0.5', Ag: '0.4' }, '110'), deal({ pays, charges: new Map([['fee', term]]) }), {
        Au: '31.1034768',
        Ag: '3.11034768',
      }).charges[0]!.cost.amount.toString();
    const ofValue = (of?: string) => cost(charge('0.05', of, undefined, null));
    expect([ofValue(), ofValue('value'), ofValue('Au'), ofValue('Ag'), ofValue('Pt')]).toEqual([
      '2.7',
      '2.7',
      '2.5',
      '0.2',
      '0',
    ]);
    const aGram = (of?: string) => cost(charge('0.3', of, 'g'));
    expect([aGram(), aGram('received'), aGram('melted')]).toEqual(['33', '33', '30']);
    expect([aGram('Au'), aGram('Ag'), aGram('Pt')]).toEqual(['15', '12', '0']);
  });

  test('one gram more of fine metal brings its price, as far as it is paid', () => {
    // 100 g at 500, so 50 g fine; at 2 a gram.
    const more = (of: Partial<Deal>) =>
      reckon(lot('100', { Au: '0.5' }), deal({ pays: new Map([['Au', paid('0.99')]]), ...of }), { Au: '62.2069536' })
        .metals[0]!.perFineGram;
    const cut = (of: Readonly<Record<string, string>>) =>
      new Map([
        ['Au', Object.fromEntries(Object.entries(of).map(([name, one]) => [name, decimal(one)])) as unknown as Cut],
      ]);
    expect(more({})).toBeCloseTo(1.98, 12);
    expect(more({ less: cut({ share: '0.02' }) })).toBeCloseTo(0.98 * 1.98, 12);
    expect(more({ less: cut({ grams: '0.5' }) })).toBeCloseTo(1.98, 12);
    // A gram of 50 is kept, more than the share keeps, and goes on to be a gram of 51.
    expect(more({ keeps: cut({ grams: '1' }) })).toBeCloseTo(2, 12);
    // All is taken off or kept, and would be of 51 g too.
    expect(more({ keeps: cut({ grams: '60' }) })).toBe(0);
    expect(more({ less: cut({ grams: '60' }) })).toBe(0);
  });

  test('in coins of its own: none of yen, three digits of dinars', () => {
    const terms = deal({ pays: new Map([['Au', paid('0.9')]]) });
    const value = (currency: string) => total(reckon(lot('10', { Au: '0.5' }), terms, { Au: '1000.5' }, currency));
    // 4.5 g × 1000.5 / 31.1034768 = 144.7507…
    expect([value('JPY'), value('USD'), value('KWD')]).toEqual(['145', '144.75', '144.751']);
  });
});

describe('published settlements', () => {
  test('a worked settlement on a trader page: 24.96 kg at 91.3 % is 22.79 kg or 732.7 ozt; of it 99 % are 725.4 ozt', () => {
    const made = reckon(lot('24960', { Au: '0.913' }), deal({ pays: new Map([['Au', paid('0.99')]]) }), { Au: '1' });
    const [gold] = made.metals;
    expect(gold!.fineGrams.div(1000).toNumber()).toBeCloseTo(22.79, 2);
    expect(gold!.fineGrams.div(OZT).toNumber()).toBeCloseTo(732.7, 1);
    // It prints 725.4, from 22.56 kg rounded.
    expect(Math.abs(gold!.payableGrams.div(OZT).toNumber() - 725.4)).toBeLessThan(0.15);
  });

  test("a refiner's published scrap terms: 10 ozt of 585 at 2000, 98 % paid, 1.25 an ounce received, 75 at least: 11391.00", () => {
    const treatment = { ...charge('1.25', 'received', 'ozt'), least: { amount: decimal(75), currency: 'USD' } };
    const terms = deal({ pays: new Map([['Au', paid('0.98')]]), charges: new Map([['treatment', treatment]]) });
    const made = reckon(lot(OZT.times(10).toString(), { Au: '0.585' }), terms, { Au: '2000' });
    expect(total(made)).toBe('11391');
    // 1.25 × 10 is less than the least of 75; of 100 ounces it is 125.
    const large = reckon(lot(OZT.times(100).toString(), { Au: '0.585' }), terms, { Au: '2000' });
    expect(large.charges[0]!.cost.amount.toString()).toBe('125');
  });

  test('the troy ounce is 31.1034768 g (London good-delivery rules); a bar of 12.500 kg is 401.875 ozt, rounded down to 0.025', () => {
    expect(OZT.toString()).toBe('31.1034768');
    expect(roundTo(decimal(12500).div(OZT), decimal('0.025'), 'down').toString()).toBe('401.875');
    // 401.125 ozt at 995.8 are 399.440 fine, to three decimals.
    expect(decimal('401.125').times('0.9958').toFixed(3)).toBe('399.440');
  });

  test('digits of every currency, as a general package has them from ISO 4217', () => {
    for (const [places, codes] of Object.entries(digits.digits)) {
      for (const code of codes) expect([code, minorDigits(code)]).toEqual([code, Number(places)]);
    }
    expect(Object.values(digits.digits).flat().length).toBeGreaterThan(150);
  });
});

describe('whatever the lot', () => {
  const seed = 20260901;
  const share = fc.integer({ min: 0, max: 10_000 }).map((of) => decimal(of).div(10_000));
  const grams = fc.integer({ min: 1, max: 5_000_000 }).map((of) => decimal(of).div(1000));
  const price = fc.integer({ min: 1, max: 500_000 }).map((of) => decimal(of).div(100));
  const currency = fc.constantFrom('USD', 'JPY', 'KWD');
  const cut = fc.oneof(
    share.map((of) => ({ share: of.div(20) })),
    grams.map((of) => ({ grams: of.div(100) })),
  );
  const rising = fc.tuple(share, share, share).map((shares) => {
    const [low, middle, high] = shares.sort((a, b) => a.comparedTo(b)) as [Decimal, Decimal, Decimal];
    return [
      { from: decimal(0), share: low },
      { from: decimal('0.5'), share: middle },
      { from: decimal('0.9'), share: high },
    ];
  });
  const anyDeal = fc
    .record({ bands: rising, less: fc.option(cut), keeps: fc.option(cut), flat: price, rate: share, value: share })
    .map(
      ({ bands, less, keeps, flat, rate, value }) =>
        (code: string) =>
          deal({
            pays: new Map([['Au', bands]]),
            less: less ? new Map([['Au', less]]) : new Map(),
            keeps: keeps ? new Map([['Au', keeps]]) : new Map(),
            charges: new Map([
              ['melting', charge(flat.toString(), undefined, undefined, code)],
              ['refining', charge(rate.toString(), 'melted', 'g', code)],
              ['handling', charge(value.div(10).toString(), 'value', undefined, null)],
            ]),
          }),
    );
  const at = (of: Decimal, fine: Decimal, by: Deal, cost: Decimal, code: string): Payout =>
    payoutOf({ grams: of, receivedGrams: of, shares: new Map([['Au', fine]]) }, by, {
      currency: code,
      priceFor: () => ({ amount: cost, currency: code, perGrams: OZT }),
      convert: (one) => one,
    });

  test('the sum of its lines is its total to the last digit, and each is a whole number of coins', () => {
    fc.assert(
      fc.property(grams, share, anyDeal, price, currency, (of, fine, by, cost, code) => {
        const made = at(of, fine, by(code), cost, code);
        const lines = [
          ...made.metals.map(({ value }) => value.amount),
          ...made.charges.map(({ cost }) => cost.amount.negated()),
        ];
        expect(made.total.amount.equals(sum(lines))).toBe(true);
        for (const line of lines) expect(line.mod(minorUnit(code)).isZero()).toBe(true);
      }),
      { seed, numRuns: 400 },
    );
  });

  test('more gold, a larger share, a higher price never pay less', () => {
    fc.assert(
      fc.property(grams, share, share, anyDeal, price, price, currency, (of, a, b, by, one, other, code) => {
        const terms = by(code);
        const [poorer, finer] = a.lessThan(b) ? [a, b] : [b, a];
        const [cheap, dear] = one.lessThan(other) ? [one, other] : [other, one];
        const low = at(of, poorer, terms, cheap, code).total.amount;
        // A coin for the rounding of the charge on the value.
        const coin = minorUnit(code);
        expect(low.lessThanOrEqualTo(at(of, finer, terms, cheap, code).total.amount.plus(coin))).toBe(true);
        expect(low.lessThanOrEqualTo(at(of, poorer, terms, dear, code).total.amount.plus(coin))).toBe(true);
        const raised = new Map([
          ['Au', terms.pays.get('Au')!.map((band) => ({ ...band, share: band.share.plus(1).div(2) }))],
        ]);
        const better = at(of, poorer, { ...terms, pays: raised }, cheap, code).total.amount;
        expect(low.lessThanOrEqualTo(better.plus(coin))).toBe(true);
      }),
      { seed, numRuns: 400 },
    );
  });

  test('money of another currency is never added', () => {
    const terms = deal({ pays: new Map([['Au', paid('0.9')]]) });
    expect(() =>
      payoutOf(lot('1', { Au: '0.5' }), terms, {
        currency: 'USD',
        priceFor: () => ({ ...money(1, 'EUR'), perGrams: OZT }),
        convert: (one) => one,
      }),
    ).toThrow(RangeError);
  });
});

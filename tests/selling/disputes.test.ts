/** A settlement as a buyer sends it, and what must be said of it: two currencies, exchanged assays, slips of the pen, whose account it is. */
import { describe, expect, test } from 'vitest';
import { settledRows } from '../../server/cli/settle/settled';
import { lineCells } from '../../server/reports/selling/settled';
import { findingsOf } from '../../server/rules/findings';
import { recordsOf } from '../../server/workspace/selling/records';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import { pageWorkspace } from '../support/workspace';

const SHOP = `shop: { currency: EUR }
parties:
  own-bench: own
  quay-lab: lab
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 % }
        charges: { melting: 50.00 EUR }
        splitting: { Au: 0.2 % }
        price day: settled
        days: 10 days
  moor-refiner: refiner
`;
const EXCHANGE = SHOP.replace('        price day', '        assay: exchange\n        price day');

const SHIPPED = `2026-03-02
quote Au 75.00 EUR/g
quote EUR 1.10 USD
receive A from own-bench
  100.00 g
assay A by fire at quay-lab, corrected
  Au 60.00 ±0.02 % expanded
ship V1 to quay-refiner
  in A 100.00 g
2026-03-06
`;

const told = (settle: string, { shop = SHOP, before = SHIPPED } = {}): string[] =>
  findingsOf(pageWorkspace(`${before}${settle}`, shop), 'page.melt').map(({ code, says }) => `${code}: ${says}`);

/** 60 g × 0.98 = 58.80 g at 76.00 = 4468.80; less 50.00. */
const settled = (price: string, total: string, melting = '50.00 EUR'): string => `quote Au 76.00 EUR/g
quote EUR 1.20 USD
settle V1
  received 100.00 g
  Au 60.00 %
  pays Au 98 %, price Au ${price}
  charge melting ${melting}
  total ${total}, paid 2026-03-08
`;

describe('the price of the agreed day in another currency', () => {
  // 76.00 × 1.20 = 91.20 USD; 58.80 × 91.20 = 5362.56; less 60.00.
  test('agrees where quote and rate of that day give it', () => {
    expect(told(settled('91.20 USD/g', '5302.56 USD', '60.00 USD'))).toEqual([]);
  });

  test('is told to the coin, in the unit in which it is written', () => {
    // 58.80 × (91.20 − 89.00) = 129.36.
    expect(told(settled('89.00 USD/g', '5173.20 USD', '60.00 USD'))).toEqual([
      'settled-price: They reckon Au at 89.00 USD/g; on 2026-03-06, the agreed day, it was 91.20 USD/g. It costs you 129.36 USD.',
    ]);
  });

  test('is not held to the coin where the rate is of another day, and says so', () => {
    const old = settled('91.00 USD/g', '5290.80 USD', '60.00 USD').replace('quote EUR 1.20 USD\n', '');
    const page = pageWorkspace(`${SHIPPED.replace('1.10', '1.20')}${old}`, SHOP);
    expect(findingsOf(page, 'page.melt')).toEqual([]);
    const [price] = lineCells(settlementsIn(page)[0]!).filter(([title]) => title === 'Au price');
    expect(price).toEqual(['Au price', '91.00 USD/g', '91.20 USD/g', 'not checked: no rate of the agreed day', '']);
  });

  test('that looks like the price of another unit is told as that', () => {
    expect(told(settled('2363.86 EUR/g', '138944.97 EUR'))[0]).toContain('It looks like the price of a troy ounce.');
  });
});

const exchanged = (theirs: string, found: string, total: string): string => `${theirs}quote Au 75.00 EUR/g
settle V1
  received 100.00 g
  Au ${found} %
  pays Au 98 %, price Au 75.00 EUR/g
  charge melting 50.00 EUR
  total ${total} EUR, paid 2026-03-08
`;
const THEIRS = 'assay A by fire at quay-refiner\n  Au 59.90 %\n';

describe('assays that are exchanged', () => {
  // The mean of 60.00 and 59.90 is 59.95: 59.95 × 0.98 × 75.00 = 4406.32; by 59.90 it is 4402.65.
  test('settle by their mean: a sheet that prints what they found and pays the mean agrees', () => {
    expect(told(exchanged(THEIRS, '59.95', '4356.32'), { shop: EXCHANGE })).toEqual([]);
    expect(told(exchanged(THEIRS, '59.90', '4356.32'), { shop: EXCHANGE })).toEqual([]);
    expect(told(exchanged(THEIRS, '59.90', '4352.65'), { shop: EXCHANGE })).toEqual([
      'settled-assay: Both assays lie within the splitting limit: their mean, Au 59.95 %, settles; they reckon with 59.90 %. It costs you 3.67 EUR.',
    ]);
  });

  test('of which theirs is not written cannot be checked: no mean within 0.2 % lies farther off than 0.1 %', () => {
    const page = pageWorkspace(`${SHIPPED}${exchanged('', '59.92', '4354.12')}`, EXCHANGE);
    expect(findingsOf(page, 'page.melt')).toEqual([]);
    const [assay] = lineCells(settlementsIn(page)[0]!).filter(([title]) => title === 'Au assay');
    expect(assay![3]).toBe('not checked: their own assay is not written');
    // 0.20 × 0.98 × 75.00 = 14.70.
    expect(told(exchanged('', '59.80', '4345.30'), { shop: EXCHANGE })).toEqual([
      'settled-assay: They settle with Au 59.80 %, and we found 60.00 %: no mean of two assays within the splitting limit lies farther off than 0.1 %. It costs you 14.70 EUR. Write their own assay, `assay LOT by fire at quay-refiner`, or call the umpire.',
    ]);
  });

  test('give their own figure to the record of a party, and not the mean', () => {
    const record = (found: string, theirs: string, shop = EXCHANGE) =>
      recordsOf(pageWorkspace(`${SHIPPED}${exchanged(theirs, found, '4356.32')}`, shop), 'quay-refiner')[0]!.record
        .goldShare?.value;
    expect(record('59.95', THEIRS)).toBeCloseTo(0.001, 9);
    expect(record('59.95', '')).toBeUndefined();
    expect(record('59.90', '', SHOP)).toBeCloseTo(0.001, 9);
  });
});

describe('a figure that their total was not reckoned with', () => {
  // 59.50 g × 0.98 × 75.00 = 4373.25; less 50.00.
  const shop = SHOP.replace('        charges', '        less: { Au: 0.5 g }\n        charges');
  const sheet = (assay: string, less: string): string =>
    exchanged('', assay, '4323.25').replace('98 %,', `98 %, less Au ${less},`);

  test('is a slip of the pen, and nothing is owed for it', () => {
    expect(told(sheet('60.00', '0.5 g'), { shop })).toEqual([]);
    expect(told(sheet('6.000', '0.5 g'), { shop })).toEqual([
      'settled-assay: The sheet has Au assay 6.00 %; ours is 60.00 %, and their total is reckoned with ours. Nothing is owed for it: put right a slip of the pen, or ask for a new sheet.',
    ]);
  });

  test('that is a share for a weight is told in its own unit', () => {
    // 0.5 % of 60 g are 0.30 g in place of 0.50 g: 0.20 × 0.98 × 75.00 = 14.70.
    expect(told(sheet('60.00', '0.5 %').replace('4323.25', '4337.95'), { shop })).toEqual([
      'settled-terms: They take 0.5 % of Au off first; the terms from 2026-01-01 say 0.5 g. It is 14.70 EUR in your favour.',
    ]);
  });

  test('with two digits exchanged names the weight that was meant', () => {
    const before = SHIPPED.replaceAll('100.00', '61.37');
    // 61.73 × 0.60 × 0.98 × 75.00 = 2722.29; by 61.37 it is 2706.42.
    const sheet = exchanged('', '60.00', '2672.29').replace('100.00', '61.73');
    expect(told(sheet, { before })).toEqual([
      'settled-weight: They received 61.73 g; 61.37 g was shipped: 0.36 g more, more than weighing explains. It is 15.87 EUR in your favour. Two of its digits may be exchanged, for 61.37 g: look at their sheet.',
    ]);
  });
});

describe('an account', () => {
  const account = exchanged('', '60.00', '4360.00');

  test('of less than was shipped asks for their weighing, and for the photo of ours to be shown', () => {
    const before = SHIPPED.replace('  in A 100.00 g\n', '  in A 100.00 g\n  photo a-on-scale.jpg\n');
    // 1.00 × 0.60 × 0.98 × 75.00 = 44.10.
    const [says] = told(account.replace('received 100.00', 'received 99.00').replace('4360.00', '4315.90'), {
      before,
    }).filter((one) => one.startsWith('settled-weight'));
    expect(says).toBe(
      'settled-weight: They received 99.00 g; 100.00 g was shipped: 1.00 g less, more than weighing explains. It costs you 44.10 EUR. Ask for their weighing, and show them a-on-scale.jpg.',
    );
  });

  test('by another than the metal went to is asked about', () => {
    expect(told(account.replace('settle V1', 'settle V1 with moor-refiner'))).toEqual([
      'settled-by-another: V1 went to quay-refiner, and this settles it with moor-refiner. Which of the two is wrong?',
    ]);
  });

  test('of a lot that came back from a laboratory is not of what that shipment took', () => {
    const before = SHIPPED.replace('ship V1 to quay-refiner', 'ship V1 to quay-lab').replace(
      '  in A 100.00 g\n',
      '  in A 100.00 g\n  back A 100.00 g\n',
    );
    const codes = told(account.replace('settle V1', 'settle A with quay-refiner'), { before }).map(
      (one) => one.split(':')[0],
    );
    expect(codes).not.toContain('settled-by-another');
    expect(codes).not.toContain('settled-and-back');
  });

  test('of what came back has nothing to settle', () => {
    const before = SHIPPED.replace('  in A 100.00 g\n', '  in A 100.00 g\n  back A 100.00 g\n');
    expect(told(account, { before })).toEqual([
      'settled-and-back: A came back from quay-refiner: nothing of it is left to settle. Where they kept a part, `receive` what came back under a name of its own.',
    ]);
  });

  test('that is the second of its shipment is told once, and nothing else is said of it', () => {
    const second = account
      .replace('quote Au 75.00 EUR/g\n', '')
      .replace(', paid 2026-03-08', '')
      .replace('60.00 %', '59.00 %');
    expect(told(`${account}${second}2026-04-30\nnote rain\n`)).toEqual([
      'settled-twice: V1 was settled on 2026-03-06: this is not counted. Write `more settle V1` for what came later, or `correct` what was wrong.',
    ]);
  });

  test('of one lot of a shipment leaves the others open, and of all of them none', () => {
    const before = SHIPPED.replace(
      'ship V1',
      'receive B from own-bench\n  100.00 g\nassay B by fire at quay-lab, corrected\n  Au 60.00 ±0.02 % expanded\nship V1',
    ).replace('  in A 100.00 g\n', '  in A 100.00 g\n  in B 100.00 g\n');
    const [a, b] = ['A', 'B'].map((lot) => account.replace('settle V1', `settle ${lot}`));
    const later = '2026-03-30\nnote rain\n';
    expect(told(`${a}${later}`, { before })).toEqual([
      'not-settled: B of V1 left 28 days before the last day of the journal, 2026-03-30, and is not settled; quay-refiner settles within 10 days. Ask for the settlement.',
    ]);
    expect(told(`${a}${b!.replace('quote Au 75.00 EUR/g\n', '')}${later}`, { before })).toEqual([]);
  });

  test('as a table has the unit of each figure', () => {
    const workspace = pageWorkspace(`${SHIPPED}${account}`, SHOP);
    const rows = settledRows(workspace, settlementsIn(workspace)[0]!);
    expect(rows.map(([, , line, , , unit]) => [line, unit])).toEqual([
      ['weight received', 'g'],
      ['Au assay', '1'],
      ['Au paid share', '1'],
      ['charge melting', 'EUR'],
      ['Au price', 'EUR/g'],
      ['total', 'EUR'],
    ]);
  });
});

describe('an offer', () => {
  const offer = (total: string): string => `2026-03-02
receive A from own-bench
  100.00 g
assay A by fire at quay-lab, corrected
  Au 60.00 ±0.02 % expanded
offer A from moor-refiner
  pays Au 95 %, price Au 70.00 EUR/g, charge fee 30.00 EUR
  total ${total} EUR
`;

  test('whose total is not what its lines come to is asked about', () => {
    // 60 × 0.95 × 70.00 = 3990.00; less 30.00.
    expect(told(offer('3960.00'), { before: '' })).toEqual([]);
    expect(told(offer('3900.00'), { before: '' })).toEqual([
      'offer-total: The lines of the offer come to 3960.00 EUR by our weight and assay, not to 3900.00 EUR: 60.00 EUR less. Ask by which weight, assay or charge.',
    ]);
  });
});

describe('a lot of which nothing is known', () => {
  const page = (claim: string, party = 'quay-refiner'): string[] =>
    told(`2026-03-02\nreceive U from own-bench\n  50.00 g\n${claim}ship V2 to ${party}\n  in U 50.00 g\n`, {
      before: '',
    });

  test('is told before it goes, as it came in too; a claim is enough, and a laboratory needs none', () => {
    expect(page('')).toEqual([
      'sold-unassayed: U leaves with no assay. Keep a sample, or have it assayed before it goes.',
    ]);
    expect(page('  claim Au 60 %\n')).toEqual([]);
    expect(page('', 'quay-lab')).toEqual([]);
  });
});

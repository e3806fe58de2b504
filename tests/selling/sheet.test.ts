/** A settlement as a whole: what counts of it, prices and charges in other forms, money in parts, metal in place of money. */
import { describe, expect, test } from 'vitest';
import { settledSays } from '../../server/reports/selling/settled';
import { unfinishedOf } from '../../server/reports/unfinished';
import { findingsOf } from '../../server/rules/findings';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import type { Workspace } from '../../server/workspace/workspace';
import { differing, settledPage, TERMS_SHOP } from '../support/settlement';
import { pageWorkspace } from '../support/workspace';

describe('a settlement', () => {
  test('of several lots is held against all of them together', () => {
    const several = pageWorkspace(
      `2026-05-04
receive A 60.00 g
assay A by fire, corrected
  Au 90.00 ±0.02 % expanded
receive B 40.00 g
assay B by fire, corrected
  Au 50.00 ±0.02 % expanded
quote Au 2500.00 USD/ozt
ship V1 to quay-refiner
  in A 60.00 g, in B 40.00 g
2026-05-11
settle V1
  received 100.00 g
  Au 74.00 %
  pays Au 98 %, price Au 2500.00 USD/ozt
`,
      TERMS_SHOP.replace('TERMS', 'assay: theirs'),
    );
    const [one] = settlementsIn(several);
    // (60 × 0.9 + 40 × 0.5) / 100.
    expect(one!.own.get('Au')!.share.value).toBeCloseTo(0.74, 12);
    expect(one!.checked.lines.filter(({ verdict }) => verdict === 'differs')).toEqual([]);
  });

  test('that goes on another day: the money that came is read with it; a void one is none', () => {
    const paid = `${settledPage('', '90.00 %')}2026-05-20\nmore settle V1\n  paid 2026-05-19`;
    expect(
      settlementsIn(pageWorkspace(paid, TERMS_SHOP.replace('TERMS', 'days: 12'))).map(({ daysTaken }) => daysTaken),
    ).toEqual([15]);
    const voided = `${settledPage('', '90.00 %')}2026-05-20\nvoid settle V1`;
    expect(settlementsIn(pageWorkspace(voided, TERMS_SHOP.replace('TERMS', 'days: 12')))).toEqual([]);
  });

  test('in another currency than the quotes is reckoned by the written rate', () => {
    const euros = (rate: string) =>
      settledPage('', '90.00 %')
        .replace('price Au 2500.00 USD/ozt', 'price Au 2000.00 EUR/ozt\n  total 5671.14 EUR')
        .replace('ship V1', `${rate}\nship V1`);
    const total = (text: string) =>
      settlementsIn(pageWorkspace(text, TERMS_SHOP.replace('TERMS', 'price day: shipped')))[0]!;
    // 90 g × 0.98 × 2000 / 31.1034768 = 5671.39…; 2500 USD / 1.25 = 2000 EUR.
    const known = total(euros('quote EUR 1.25 USD'));
    expect([known.currency, known.checked.payout.total.amount.toString()]).toEqual(['EUR', '5671.39']);
    expect(total(euros('note no rate')).checked.payout.total.amount.toString()).toBe('5671.39');
  });

  test('whose total is in a currency without a rate has its lines checked all the same, and the slip or the rate is asked for', () => {
    const text = settledPage('', '90.00 %').trimEnd();
    const told = (total: string): readonly string[] => {
      const workspace = pageWorkspace(
        `${text}\n  total ${total} EUR\n`,
        TERMS_SHOP.replace('TERMS', 'price day: settled'),
      );
      const [one] = settlementsIn(workspace);
      expect(one!.checked.payout.total).toMatchObject({ currency: 'USD' });
      expect(settledSays(one!)).toContain('1 line differs from the journal.');
      return findingsOf(workspace, 'page.melt').map(({ code, says }) => `${code}: ${says}`);
    };
    // 90 g × 0.98 × 2500 / 31.1034768 = 7089.24.
    expect(told('7089.24')).toEqual([
      'settled-total: Their lines come to 7089.24 USD; the total is 7089.24 EUR, and no rate is written. Put right a slip of the pen, or write `quote EUR … USD`.',
    ]);
    expect(told('4000.00')).toHaveLength(1);
  });

  test('that prints its sums has each worked through to one in its last place, and a slip is told once', () => {
    const told = (payable: string, worth: string, total: string): readonly string[] => {
      const text = `${settledPage('', '90.00 %')}  payable Au ${payable} g, worth Au ${worth} USD\n  total ${total} USD\n`;
      const workspace = pageWorkspace(text, TERMS_SHOP.replace('TERMS', 'price day: shipped'));
      const [one] = settlementsIn(workspace);
      return [
        ...findingsOf(workspace, 'page.melt').map(({ says }) => says),
        `${one!.checked.owed.amount.toString()} owed`,
      ];
    };
    // 90 × 0.98 = 88.20 g; × 2500 / 31.1034768 = 7089.24; 88.19 g are 7088.44, and 87.20 g are 7008.86.
    expect(told('88.20', '7089.24', '7089.24')).toEqual(['0 owed']);
    expect(told('88.19', '7088.44', '7088.44')).toEqual(['0 owed']);
    expect(told('88.20', '7089.25', '7089.25')).toEqual(['0 owed']);
    expect(told('87.20', '7008.86', '7008.86')).toEqual([
      'They print 87.20 g of payable Au; their weight, assay and share come to 88.20 g. It costs you 80.38 USD.',
      '80.38 owed',
    ]);
    expect(told('88.20', '7098.24', '7098.24')).toEqual([
      'They print 7098.24 USD for Au; their own figures come to 7089.24 USD. It is 9.00 USD in your favour.',
      '-9 owed',
    ]);
  });

  test('that cuts a printed sum where it should be rounded agrees', () => {
    // A refiner's published returnable sheet: 14 736.18 × 0.98 = 14 441.46, printed 14 441.45.
    const text = settledPage('', '90.00 %')
      .replaceAll('100.00 g', '14736.18 g')
      .replaceAll(/Au 90.00 (±0.02 % expanded|%)/g, 'Au 100 %')
      .concat('  payable Au 14441.45 g\n');
    const [one] = settlementsIn(pageWorkspace(text, TERMS_SHOP.replace('TERMS', 'price day: shipped')));
    const line = one!.checked.lines.find(({ subject }) => subject === 'payable')!;
    expect([line.verdict, line.because, line.ours!.toFixed(2)]).toEqual(['agrees', 'rounding', '14441.46']);
  });

  test('of a sum and no lines is held against our own figures, as far as these are known', () => {
    const told = (total: string): readonly string[] => {
      const text = settledPage('', '90.00 %').split('  received')[0]!;
      const workspace = pageWorkspace(
        `${text}  total ${total} USD\n`,
        TERMS_SHOP.replace('TERMS', 'price day: shipped'),
      );
      return findingsOf(workspace, 'page.melt').map(({ says }) => says);
    };
    // 0.02 % expanded of 90 % is 1.58 USD of 7089.24, and the weight is known to 0.01 g of 100 g.
    expect(told('7088.00')).toEqual([]);
    expect(told('7000.00')).toEqual([
      'They name a sum and no lines: 7000.00 USD. By the terms from 2026-01-01 and our own weight and assay it comes to 7089.24 USD. It costs you 89.24 USD. Ask for the sheet.',
    ]);
  });

  test('at a price that was put into another unit agrees, but for what a coin for each line leaves open', () => {
    const told = (price: string): readonly string[] => {
      const text = settledPage('', '90.00 %').replace('price Au 2500.00 USD/ozt', `price Au ${price} USD/kg`);
      const workspace = pageWorkspace(text, TERMS_SHOP.replace('TERMS', 'price day: shipped'));
      return findingsOf(workspace, 'page.melt').map(({ code }) => code);
    };
    // 2500 / 31.1034768 × 1000 = 80376.87 USD/kg. Of 88.2 g that are paid for a coin is 0.11 USD/kg, and a coin of the quote 0.32 USD/kg.
    expect(told('80377.00')).toEqual([]);
    expect(told('80376.75')).toEqual([]);
    expect(told('80378.00')).toEqual(['settled-price']);
    expect(told('80400.00')).toEqual(['settled-price']);
  });

  test('may be at either price of a day that has two', () => {
    const told = (price: string): readonly string[] => {
      const text = settledPage('', '90.00 %')
        .replace('quote Au 2500.00 USD/ozt', 'quote Au 2480.00 USD/ozt\nquote Au 2500.00 USD/ozt')
        .replace('price Au 2500.00 USD/ozt', `price Au ${price} USD/ozt`);
      const workspace = pageWorkspace(text, TERMS_SHOP.replace('TERMS', 'price day: shipped'));
      return findingsOf(workspace, 'page.melt').map(({ says }) => says);
    };
    expect(told('2480.00')).toEqual([]);
    expect(told('2500.00')).toEqual([]);
    expect(told('2470.00')).toEqual([expect.stringContaining('the agreed day, it was 2480.00 USD/ozt')]);
  });

  test('with a charge that is never less than a sum is reckoned with that', () => {
    const charged = (charge: string): readonly string[] => {
      const text = `${settledPage('', '90.00 %')}  charge refining ${charge}\n`;
      const [one] = settlementsIn(pageWorkspace(text, TERMS_SHOP.replace('TERMS', 'price day: shipped')));
      return one!.checked.payout.charges.map(({ cost }) => cost.amount.toString());
    };
    expect(charged('0.40 USD/g of received at least 60.00 USD')).toEqual(['60']);
    expect(charged('0.70 USD/g of received at least 60.00 USD')).toEqual(['70']);
    // 1 % of 7089.24.
    expect(charged('1 % of value at least 60.00 USD')).toEqual(['70.89']);
    expect(charged('0.5 % of value at least 60.00 USD')).toEqual(['60']);
  });

  test('paid in two parts comes to both', () => {
    // 90 g × 0.98 × 2500 / 31.1034768 = 7089.23.
    const text = settledPage('', '90.00 %').trimEnd();
    const paid = `${text}\n  total 5000.00 USD, paid 2026-05-12\n2026-05-20\nmore settle V1\n  total 2089.23 USD, paid 2026-05-19\n`;
    const workspace = pageWorkspace(paid, TERMS_SHOP.replace('TERMS', 'price day: shipped'));
    expect(differing(workspace)).toEqual([]);
    expect(settlementsIn(workspace)[0]!.checked.stated.amount.toString()).toBe('7089.23');
  });

  test('of a lot that they received as nothing gives figures all the same', () => {
    const workspace = pageWorkspace(
      settledPage('', '90.00 %').replace('received 100.00 g', 'received 0.00 g'),
      TERMS_SHOP.replace('TERMS', 'assay: theirs'),
    );
    const [one] = settlementsIn(workspace);
    // 100 g at 90 % × 0.98 × 2500 / 31.1034768.
    expect(one!.checked.owed.amount.toString()).toBe('7089.24');
  });
});

describe('metal that comes back in place of money', () => {
  // 90 g × 0.98 = 88.20 g.
  const sheet = (returns: string, more = ''): Workspace => {
    const text = settledPage('', '90.00 %').replace('price Au 2500.00 USD/ozt', `returns Au ${returns} g`);
    return pageWorkspace(
      `${text}  charge melting 45.00 USD\n${more}`,
      TERMS_SHOP.replace('TERMS', 'days: 10\n        charges: { melting: 45.00 USD }'),
    );
  };
  const told = (workspace: Workspace): readonly string[] => findingsOf(workspace, 'page.melt').map(({ says }) => says);

  test('is no money, and is held against what is payable of it', () => {
    const [one] = settlementsIn(sheet('88.20'));
    expect(one!.checked.payout.total.amount.toString()).toBe('-45');
    expect(differing(sheet('88.20'))).toEqual([]);
    expect(told(sheet('87.20'))).toEqual([
      'They give back 87.20 g of Au; their weight, assay and share come to 88.20 g: 1.00 g less. Ask for the rest, or for money.',
    ]);
  });

  test('leaves charges that are yours to pay, written above nought', () => {
    expect(told(sheet('88.20', '  total 45.00 USD, paid 2026-05-12\n'))).toEqual([]);
    expect(told(sheet('88.20', '  total 54.00 USD, paid 2026-05-12\n'))).toEqual([
      expect.stringContaining('Their lines come to -45.00 USD, not to -54.00 USD'),
    ]);
  });

  test('is due until the lot is named that it was weighed in as', () => {
    const late = '2026-05-30\nnote rain\n';
    expect(told(sheet('88.20', '2026-05-12\nnote rain\n'))).toEqual([]);
    expect(told(sheet('88.20', late))).toEqual([
      'V1 was settled 19 days before the last day of the journal, 2026-05-30, and 88.20 g of Au that quay-refiner gives back is not weighed in. Ask for it; once it is here, write `receive LOT from quay-refiner`, and `returned LOT` in a `more settle`.',
    ]);
    const back = `2026-05-20\nreceive G from quay-refiner 88.25 g\nassay G by fire, corrected\n  Au 99.95 ±0.02 % expanded\nmore settle V1\n  returned G\n${late}`;
    expect(told(sheet('88.20', back))).toEqual([]);
    const [one] = settlementsIn(sheet('88.20', back));
    // 88.25 × 0.9995.
    expect(one!.back[0]!.came!.value).toBeCloseTo(88.206, 3);
    expect(settledSays(one!)[1]).toMatch(
      /^88\.20 g of Au comes back from quay-refiner in place of money: weighed in as G, 88\.2/,
    );
    const [open] = unfinishedOf(sheet('88.20', late)).filter(({ closes }) => closes === 'V1');
    expect(open!.says).toBe('Write `returned LOT` of settle V1 once 88.20 g of Au is weighed in.');
  });
});

/** A customer's bill, and a customer's metal that goes to a buyer. */
import { describe, expect, test } from 'vitest';
import { billLabel, billSays } from '../../server/reports/selling/bill';
import { settledSays } from '../../server/reports/selling/settled';
import { proceedsSays } from '../../server/reports/selling/toll';
import { unfinishedOf } from '../../server/reports/unfinished';
import { findingsOf } from '../../server/rules/findings';
import { billOf, billsOf } from '../../server/workspace/selling/bills';
import { dealtForOthers, dealtIn } from '../../server/workspace/selling/dealt';
import { shipmentWorth } from '../../server/workspace/selling/offers';
import { othersPart, proceedsOf } from '../../server/workspace/selling/proceeds';
import { salesOf } from '../../server/workspace/selling/sales';
import { settlementOf, settlementsIn } from '../../server/workspace/selling/settlements';
import { tollOf } from '../../server/workspace/selling/tolls';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import { formed, sampleWorkspace } from '../support/documents';
import { pageWorkspace, said } from '../support/workspace';

const SHOP = `shop: { currency: USD }
parties:
  tarn-end: own
  hall-bench:
    role: customer
    terms:
      2026-01-01:
        pays: { Au: 98 % }
        charges:
          toll: 1.10 USD/g of received at least 60.00 USD
          assay: 35.00 USD
        days: 10 days
        residues: shop
  quay-refiner:
    role: refiner
    terms:
      2026-01-01: { pays: { Au: 98 % }, days: 10 }
`;

const WORK = `2026-05-04
quote Au 2500.00 USD/ozt
receive H from hall-bench
  50.00 g
assay H by fire, corrected
  Au 70.00 ±0.02 % expanded
melt M1
  in H
  add borax-glass 5 g
  out B 49.60 g bar
  out S 5.00 g slag
assay B by fire, corrected
  Au 70.50 ±0.02 % expanded
2026-05-06
ship V1 to hall-bench
  in 48.00 g of B
`;

const BILL = `settle H
  received 50.00 g
  pays Au 98 %
  charge toll 1.10 USD/g of received
  charge assay 35.00 USD
`;

const billed = (text: string, work = WORK) => {
  const workspace = pageWorkspace(`${work}${text}`, SHOP);
  const entry = workspace.pages.get('page.melt')!.entries.findLast(({ verb, prefix }) => verb === 'settle' && !prefix)!;
  return { workspace, bill: billOf(workspace, entry)!, entry };
};

const told = (text: string, work = WORK) =>
  findingsOf(billed(text, work).workspace, 'page.melt').map(({ code, says }) => `${code}: ${says}`);

const entryOf = ({ pages }: ReturnType<typeof sampleWorkspace>, wanted: string, of: string) =>
  [...pages.values()].flatMap(({ entries }) => entries).find(({ verb, name }) => verb === wanted && name?.name === of)!;

const ANEW = 'Put right what is wrong, and give the bill out anew.';

/** Their metal sold to a refiner. */
const AWAY = `${WORK.replace('ship V1 to hall-bench', 'ship V1 to quay-refiner')}2026-05-10
settle V1
  received 48.00 g
  Au 70.50 %
  pays Au 98 %, price Au 2500.00 USD/ozt
  total 2665.55 USD, paid 2026-05-11
`;

describe("a customer's bill", () => {
  test('is no settlement of a buyer: charges are what they pay', () => {
    const { workspace, bill, entry } = billed(`${BILL}  total 95.00 USD, paid 2026-05-08\n`);
    expect(settlementOf(workspace, entry)).toBeUndefined();
    // 1.10 × 50 = 55.00 is below 60.00 by the terms; the bill itself says 55.00.
    expect([bill.payer, bill.total.amount.toString()]).toEqual(['customer', '95']);
    expect(bill.payout.total.amount.toString()).toBe('-90');
  });

  test('is held against the terms, charge by charge, and its total against its lines', () => {
    expect(told(`${BILL}  total 90.00 USD, paid 2026-05-08\n`)).toEqual([
      `bill-differs: The bill charges 55.00 USD for toll; by the terms from 2026-01-01 it is 60.00 USD. It costs you 5.00 USD. ${ANEW}`,
    ]);
    const right = BILL.replace('1.10 USD/g of received', '60.00 USD');
    expect(told(`${right}  total 95.00 USD, paid 2026-05-08\n`)).toEqual([]);
    expect(told(`${right}  total 60.00 USD, paid 2026-05-08\n`)).toEqual([
      `bill-differs: The lines of the bill come to 95.00 USD, not to 60.00 USD: charge assay is left out. It costs you 35.00 USD. ${ANEW}`,
    ]);
    expect(told(`${right.replace('98 %', '97 %')}  total 95.00 USD, paid 2026-05-08\n`)).toEqual([
      `bill-differs: The bill gives 97 % of Au; the terms from 2026-01-01 say 98 %. It costs hall-bench 0.350 g of Au. ${ANEW}`,
    ]);
  });

  test('tells what the journal has: a figure that was corrected after it went out is told', () => {
    const right = `${BILL.replace('1.10 USD/g of received', '60.00 USD')}  Au 70.00 %\n  total 95.00 USD, paid 2026-05-08\n`;
    expect(told(right)).toEqual([]);
    expect(
      told(
        `${right}2026-05-09\ncorrect assay H\n  because misread\n  Au 70.20 ±0.02 % expanded was 70.00 ±0.02 % expanded\n`,
      ),
    ).toContain(
      `bill-differs: The bill says Au 70.00 %; the journal has 70.20 %. It costs hall-bench 0.098 g of Au. ${ANEW}`,
    );
    expect(told(right.replace('received 50.00 g', 'received 50.10 g'))).toContain(
      `bill-differs: The bill says 50.10 g came in; the journal has 50.00 g. It costs you 0.069 g of Au. ${ANEW}`,
    );
  });

  test('with `melted` tells what came of it as metal, and the assay is of that', () => {
    const melted = `${BILL.replace('1.10 USD/g of received', '60.00 USD').replace('50.00 g', '50.00 g, melted 49.60 g')}  Au 70.50 %\n  total 95.00 USD, paid 2026-05-08\n`;
    expect(told(melted)).toEqual([]);
    expect(told(melted.replace('49.60', '49.06'))).toEqual([
      `bill-differs: The bill says 49.06 g came of it as metal; the journal has 49.60 g. It costs hall-bench 0.373 g of Au. ${ANEW}`,
    ]);
  });

  test('with a charge by the value counts the value of all gold and silver, at the prices of its day', () => {
    const shop = SHOP.replace('          assay: 35.00 USD\n', '          share: 2 % of value\n');
    // 35 g × 2500 / 31.1034768 = 2813.19: 2 % are 56.26.
    const share = `settle H\n  received 50.00 g\n  charge toll 60.00 USD, charge share 2 % of value\n  total 116.26 USD, paid 2026-05-08\n`;
    const later = '2026-05-09\nquote Au 2600.00 USD/ozt\n';
    const workspace = pageWorkspace(`${WORK}${share}${later}`, shop);
    expect(said(workspace)).toEqual([]);
    expect(tollOf(workspace, 'H')!.fee!.amount.toString()).toBe('116.26');
  });

  test('with a price buys the metal from them, and the shop pays', () => {
    const bought = `settle H
  received 50.00 g
  Au 70.00 %
  pays Au 98 %, price Au 2500.00 USD/ozt
  charge toll 60.00 USD, charge assay 35.00 USD
`;
    // 35 g × 0.98 × 2500 / 31.1034768 = 2756.93; less 95.00.
    const { bill } = billed(bought, WORK.replace('2026-05-06\nship V1 to hall-bench\n  in 48.00 g of B\n', ''));
    expect([bill.payer, bill.total.amount.toString()]).toEqual(['shop', '2661.93']);
  });

  test('that is not paid is waited for, and told after the agreed days', () => {
    const right = `${BILL.replace('1.10 USD/g of received', '60.00 USD')}  total 95.00 USD\n`;
    expect(unfinishedOf(billed(right).workspace).map(({ says }) => says)).toEqual([
      'Write `paid DATE` of settle H once the 95.00 USD of hall-bench have come.',
    ]);
    expect(said(pageWorkspace(`${WORK}${right}2026-05-30\nnote rain\n`, SHOP))).toEqual(['not-settled at "H"']);
  });

  test('is held against what other pages say, as soon as they say otherwise', () => {
    const split = WORK.indexOf('2026-05-06');
    const bill = `2026-05-07\nsettle H\n  received 50.00 g, melted 49.60 g\n  charge toll 60.00 USD, charge assay 35.00 USD\n  total 95.00 USD, paid 2026-05-08\n`;
    const texts = new Map([
      ['a.melt', WORK.slice(0, split)],
      ['b.melt', WORK.slice(split)],
      ['c.melt', bill],
      ['workshop.yaml', SHOP],
    ]);
    const codes = (workspace: ReturnType<typeof pageWorkspace>) =>
      findingsOf(workspace, 'c.melt').map(({ says }) => says);
    let workspace = withTexts(emptyWorkspace('toll'), texts);
    expect(codes(workspace)).toEqual([]);
    for (const [was, is] of [
      ['49.60 g bar', '49.06 g bar'],
      ['49.06 g bar', '49.60 g bar'],
      ['  50.00 g\n', '  50.10 g\n'],
      ['  50.10 g\n', '  50.00 g\n'],
    ] as const) {
      texts.set('a.melt', texts.get('a.melt')!.replace(was, is));
      workspace = withTexts(workspace, new Map([['a.melt', texts.get('a.melt')!]]));
      expect(codes(workspace)).toEqual(codes(withTexts(emptyWorkspace('toll'), texts)));
    }
    texts.set('a.melt', texts.get('a.melt')!.replace('49.60 g bar', '49.06 g bar'));
    expect(codes(withTexts(workspace, new Map([['a.melt', texts.get('a.melt')!]])))).toEqual([
      `The bill says 49.60 g came of it as metal; the journal has 49.06 g. It costs you 0.373 g of Au. ${ANEW}`,
    ]);
  });

  test('of the sample agrees with its journal', () => {
    const sample = sampleWorkspace('selling');
    const entry = entryOf(sample, 'settle', 'HB-3');
    const bill = billOf(sample, entry)!;
    // 1.10 × 72.40 = 79.64; + 35.00.
    expect([bill.total.amount.toString(), bill.paidOn]).toEqual(['114.64', '2026-09-22']);
    expect(bill.lines.every(({ verdict }) => verdict === 'agrees')).toBe(true);
    expect(settlementsIn(sample).map(({ name }) => name)).toEqual(['S1', 'S2', 'S4']);
  });
});

describe("a customer's metal", () => {
  const ship = (workspace: ReturnType<typeof pageWorkspace>) =>
    workspace.pages.get('page.melt')!.entries.find(({ verb }) => verb === 'ship')!;

  test('that goes back to them is worth nothing to the shop, and nobody waits for its settlement', () => {
    const workspace = pageWorkspace(`${WORK}2026-06-30\nnote rain\n`, SHOP);
    expect(shipmentWorth(workspace, ship(workspace))).toBeUndefined();
    expect(said(workspace)).toEqual([]);
    const sample = sampleWorkspace('selling');
    expect(shipmentWorth(sample, entryOf(sample, 'ship', 'S3'))).toBeUndefined();
  });

  test('that is shipped to a refiner is asked about, and its money is not among our sales', () => {
    // 48 × 0.705 × 0.98 × 2500 / 31.1034768 = 2665.55.
    const workspace = pageWorkspace(AWAY, SHOP);
    expect(findingsOf(workspace, 'page.melt').map(({ code, says }) => `${code}: ${says}`)).toEqual([
      'not-ours-to-sell: B is of hall-bench, and was not bought: what quay-refiner pays for it is theirs. Write `bought` where it came in, or accept this with your reason.',
    ]);
    expect(dealtIn(workspace)).toEqual([]);
    expect(dealtForOthers(workspace).map(({ owners, dealt }) => [dealt.name, owners])).toEqual([
      ['V1', ['hall-bench']],
    ]);
    const [settlement] = settlementsIn(workspace);
    expect(settlement!.owners).toEqual(['hall-bench']);
  });

  test('that was sold for them is no metal that is still owed, and the money stands in their account', () => {
    const workspace = pageWorkspace(AWAY, SHOP);
    const toll = tollOf(workspace, 'H')!;
    const gold = toll.metals.find(({ metal }) => metal === 'Au')!;
    // 98 % of 35 g are 34.30 g; 48 × 0.705 = 33.84 g were sold: 0.46 g of the 1.60 g that are here.
    expect(gold.sold.value).toBeCloseTo(33.84, 9);
    expect(gold.owed.value).toBeCloseTo(0.46, 9);
    expect(gold.bought).toBe(false);
    // 2665.55 less 60.00 and 35.00 for the work.
    expect(proceedsSays(toll, proceedsOf(workspace, toll), billsOf(workspace, toll))).toEqual([
      'B was sold to quay-refiner for them, V1: 2665.55 USD, paid 2026-05-11.',
      "That money is hall-bench's: 2665.55 USD; less the work, 2570.55 USD.",
    ]);
    const credited = (credit: string, total: string): string =>
      `${AWAY}2026-05-12\nsettle H with hall-bench\n  charge toll 60.00 USD, charge assay 35.00 USD, credit gold ${credit} USD\n  total ${total} USD, paid 2026-05-12\n`;
    const codes = (page: string): string[] =>
      findingsOf(pageWorkspace(page, SHOP), 'page.melt').flatMap(({ code, says }) =>
        code === 'bill-differs' ? [says] : [],
      );
    expect(codes(credited('2665.55', '2570.55'))).toEqual([]);
    expect(codes(credited('2655.55', '2560.55'))).toEqual([
      `The bill credits 2655.55 USD; 2665.55 USD came in for what was sold of theirs. It costs hall-bench 10.00 USD. ${ANEW}`,
    ]);
  });

  test('is not charged twice for work that a paid bill has settled, nor given twice what it credits', () => {
    const money = (bill: string): string => {
      const workspace = pageWorkspace(
        `${AWAY}2026-05-12\nsettle H with hall-bench\n  ${bill}, paid 2026-05-12\n`,
        SHOP,
      );
      const toll = tollOf(workspace, 'H')!;
      return proceedsSays(toll, proceedsOf(workspace, toll), billsOf(workspace, toll)).at(-1)!;
    };
    const theirs = "That money is hall-bench's: 2665.55 USD";
    const work = 'charge toll 60.00 USD, charge assay 35.00 USD';
    expect(money(`${work}, total 95.00 USD`)).toBe(`${theirs}; the work is paid already.`);
    expect(money('charge assay 35.00 USD, total 35.00 USD')).toBe(
      `${theirs}; less what is not paid of the work, 2605.55 USD.`,
    );
    expect(money(`${work}, credit gold 2665.55 USD, total 2570.55 USD`)).toBe(
      `${theirs}; their paid bill credits 2665.55 USD of it; nothing is left.`,
    );
    expect(money(`${work}, credit gold 2000.00 USD, total 1905.00 USD`)).toBe(
      `${theirs}; their paid bill credits 2000.00 USD of it; 665.55 USD is left.`,
    );
  });

  test('may be billed as less than nothing where they are paid', () => {
    const page = `${AWAY}2026-05-12\nsettle H with hall-bench\n  charge toll 60.00 USD, charge assay 35.00 USD, credit gold 2665.55 USD\n  total -2570.55 USD, paid 2026-05-12\n`;
    expect(findingsOf(pageWorkspace(page, SHOP), 'page.melt').map(({ code }) => code)).not.toContain('bill-differs');
  });

  test('in one shipment with ours has its part of the money, by the worth of its gold', () => {
    // 10 g × 0.6 of theirs and 30 g × 0.6 of ours: a quarter of 1446.77.
    const page = `2026-05-04
quote Au 2500.00 USD/ozt
receive H from hall-bench 10.00 g
assay H by fire
  Au 60.00 %
receive A from tarn-end 30.00 g
assay A by fire
  Au 60.00 %
ship V1 to quay-refiner
  in H
  in A
settle V1
  received 40.00 g, Au 60.00 %
  pays Au 75 %, price Au 2500.00 USD/ozt
  total 1446.78 USD, paid 2026-05-04
`;
    const workspace = pageWorkspace(page, SHOP);
    const [part] = proceedsOf(workspace, tollOf(workspace, 'H')!);
    expect([part!.isPart, part!.money.amount.toString()]).toEqual([true, '361.7']);
    const [ours] = dealtIn(workspace);
    expect(othersPart(workspace, ours!)).toMatchObject({ money: part!.money, owners: ['hall-bench'] });
  });

  test('in a pool with ours has its part of the money, and the finding tells of that part alone', () => {
    // 10 g of theirs and 30 g of ours by weight: a quarter of 1446.77.
    const page = `2026-05-04
quote Au 2500.00 USD/ozt
receive H from hall-bench 10.00 g
receive A from tarn-end 30.00 g
cast C1, pooled by weight
  in H
  in A
  out B 40.00 g bar
assay B by fire
  Au 60.00 %
ship V1 to quay-refiner
  in B
settle V1
  received 40.00 g, Au 60.00 %
  pays Au 75 %, price Au 2500.00 USD/ozt
  total 1446.78 USD, paid 2026-05-04
`;
    const workspace = pageWorkspace(page, SHOP);
    const [part] = proceedsOf(workspace, tollOf(workspace, 'H')!);
    expect(part!.money.amount.toString()).toBe('361.7');
    const [ours] = dealtIn(workspace);
    expect(othersPart(workspace, ours!)).toEqual({ money: part!.money, owners: ['hall-bench'] });
    const says = findingsOf(workspace, 'page.melt').find(({ code }) => code === 'not-ours-to-sell')!.says;
    expect(says).toContain('B is in part of hall-bench, and that part was not bought: what quay-refiner pays for it');
    expect(settledSays(settlementsIn(workspace)[0]!)).toContain(
      'Part of the metal is of hall-bench: what is paid for that part is theirs.',
    );
    const account = formed('md', 'trading-account', {}, workspace);
    expect(account).toContain(
      'V1: 361.70 USD of it is for metal of hall-bench, and theirs; the line above counts all of it.',
    );
    expect(account).toContain('V1 is in it whole, with metal of hall-bench that was sold beside ours.');
  });

  test('that was bought is ours to sell', () => {
    const bought = WORK.replace('  50.00 g\n', '  50.00 g\n  bought 2500.00 USD\n');
    expect(said(pageWorkspace(bought.replace('ship V1 to hall-bench', 'ship V1 to quay-refiner'), SHOP))).toEqual([]);
  });
});

describe('a weight on the bill that is not the journal’s', () => {
  const WRONG = BILL.replace('received 50.00 g', 'received 60.00 g');

  test('is what its charges are reckoned on: their sum is right, and the weight is the one line that differs', () => {
    // 60 × 1.10 = 66.00, and 35.00. By the journal 50 × 1.10, at least 60.00: 6.00 less. 10 g × 0.7 × 0.98 = 6.860 g of gold too much.
    const { bill } = billed(`${WRONG}  total 101.00 USD, paid 2026-05-10\n`);
    const differing = bill.lines.filter(({ verdict }) => verdict === 'differs');
    expect(differing.map(({ subject }) => subject)).toEqual(['received']);
    expect(told(`${WRONG}  total 101.00 USD, paid 2026-05-10\n`)).toEqual([
      expect.stringContaining('says 60.00 g came in'),
    ]);
  });

  test('costs in money and in metal, and the first line of the bill says both', () => {
    const { bill } = billed(`${WRONG}  total 101.00 USD, paid 2026-05-10\n`);
    expect(billSays(bill).at(-1)).toBe(
      '1 line of the bill differs from the journal as it stands: in all it costs hall-bench 6.00 USD, and you 6.860 g of Au.',
    );
    expect(billLabel(bill)).toContain('bill: 1 line differs');
    expect(billLabel(bill)!.length).toBeLessThanOrEqual(40);
  });
});

describe('a stamp', () => {
  const STAMPED = `2026-05-04
receive H from hall-bench, 50.00 g
  stamp Au 14 k
2026-05-20
settle H
  received 50.00 g, Au 58.00 %, pays Au 98 %
  charge toll 60.00 USD
  charge assay 35.00 USD
`;

  test('is no assay, by which the bill could be wrong', () => {
    const workspace = pageWorkspace(STAMPED, SHOP);
    expect(said(workspace).filter((text) => text.includes('bill'))).toEqual([]);
    const [bill] = salesOf(workspace).settles.flatMap(({ entry }) => billOf(workspace, entry) ?? []);
    expect(bill!.lines.find(({ subject }) => subject === 'assay')).toMatchObject({
      verdict: 'unchecked',
      because: 'no own assay',
    });
    expect(billSays(bill!).at(-1)).toBe(
      'Nothing on the bill differs from the journal, as far as it can be checked: not Au assay and total.',
    );
  });

  test('gives way to one', () => {
    const assayed = STAMPED.replace('2026-05-20', 'assay H by fire\n  Au 57.00 %\n2026-05-20');
    expect(said(pageWorkspace(assayed, SHOP))).toContain('bill-differs at "Au"');
  });
});

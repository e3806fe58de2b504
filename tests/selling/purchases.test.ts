/** Metal of a customer that a bill buys: from then on it is the shop's, and a purchase. */
import { describe, expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { accountsOf } from '../../server/workspace/accounts';
import { billOf } from '../../server/workspace/selling/bills';
import { boughtUntil } from '../../server/workspace/selling/bought';
import { tollOf, tollsOf } from '../../server/workspace/selling/tolls';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { made } from '../support/documents';
import { everything, pageWorkspace, said } from '../support/workspace';

const SHOP = `shop: { currency: USD }
parties:
  tarn-end: own
  hall-bench:
    role: customer
    terms:
      2026-01-01:
        pays: { Au: 98 % }
        charges: { toll: 60.00 USD, assay: 35.00 USD }
        residues: shop
  quay-refiner:
    role: refiner
    terms:
      2026-01-01: { pays: { Au: 98 % }, price day: settled }
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
`;

/** 35 g × 0.98 × 2500 / 31.1034768 = 2756.93; less 95.00. */
const BILL = `settle H
  received 50.00 g, Au 70.00 %
  pays Au 98 %, price Au 2500.00 USD/ozt
  charge toll 60.00 USD, charge assay 35.00 USD
  total 2661.93 USD, paid 2026-05-04
`;

/** 49.60 × 0.705 × 0.98 × 2600 / 31.1034768 = 2864.58. */
const SOLD = `2026-05-20
quote Au 2600.00 USD/ozt
ship V1 to quay-refiner
  in B
settle V1
  received 49.60 g, Au 70.50 %
  pays Au 98 %, price Au 2600.00 USD/ozt
  total 2864.58 USD, paid 2026-05-21
`;

const whoseOf = (workspace: Workspace, date?: string): Readonly<Record<string, readonly string[]>> => {
  const accounts = accountsOf(workspace);
  return Object.fromEntries(
    accounts.stock(date).map(({ lot, ownership }) => [lot, accounts.namesOf(ownership)] as const),
  );
};

describe('metal that a bill buys', () => {
  test("is the shop's from the day of the bill, and theirs before", () => {
    const workspace = pageWorkspace(`${WORK}2026-05-07\n${BILL}`, SHOP);
    expect(whoseOf(workspace, '2026-05-06')).toEqual({ B: ['hall-bench'], S: [] });
    expect(whoseOf(workspace)).toEqual({ B: [], S: [] });
  });

  test('may be sold and melted with metal of the shop: nothing is asked', () => {
    expect(said(pageWorkspace(`${WORK}2026-05-07\n${BILL}${SOLD}`, SHOP))).toEqual([]);
    const joined = `2026-05-20\nreceive A from tarn-end 20.00 g\ncast C1\n  in A\n  in B\n  out D 69.55 g bar\n`;
    expect(said(pageWorkspace(`${WORK}2026-05-07\n${BILL}${joined}`, SHOP))).toEqual([]);
    expect(whoseOf(pageWorkspace(`${WORK}2026-05-07\n${BILL}${joined}`, SHOP)).D).toEqual([]);
    // Before the bill it is theirs still.
    expect(said(pageWorkspace(`${WORK}2026-05-06\n${joined.slice(11)}2026-05-07\n${BILL}`, SHOP))).toEqual([
      'owners-mixed at "B"',
    ]);
  });

  test('is among the shares of a pool the shop’s, and no longer theirs', () => {
    const pool = `2026-05-20\nreceive A from high-fell, owner high-fell\n  20.00 g\nassay A by fire\n  Au 60.00 %\ncast C1, pooled by weight\n  in A\n  in B\n  out D 69.60 g bar\n`;
    const sharesOf = (text: string): readonly string[] => {
      const accounts = accountsOf(pageWorkspace(text, SHOP));
      const holding = accounts.stock().find(({ lot }) => lot === 'D')!;
      return [...accounts.shares(holding.segment)!.ofLot]
        .map(([owner, share]) => `${owner} ${share.toFixed(3)}`)
        .sort();
    };
    const theirs = ['hall-bench 0.713', 'high-fell 0.287'];
    // 49.60 of 69.60 g.
    expect(sharesOf(`${WORK}${pool}`)).toEqual(theirs);
    for (const bought of [`${WORK}2026-05-07\n${BILL}${pool}`, `${WORK}${pool}2026-05-21\n${BILL}`])
      expect(sharesOf(bought)).toEqual(['high-fell 0.287', 'the shop 0.713']);
  });

  test('is a purchase in the trading account, at the value of its line', () => {
    const [bought, ...others] = boughtUntil(pageWorkspace(`${WORK}2026-05-07\n${BILL}${SOLD}`, SHOP), '2026-05-31');
    expect(others).toEqual([]);
    expect([bought!.lot, bought!.from, bought!.date]).toEqual(['H', 'hall-bench', '2026-05-07']);
    // The charges are for the work: what was paid for the metal is 2756.93, and it brought 2864.58.
    expect([bought!.paid.amount.toString(), bought!.brought.toString()]).toEqual(['2756.93', '2864.58']);
  });

  test('stands in the purchase record with the lot that it came in as', () => {
    const record = made(pageWorkspace(`${WORK}2026-05-07\n${BILL}`, SHOP), 'purchase-record', {});
    const [cameIn] = record.sections;
    const texts = cameIn!.blocks.flatMap((block) =>
      block.form === 'sentences' ? block.sentences.map(({ text }) => text) : [],
    );
    expect(texts).toEqual([
      'H: 2756.93 USD paid for its metal by the bill of 2026-05-07; charges for work stand there.',
    ]);
  });

  test('of which silver has to go back too is of both, and asked about when it is sold', () => {
    const shop = SHOP.replace('{ Au: 98 % }\n        charges', '{ Au: 98 %, Ag: 95 % }\n        charges');
    const work = WORK.replaceAll(' expanded\n', ' expanded, Ag 20.00 %\n');
    const workspace = pageWorkspace(`${work}2026-05-07\n${BILL}`, shop);
    expect(whoseOf(workspace).B).toEqual(['hall-bench', 'the shop']);
    expect(said(pageWorkspace(`${work}2026-05-07\n${BILL}${SOLD.slice(0, SOLD.indexOf('settle'))}`, shop))).toEqual([
      'not-ours-to-sell at "B"',
    ]);
    // A bill that gives nothing for the silver, and says so, buys the whole.
    const whole = BILL.replace('charge toll', 'pays Ag 0 %\n  charge toll');
    expect(whoseOf(pageWorkspace(`${work}2026-05-07\n${whole}`, shop)).B).toEqual([]);
  });

  test('stays in the account of its lot, where it is not held against what came in later', () => {
    const again = `2026-06-04\nreceive K from hall-bench 10.00 g\nassay K by fire\n  Au 60.00 %\n`;
    const later = `${again}settle K\n  received 10.00 g, Au 60.00 %\n  pays Au 98 %, price Au 2500.00 USD/ozt\n`;
    const page = `${WORK}2026-05-07\n${BILL}${later}cast C1\n  in B\n  in K\n  out D 59.55 g bar\n`;
    const workspace = pageWorkspace(page, SHOP);
    expect(tollsOf(workspace, 'hall-bench').map(({ name }) => name)).toEqual(['H', 'K']);
    expect(tollOf(workspace, 'H')!.receivedGrams!.value.toString()).toBe('50');
    const gold = tollOf(workspace, 'H')!.metals.find(({ metal }) => metal === 'Au')!;
    expect([gold.bought, gold.owed.value, gold.onHand.value]).toEqual([true, 0, 0]);
    const [bill] = workspace.pages.get('page.melt')!.entries.filter(({ verb }) => verb === 'settle');
    expect(billOf(workspace, bill!)!.lines.some(({ verdict }) => verdict === 'differs')).toBe(false);
  });

  test('is found anew when the bill is edited, as a journal read whole has it', () => {
    const texts = new Map([
      ['a.melt', WORK],
      ['b.melt', `2026-05-07\n${BILL}`],
      ['c.melt', SOLD],
      ['workshop.yaml', SHOP],
    ]);
    let workspace = withTexts(emptyWorkspace('toll'), texts);
    findingsOf(workspace, 'c.melt');
    for (const [file, was, is] of [
      ['b.melt', ', price Au 2500.00 USD/ozt', ''],
      ['b.melt', 'pays Au 98 %', 'pays Au 98 %, price Au 2500.00 USD/ozt'],
      ['b.melt', 'settle H', 'settle H with quay-refiner'],
      ['b.melt', 'settle H with quay-refiner', 'settle H'],
      ['a.melt', 'from hall-bench', 'from tarn-end'],
      ['a.melt', 'from tarn-end', 'from hall-bench'],
      ['b.melt', '2026-05-07', '2026-05-30'],
    ] as const) {
      texts.set(file, texts.get(file)!.replace(was, is));
      workspace = withTexts(workspace, new Map([[file, texts.get(file)!]]));
      const whole = withTexts(emptyWorkspace('toll'), texts);
      expect(everything(workspace), `${was} to ${is}`).toEqual(everything(whole));
      expect(whoseOf(workspace)).toEqual(whoseOf(whole));
      expect(whoseOf(workspace, '2026-05-06')).toEqual(whoseOf(whole, '2026-05-06'));
    }
  });
});

describe('a purchase that was paid in another currency than its metal was sold in', () => {
  const page = (rate: string): string => `2026-05-04
quote Au 75.00 EUR/g
${rate}receive P from seller-a, material scrap
  10.00 g
  bought 400.00 USD
assay P by fire
  Au 60.00 %
sell P to quay-refiner for 420.00 EUR
`;

  test('brought what that was worth by the rate of its day', () => {
    // 420.00 × 1.10 = 462.00.
    const [bought] = boughtUntil(pageWorkspace(page('quote EUR 1.10 USD\n'), SHOP), '2026-05-31');
    expect([bought!.brought.toString(), bought!.converted, bought!.otherCurrency]).toEqual(['462', ['P'], []]);
  });

  test('without a rate is said to be in another currency', () => {
    const [bought] = boughtUntil(pageWorkspace(page(''), SHOP), '2026-05-31');
    expect([bought!.brought.toString(), bought!.otherCurrency]).toEqual(['0', ['P']]);
  });
});

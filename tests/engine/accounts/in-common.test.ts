/** What assays in one way err by in common: it adds up in a sum of lots, and falls out of their difference. */
import { describe, expect, test } from 'vitest';
import { spread } from '../../../server/engine/accounts/inexact';
import { stockList } from '../../../server/reports/stock';
import { accountsOf } from '../../../server/workspace/accounts';
import { pageWorkspace } from '../../support/workspace';

const lots = (count: number, assay: (at: number) => string): string =>
  `2026-05-01\n${Array.from({ length: count }, (_, at) => `receive A${at} 100.00 g\n${assay(at)}`).join('')}`;

/** ± of the gold of all, at k = 1, in grams. */
const uOf = (page: string): number =>
  spread(stockList(pageWorkspace(page)).owners[0]!.totals.find(({ metal }) => metal === 'Au')!.sure);

const xrf = (at: number, house = ''): string => `assay A${at} by xrf${house}\n  Au 90.00 %\n`;

describe('gold in several lots', () => {
  // XRF errs by 0.4 g in 100 g: 0.4 × 0.4 = 0.16 g in common, and √(0.4² − 0.16²) = 0.3666 g of each lot’s own.
  test.each([1, 2, 10])('%i of them, by one XRF', (count) => {
    const expected = Math.hypot(0.16 * count, 0.3666 * Math.sqrt(count));
    expect(uOf(lots(count, xrf))).toBeCloseTo(expected, 2);
  });

  test('by two houses, and where the laboratory says its ±, is as sure as independent figures', () => {
    expect(uOf(lots(2, (at) => xrf(at, ` at lab-${at}`)))).toBeCloseTo(0.4 * Math.SQRT2, 2);
    expect(uOf(lots(2, (at) => xrf(at).replace('90.00 %', '90.00 ±0.40 % standard')))).toBeCloseTo(0.4 * Math.SQRT2, 2);
  });

  // In and out by the same XRF: only what is each lot’s own is left, 0.3666 g twice, and the usual loss of a cast beside it.
  test('is missing from a step by less than two assays that share nothing would leave open', () => {
    const page = pageWorkspace(
      `${lots(1, xrf)}cast C\n  in A0 100.00 g\n  out B 100.00 g bar\nassay B by xrf\n  Au 90.00 %\n`,
    );
    const { balances } = accountsOf(page);
    const step = [...page.pages.values()][0]!.entries.map((entry) => page.book.step(entry)).find(Boolean)!;
    const usual = (0.003 / Math.sqrt(12)) * 90;
    const gold = balances(step).find(({ metal }) => metal === 'Au')!;
    expect(spread(gold.unaccounted)).toBeCloseTo(Math.hypot(0.3666 * Math.SQRT2, usual), 2);
  });
});

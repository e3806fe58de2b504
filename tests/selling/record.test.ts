/** A party over time. */
import { describe, expect, test } from 'vitest';
import { type Dealing, isBiased, recordOf } from '../../server/engine/selling/record';
import { dealingCells, recordSays } from '../../server/reports/selling/record';
import { settledSays } from '../../server/reports/selling/settled';
import { unfinishedOf } from '../../server/reports/unfinished';
import { recordsOf } from '../../server/workspace/selling/records';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import { sampleWorkspace } from '../support/documents';
import { pageWorkspace, said } from '../support/workspace';

const dealing = (of: Partial<Dealing>): Dealing => ({
  name: 'S',
  date: '2026-05-04',
  weightGrams: undefined,
  goldShare: undefined,
  days: undefined,
  agreedDays: undefined,
  paid: 0,
  paidOn: undefined,
  full: undefined,
  owed: undefined,
  ...of,
});

const SETTLED_PAGE = `2026-05-04
quote Au 2500.00 USD/ozt
receive A 100.00 g
assay A by fire, corrected
  Au 90.00 ±0.02 % expanded
ship V1 to quay-refiner
  in A 100.00 g
2026-05-11
settle V1
  received 100.00 g
  Au 90.00 %
  pays Au 98 %, price Au 2500.00 USD/ozt
  total 7089.24 USD
`;

describe('money that has not come', () => {
  const waits = pageWorkspace(SETTLED_PAGE);
  const came = pageWorkspace(`${SETTLED_PAGE}2026-05-20\nmore settle V1\n  paid 2026-05-19\n`);

  test('does not show as paid in the record of the party', () => {
    const [{ record }, { record: paid }] = [recordsOf(waits, 'quay-refiner')[0]!, recordsOf(came, 'quay-refiner')[0]!];
    expect([record.awaited, record.days]).toEqual([{ names: ['V1'], money: 7089.24 }, undefined]);
    expect([paid.awaited, paid.days]).toEqual([{ names: [], money: 0 }, 15]);
    expect(dealingCells(record.dealings[0]!, 'USD')).toContain('not yet');
    expect(dealingCells(paid.dealings[0]!, 'USD')).toContain('2026-05-19');
    expect(recordSays(recordsOf(waits, 'quay-refiner')[0]!)).toContain(
      '7089.24 USD of V1 is settled, and no payment is written: write `paid DATE` when it comes.',
    );
  });

  test('is waited for by what is unfinished, until it is written', () => {
    expect(unfinishedOf(waits).map(({ says }) => says)).toEqual([
      'Write `paid DATE` of settle V1 once the 7089.24 USD of quay-refiner have come.',
    ]);
    expect(unfinishedOf(came)).toEqual([]);
  });

  test('and that came late is told with its days', () => {
    const shop =
      'parties:\n  quay-refiner:\n    role: refiner\n    terms:\n      2026-01-01: { pays: { Au: 98 % }, days: 10 }\n';
    const [late] = settlementsIn(pageWorkspace(`${SETTLED_PAGE}2026-05-20\nmore settle V1\n  paid 2026-05-19\n`, shop));
    expect(settledSays(late!)[0]).toBe(
      'quay-refiner: shipped 2026-05-04, settled 2026-05-11, paid 2026-05-19; 15 days in all, 10 days agreed: 5 days late.',
    );
  });

  test('before it was shipped is asked about', () => {
    expect(said(pageWorkspace(`${SETTLED_PAGE}  paid 2026-04-19\n`))).toEqual([
      'paid-before-shipped at "paid 2026-04-19"',
    ]);
    expect(said(pageWorkspace(`${SETTLED_PAGE}  paid 2026-05-04\n`))).toEqual([]);
    expect(settlementsIn(pageWorkspace(`${SETTLED_PAGE}  paid 2026-04-19\n`))[0]!.daysTaken).toBeUndefined();
  });
});

describe('a record', () => {
  test('weighs the share that was paid by what the metal was worth, not sale by sale', () => {
    const record = recordOf([
      dealing({ paid: 900, full: 1000 }),
      dealing({ paid: 98, full: 100 }),
      dealing({ paid: 50 }),
    ]);
    expect(record.share).toBeCloseTo(998 / 1100, 12);
  });

  test('tells a bias only beyond what chance makes with so few', () => {
    const of = (...shares: number[]) => recordOf(shares.map((goldShare) => dealing({ goldShare }))).goldShare;
    // Mean 0.001 ± 0.0002 of three: t = 5 against 4.30 of two degrees of freedom.
    expect(isBiased(of(0.00066, 0.001, 0.00134))).toBe(true);
    expect(isBiased(of(0.0004, 0.001, 0.0016))).toBe(false);
    expect(isBiased(of(0.001, 0.001))).toBe(false);
  });

  test('counts days from the shipment to the money, and those that were late', () => {
    const record = recordOf([
      dealing({ days: 9, agreedDays: 10 }),
      dealing({ days: 12, agreedDays: 10 }),
      dealing({ days: 20, agreedDays: 10 }),
    ]);
    expect([record.days, record.late]).toEqual([12, 2]);
  });

  test('of the journal: a settlement and a sale of hand, own figures less theirs', () => {
    const [record, ...others] = recordsOf(
      pageWorkspace(`2026-05-04
quote Au 2500.00 USD/ozt
receive A 100.00 g
assay A by fire, corrected
  Au 90.00 ±0.02 % expanded
ship V1 to quay-refiner
  in A 100.00 g
2026-05-11
settle V1
  received 99.98 g
  Au 89.94 %
  pays Au 98 %, price Au 2500.00 USD/ozt
  total 7083.10 USD, paid 2026-05-13
receive B 10.00 g
assay B by fire, corrected
  Au 50.00 %
sell B to quay-refiner for 380.00 USD
`),
      'quay-refiner',
    );
    expect(others).toEqual([]);
    const [settled, sold] = record!.record.dealings;
    expect(settled!.weightGrams).toBeCloseTo(0.02, 9);
    expect(settled!.goldShare).toBeCloseTo(0.0006, 9);
    expect(settled!.days).toBe(9);
    // 90 g × 2500 / 31.1034768 = 7233.92.
    expect(settled!.full).toBeCloseTo(7233.92, 2);
    // 5 g × 2500 / 31.1034768 = 401.88.
    expect(sold!.paid / sold!.full!).toBeCloseTo(380 / 401.88, 4);
  });

  test('a total that differs by rounding alone is owed by nobody, a line that differs is', () => {
    // Theirs 9879.10, reckoned 9879.11: each line rounds once.
    expect(recordsOf(sampleWorkspace(), 'harbour-refiner')[0]!.record.owed).toBe(0);
    expect(recordsOf(sampleWorkspace('selling'), 'quay-refiner')[0]!.record.owed).toBeCloseTo(706.11, 2);
  });
});

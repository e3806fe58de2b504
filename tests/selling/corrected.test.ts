/** Money that was corrected: every reckoning follows the new figure, and the page keeps both. */
import { describe, expect, test } from 'vitest';
import { mendedIn } from '../../server/reports/corrections';
import { recordsOf } from '../../server/workspace/selling/records';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import { SETTLED } from '../support/settled';
import { pageWorkspace, said } from '../support/workspace';

const SHOP = `shop: { currency: USD }
parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 %, Ag: 90 % }
        charges:
          melting: 40.00 USD
        price day: settled
`;

// 49.95 × 0.9 × 0.98 × 2500 / 31.1034768 = 3541.08; 49.95 × 0.05 × 0.9 × 30 / 31.1034768 = 2.17; less 40.00: 3503.25.
const PAGE = `2026-05-04
receive A 50.00 g
assay A by fire, corrected
  Au 90.00 %, Ag 5.00 %
ship V1 to quay-refiner
  in A 50.00 g
  insured 3000.00 USD
${SETTLED}`;

const journal = (written: readonly [right: string, typed: string], entry: string) => {
  const [right, typed] = written;
  const page = PAGE.replace(right, typed);
  expect(page).not.toBe(PAGE);
  return { typed: pageWorkspace(page, SHOP), mended: pageWorkspace(`${page}2026-06-02\n${entry}`, SHOP) };
};

const lineOf = (of: ReturnType<typeof pageWorkspace>) => settlementsIn(of)[0]!;

describe('a correction of a settlement', () => {
  for (const [what, written, line] of [
    ['price', ['price Au 2500.00', 'price Au 2490.00'], 'price Au 2500.00 USD/ozt was 2490.00 USD/ozt'],
    ['share', ['pays Au 98 %', 'pays Au 89 %'], 'pays Au 98 % was 89 %'],
    ['charge', ['melting 40.00', 'melting 44.00'], 'charge melting 40.00 USD was 44.00 USD'],
    ['total', ['3503.25', '3053.25'], 'total 3503.25 USD was 3053.25 USD'],
    ['weight', ['melted 49.95', 'melted 49.59'], 'melted 49.95 g was 49.59 g'],
    ['assay', ['melted 49.95 g\n  Au 90.00', 'melted 49.95 g\n  Au 90.90'], 'Au 90.00 % was 90.90 %'],
  ] as const)
    test(`of its ${what} puts the sum right`, () => {
      const { typed, mended } = journal(written, `correct settle V1\n  because misread\n  ${line}\n`);
      expect(said(typed), line).not.toEqual([]);
      expect(said(mended)).toEqual([]);
      expect(lineOf(mended).checked.owed.amount.toNumber()).toBe(0);
      expect(mendedIn(mended).map(({ says }) => says)).toEqual([
        `settle V1 of 2026-05-10, corrected on 2026-06-02: ${line}, because misread.`,
      ]);
    });

  test('of the day of the money moves the days that it took', () => {
    const { typed, mended } = journal(
      ['paid 2026-05-11', 'paid 2026-05-21'],
      'correct settle V1\n  because misread\n  paid 2026-05-11 was 2026-05-21\n',
    );
    expect([lineOf(typed).daysTaken, lineOf(mended).daysTaken]).toEqual([17, 7]);
    expect(said(mended)).toEqual([]);
  });

  test('whose old value is not there changes nothing, and is told', () => {
    const page = `${PAGE}2026-06-02\ncorrect settle V1\n  because misread\n  paid 2026-05-12 was 2026-05-13\n`;
    expect(said(pageWorkspace(page, SHOP))).toEqual(['correction-amiss at "2026-05-12 was 2026-05-13"']);
  });
});

describe('a correction of a sale of hand, a quote, an insurance', () => {
  test('goes into the record of the party', () => {
    const { typed, mended } = journal(
      ['for 300.00', 'for 30.00'],
      'correct sell N for 300.00 USD was 30.00 USD\n  because misread\n',
    );
    const paid = (of: ReturnType<typeof pageWorkspace>) =>
      recordsOf(of, 'quay-refiner')[0]!.record.dealings.map((one) => one.paid);
    expect(paid(typed).at(-1)).toBe(30);
    expect(paid(mended).at(-1)).toBe(300);
    expect(said(mended)).toEqual([]);
  });

  test('changes the price of its day', () => {
    const { typed, mended } = journal(
      ['quote Au 2500.00', 'quote Au 2600.00'],
      'correct quote Au of 2026-05-10 2500.00 USD/ozt was 2600.00 USD/ozt\n  because misread\n',
    );
    expect(said(typed)).toEqual(['settled-price at "price Au 2500.00 USD/ozt"']);
    expect(said(mended)).toEqual([]);
  });

  test('is kept beside what stood there', () => {
    const { mended } = journal(
      ['insured 3000.00', 'insured 300.00'],
      'correct ship V1\n  because misread\n  insured 3000.00 USD was 300.00 USD\n',
    );
    expect(said(mended)).toEqual([]);
    expect(mendedIn(mended).map(({ says }) => says)).toEqual([
      'ship V1 of 2026-05-04, corrected on 2026-06-02: insured 3000.00 USD was 300.00 USD, because misread.',
    ]);
  });
});

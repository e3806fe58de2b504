/** Metal that goes back in place of money, either way: less or more than was agreed is told with its amount, and stays due until it is there. */
import { describe, expect, test } from 'vitest';
import { billCells } from '../../server/reports/selling/bill';
import { unfinishedOf } from '../../server/reports/unfinished';
import { findingsOf } from '../../server/rules/findings';
import { billOf } from '../../server/workspace/selling/bills';
import { tollOf } from '../../server/workspace/selling/tolls';
import { withTexts } from '../../server/workspace/update';
import { pageWorkspace } from '../support/workspace';

const SHOP = `shop: { currency: USD }
parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 % }
        days: 10
  high-fell:
    role: customer
    terms:
      2026-01-01:
        pays: { Au: 98 % }
`;

const told = (text: string): readonly string[] =>
  findingsOf(pageWorkspace(text, SHOP), 'page.melt').map(({ code, says }) => `${code}: ${says}`);

describe('from a refiner', () => {
  // 60 × 0.916 × 0.98 = 53.86 g.
  const page = (came: string, more = ''): string => `2026-05-04
receive A 60.00 g
assay A by fire, corrected
  Au 91.60 %
ship V1 to quay-refiner
  in A 60.00 g
2026-05-11
settle V1
  received 60.00 g, Au 91.60 %, pays Au 98 %, returns Au 53.86 g
2026-05-12
${came}more settle V1
  returned G1
${more}2026-05-13
note rain
`;
  const lot = (
    name: string,
    grams: string,
    assay = 'assay NAME by fire, corrected\n  Au 99.95 ±0.02 % expanded\n',
  ): string => `receive ${name} from quay-refiner ${grams} g\n${assay.replace('NAME', name)}`;

  test('what is missing is told at once, with whom to ask', () => {
    // 50.00 × 0.9995 = 49.975.
    expect(told(page(lot('G1', '50.00')))).toEqual([
      'returned-differs: G1 holds 49.975 g ±0.012 of Au; 53.86 g of Au was to come back: 3.88 g is missing. Ask quay-refiner for it, and name the lot that it comes as with another `returned`.',
    ]);
    const [open] = unfinishedOf(pageWorkspace(page(lot('G1', '50.00')), SHOP)).filter(({ closes }) => closes === 'V1');
    expect(open!.says).toBe('Write `returned LOT` of settle V1 once 3.88 g of Au is weighed in.');
  });

  test('a second lot makes it whole', () => {
    const second = `${lot('G2', '3.89')}more settle V1\n  returned G2\n`;
    expect(told(page(lot('G1', '50.00'), second))).toEqual([]);
  });

  test('a lot that weighs less than was to come is short whatever it holds, and one of unknown fineness that weighs enough is not judged', () => {
    expect(told(page(lot('G1', '50.00', '')))).toEqual([expect.stringContaining('3.86 g is missing')]);
    expect(told(page(lot('G1', '53.90', '')))).toEqual([]);
  });

  test('a lot that nobody weighed leaves all of it due', () => {
    const late = page('receive G1 from quay-refiner\n').replace('2026-05-13', '2026-05-30');
    expect(told(late)).toEqual([
      expect.stringContaining('53.86 g of Au that quay-refiner gives back is not weighed in'),
    ]);
  });

  test('more than was to come is asked about too', () => {
    expect(told(page(lot('G1', '55.00')))).toEqual([
      'returned-differs: G1 holds 54.973 g ±0.012 of Au, 1.11 g more than the 53.86 g that was to come back. Assay it again, or ask quay-refiner whose it is.',
    ]);
  });

  test('an assay of the lot on another page is heard', () => {
    const text = page(lot('G1', '54.50', ''));
    const before = pageWorkspace(text, SHOP);
    expect(findingsOf(before, 'page.melt')).toEqual([]);
    const after = withTexts(
      before,
      new Map([['b.melt', '2026-05-14\nassay G1 by fire, corrected\n  Au 95.00 ±0.02 % expanded\n']]),
    );
    expect(findingsOf(after, 'page.melt').map(({ code }) => code)).toEqual(['returned-differs']);
  });
});

describe('to a customer', () => {
  // 60 × 0.7 × 0.98 = 41.16 g; 57.90 × 0.7 = 40.53 g.
  const page = (shipped: string, rest = ''): string => `2026-05-04
receive H from high-fell
  60.00 g
assay H by fire, corrected
  Au 70.00 ±0.02 % expanded
receive G from moor-supply
  0.63 g, bought 48.00 USD
assay G by fire, corrected
  Au 99.95 %
sample H
  out Q 2.10 g drillings
ship L1 to north-lab
  in Q 2.10 g
ship V1 to high-fell
  in ${shipped}
${rest}`;

  test('what is missing is told at the last shipment', () => {
    expect(told(page('H 57.90 g'))).toEqual([
      'given-back-short: high-fell is owed 0.630 g ±0.006 of Au more than is here of theirs. Look where it is; or give it from your own, by `returned LOT` on their bill, or pay for it by a `price` there.',
    ]);
  });

  test('nothing is missing while enough of theirs is here', () => {
    expect(told(page('H 57.90 g').replace('ship L1 to north-lab\n  in Q 2.10 g\n', ''))).toEqual([]);
    // 57.90 − 50.00 g are here: 5.53 g of the 6.16 g that are owed.
    expect(told(page('50.00 g of H'))).toEqual([expect.stringContaining('0.630 g')]);
  });

  test("the shop's own metal stands in for it where their bill names its lot", () => {
    const bill = 'settle V1 with high-fell\n  received 60.00 g, pays Au 98 %\n  returned G\n';
    const text = page('H 57.90 g', `  in G 0.63 g\n${bill}`);
    expect(told(text)).toEqual([]);
    const { metals, pieces } = tollOf(pageWorkspace(text, SHOP), 'H')!;
    expect(pieces.map(({ lot, where }) => `${lot} ${where}`)).toContain('G returned');
    expect(metals.find(({ metal }) => metal === 'Au')!.owed.value).toBeCloseTo(0, 2);
  });

  test('a price on their bill pays for it', () => {
    const bill =
      'quote Au 2400.00 USD/ozt\nsettle V1 with high-fell\n  received 60.00 g, pays Au 98 %, price Au 2400.00 USD/ozt\n';
    expect(told(page('H 57.90 g', bill)).filter((one) => one.startsWith('given-back'))).toEqual([]);
  });
});

test('a bill whose sum turns to the other side once it is put right says who pays', () => {
  // 60 × 0.01 × 0.98 = 0.588 g: 45.37 USD, less 66.00. At 70 %: 41.16 g: 3175.98, less 66.00.
  const text = `2026-05-04
quote Au 2400.00 USD/ozt
receive H from high-fell
  60.00 g
assay H by fire
  Au 70.00 %
settle H with high-fell
  received 60.00 g, Au 1.00 %
  pays Au 98 %, price Au 2400.00 USD/ozt
  charge toll 1.10 USD/g of received
  total 20.63 USD
`;
  const workspace = pageWorkspace(text, `${SHOP}        charges: { toll: 1.10 USD/g of received }\n`);
  const bill = billOf(workspace, workspace.pages.get('page.melt')!.entries.find(({ verb }) => verb === 'settle')!)!;
  expect(billCells(bill).at(-1)).toEqual([
    'total',
    '20.63 USD',
    '3109.98 USD to high-fell',
    'as their lines have it',
    '',
  ]);
});

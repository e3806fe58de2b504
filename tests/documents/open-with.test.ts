/** What is open with others is carried from month to month, in the documents of each, until it is closed. */
import { expect, test } from 'vitest';
import type { Choice } from '../../server/documents/choice';
import { metalAccount } from '../../server/documents/kinds/metal-account';
import { tradingAccount } from '../../server/documents/kinds/trading-account';
import { recordsOf } from '../../server/workspace/selling/records';
import { pageWorkspace } from '../support/workspace';

const SHOP = `shop: { currency: USD }
parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01: { pays: { Au: 98 % }, price day: settled }
  high-fell:
    role: customer
    terms:
      2026-01-01: { pays: { Au: 98 % }, charges: { toll: 1.00 USD/g of received } }
`;

// 53.8608 g: 50.00 USD/ozt too little are 86.58 USD.
const PAGE = `2026-05-04
receive A 60.00 g
assay A by fire, corrected
  Au 91.60 %
ship V1 to quay-refiner
  in A 60.00 g
2026-05-11
quote Au 2500.00 USD/ozt
settle V1
  received 60.00 g, Au 91.60 %
  pays Au 98 %
  price Au 2450.00 USD/ozt
  total 4242.58 USD, paid 2026-05-12
`;

/** What stands in the section at the end of a month. */
const open = (text: string, to: string, kind = tradingAccount): readonly string[] =>
  openIn(`${text}2026-07-30\nnote rain\n`, { from: `${to.slice(0, 7)}-01`, to }, kind);

const openIn = (text: string, choice: Choice, kind = tradingAccount): readonly string[] =>
  kind
    .make(pageWorkspace(text, SHOP), choice)
    .sections.filter(({ title }) => title === 'Open with others')
    .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])))
    .map(({ cells }) => cells.map((cell) => cell.text).join(' | '));

test('a difference of May stands in May, June and July', () => {
  const row = (days: number): string => `V1 | quay-refiner | 2026-05-11 | ${days} | differs: Au price | 86.58 USD`;
  expect(open(PAGE, '2026-04-30')).toEqual([]);
  expect(open(PAGE, '2026-05-31')).toEqual([row(20)]);
  expect(open(PAGE, '2026-07-30')).toEqual([row(80)]);
});

test('what they pay later closes it from then on', () => {
  const mended = `${PAGE}2026-06-15\nmore settle V1\n  price Au 2500.00 USD/ozt\n  total 86.58 USD, paid 2026-06-15\n`;
  expect(open(mended, '2026-05-31')).toHaveLength(1);
  expect(open(mended, '2026-06-30')).toEqual([]);
});

test('what is accepted with a reason is closed, in their record too', () => {
  const line = '  price Au 2450.00 USD/ozt';
  const accepted = PAGE.replace(line, `${line}  # accepted settled-price: agreed by telephone`);
  const without = PAGE.replace(line, `${line}  # accepted settled-price`);
  expect(open(accepted, '2026-05-31')).toEqual([]);
  expect(open(without, '2026-05-31')).toHaveLength(1);
  const owed = (text: string) => recordsOf(pageWorkspace(text, SHOP), 'quay-refiner')[0]!.record.owed;
  expect([owed(PAGE), owed(accepted)]).toEqual([86.58, 0]);
});

test('money that has not come is open until the day on which it is paid', () => {
  const right = PAGE.replace('2450.00', '2500.00').replace('4242.58', '4329.16').replace('2026-05-12', '2026-06-20');
  expect(open(right, '2026-05-31')).toEqual(['V1 | quay-refiner | 2026-05-11 | 20 | not paid | 4329.16 USD']);
  expect(open(right, '2026-06-30')).toEqual([]);
  // Of the whole record, the last entry of which is older, it is paid.
  expect(openIn(right, {})).toEqual([]);
});

test('metal that is to come back stands in the metal account too', () => {
  const back = PAGE.replace(/ {2}price[\s\S]*$/, '  returns Au 53.86 g\n');
  const due = ['V1 | quay-refiner | 2026-05-11 | 20 | 53.86 g of Au is to come back'];
  expect(open(back, '2026-05-31')).toEqual(due);
  expect(open(back, '2026-05-31', metalAccount)).toEqual(due);
  const came = `${back}2026-06-01\nreceive G from quay-refiner 53.89 g\nassay G by fire, corrected\n  Au 99.95 ±0.02 % expanded\nmore settle V1\n  returned G\n`;
  expect(open(came, '2026-05-31')).toEqual(due);
  expect(open(came, '2026-06-30', metalAccount)).toEqual([]);
});

test("a customer's bill that is wrong or not paid is open the other way round", () => {
  const bill = `2026-05-04
receive H from high-fell
  60.00 g
settle H with high-fell
  received 60.00 g
  charge toll 72.00 USD
  total 72.00 USD
`;
  expect(open(bill, '2026-05-31')).toEqual([
    'H | high-fell | 2026-05-04 | 27 | bill differs: charge toll |  | 12.00 USD',
    'H | high-fell | 2026-05-04 | 27 | bill not paid | 72.00 USD | ',
  ]);
});

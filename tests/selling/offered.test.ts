/** A buyer without terms on file: what they offered for a lot before it went is what their settlement is held against. */
import { expect, test } from 'vitest';
import { verdictWords } from '../../server/reports/selling/lines';
import { findingsOf } from '../../server/rules/findings';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import { pageWorkspace } from '../support/workspace';

const SHOP = 'shop: { currency: EUR }\nparties:\n  ghyll-buyer: refiner\n';

const page = (offer: string, settled: string): string => `2026-03-02
quote Au 70.00 EUR/g
receive A 22.10 g
assay A by fire, corrected
  Au 56.0 %
${offer}ship S1 to ghyll-buyer
  in A 22.10 g
2026-03-04
settle S1
  received 22.10 g, Au 56.0 %
  ${settled}
  price Au 70.00 EUR/g
`;

const OFFER = 'offer A from ghyll-buyer\n  pays Au 93 %\n';

const told = (offer: string, settled: string): readonly string[] =>
  findingsOf(pageWorkspace(page(offer, settled), SHOP), 'page.melt')
    .filter(({ code }) => code.startsWith('settled'))
    .map(({ says }) => says);

test('a lower share, and a charge that the offer did not name', () => {
  // 12.376 g × 93 % × 70 = 805.68; at 92 % 797.01.
  expect(told(OFFER, 'pays Au 92 %')).toEqual([
    'They pay 92 % of Au; the lines of their offer of 2026-03-02 say 93 %. It costs you 8.67 EUR.',
  ]);
  expect(told(OFFER, 'pays Au 93 %, charge melting 20.00 EUR')).toEqual([
    'They charge 20.00 EUR for melting, of which the lines of their offer of 2026-03-02 say nothing. It costs you 20.00 EUR.',
  ]);
  expect(told(OFFER, 'pays Au 93 %')).toEqual([]);
});

test('an offer of somebody else, of another lot, or after it went, is none of theirs', () => {
  expect(told(OFFER.replace('ghyll-buyer', 'moor-buyer'), 'pays Au 92 %')).toEqual([]);
  expect(told('', `pays Au 92 %\n2026-03-05\n${OFFER.trimEnd()}\n2026-03-06\nmore settle S1`)).toEqual([]);
});

test('a total within what our own assay leaves open says so', () => {
  const text = page('', 'pays Au 93 %\n  total 805.00 EUR')
    .replace('by fire, corrected', 'by xrf')
    .replace(', Au 56.0 %', '');
  const total = settlementsIn(pageWorkspace(text, SHOP))[0]!.checked.lines.at(-1)!;
  // 22.10 × 0.56 × 0.93 × 70 = 805.68: 0.68 EUR off, more than a coin for its line.
  expect(verdictWords(total)).toBe('agrees, as far as our own weight and assay are known');
});

const below = (text: string, shop = SHOP): readonly string[] =>
  findingsOf(pageWorkspace(text, shop), 'page.melt')
    .filter(({ code }) => code.startsWith('settled'))
    .map(({ code, says, related = [] }) => `${code}: ${says} ${related.map((one) => one.says).join(', ')}`);

const two = (offers: string, settled: string): string => `2026-03-02
quote Au 70.00 EUR/g
receive A 22.10 g
receive B 10.00 g
assay A by fire, corrected
  Au 56.0 %
assay B by fire, corrected
  Au 90.0 %
${offers}ship S1 to ghyll-buyer
  in A 22.10 g
  in B 10.00 g
2026-03-04
settle S1
  ${settled}
`;

const SUMS = 'offer A from ghyll-buyer\n  total 800.00 EUR\noffer B from ghyll-buyer\n  total 580.00 EUR\n';

test('sums that were offered for several lots, held together against one total', () => {
  expect(below(two(SUMS, 'total 1350.00 EUR'))).toEqual([
    'settled-below-offer: They pay 1350.00 EUR; on 2026-03-02 they offered 1380.00 EUR for A and B. That is 30.00 EUR less. Hold them to it, or ask what has changed. A was offered for here, B was offered for here, shipped here to ghyll-buyer',
  ]);
  expect(below(two(SUMS, 'total 1380.00 EUR'))).toEqual([]);
  expect(below(two(SUMS, 'total 1390.00 EUR'))).toEqual([]);
  // One of the lots was not offered for: the offer says nothing of the whole.
  expect(below(two(SUMS.split('offer B')[0]!, 'total 700.00 EUR'))).toEqual([]);
  const [settlement] = settlementsIn(pageWorkspace(two(SUMS, 'total 1350.00 EUR'), SHOP));
  expect(settlement!.checked.owed.amount.toFixed(2)).toBe('30.00');
});

test('of a sum below the offer only what the other lines do not tell', () => {
  // 21.376 g × 92 % × 70.00 = 1376.61; of B 9.00 g at 92 % 579.60. The sheet charges 20.00 that the terms do not know.
  const terms =
    'shop: { currency: EUR }\nparties:\n  ghyll-buyer:\n    role: refiner\n    terms: { 2026-01-01: { pays: { Au: 92 % } } }\n';
  const sheet = (total: string, more = ''): string =>
    `received 32.10 g, Au 66.5919 %\n  pays Au 92 %, price Au 70.00 EUR/g${more}\n  total ${total} EUR`;
  expect(below(two(SUMS, sheet('1356.61', '\n  charge handling 20.00 EUR')), terms)).toEqual([
    expect.stringContaining('settled-terms: They charge 20.00 EUR for handling'),
    expect.stringContaining(
      'settled-below-offer: They pay 1356.61 EUR; on 2026-03-02 they offered 1380.00 EUR for A and B. Its other lines make 20.00 EUR of that; the rest, 3.39 EUR, is told by none.',
    ),
  ]);
  const offers = SUMS.replace('800.00', '790.00');
  expect(below(two(offers, sheet('1356.61', '\n  charge handling 20.00 EUR')), terms)).toEqual([
    expect.stringContaining('settled-terms'),
  ]);
});

test('a better share that was offered than the terms on file pay', () => {
  const terms =
    'shop: { currency: EUR }\nparties:\n  ghyll-buyer:\n    role: refiner\n    terms: { 2026-01-01: { pays: { Au: 92 % } } }\n';
  // 12.376 g × 70.00: 797.01 at 92 %, 823.00 at 95 %.
  const text = page('offer A from ghyll-buyer\n  pays Au 95 %\n', 'pays Au 92 %').replace(
    'price Au 70.00 EUR/g\n',
    'price Au 70.00 EUR/g\n  total 797.01 EUR\n',
  );
  expect(below(text, terms)).toEqual([
    expect.stringContaining(
      'They pay 797.01 EUR; by what on 2026-03-02 they offered for A it comes to 823.00 EUR. That is 25.99 EUR less.',
    ),
  ]);
});

test('other shares for each lot are reckoned with our own weights and assays, as far as these are known', () => {
  const offers = 'offer A from ghyll-buyer\n  pays Au 90 %\noffer B from ghyll-buyer\n  pays Au 95 %\n';
  // 12.376 × 90 % × 70 = 779.69, 9.00 × 95 % × 70 = 598.50: 1378.19.
  expect(below(two(offers, 'price Au 70.00 EUR/g\n  total 1330.00 EUR'))).toEqual([
    expect.stringContaining('it comes to 1378.19 EUR. That is 48.19 EUR less.'),
  ]);
  expect(below(two(offers, 'price Au 70.00 EUR/g\n  total 1377.50 EUR'))).toEqual([]);
});

test('metal that is sold of hand for less than its offer', () => {
  const sold = (money: string): string => `2026-03-02
quote Au 70.00 EUR/g
receive A 22.10 g
assay A by fire, corrected
  Au 56.0 %
offer A from ghyll-buyer
  total 800.00 EUR
sell A to ghyll-buyer for ${money} EUR
`;
  expect(below(sold('780.00'))).toEqual([
    'settled-below-offer: They pay 780.00 EUR; on 2026-03-02 they offered 800.00 EUR for A. That is 20.00 EUR less. Hold them to it, or ask what has changed. A was offered for here',
  ]);
  expect(below(sold('800.00'))).toEqual([]);
});

test('an offer for the whole says nothing of a part that went', () => {
  const text = `${two(SUMS, 'total 900.00 EUR').replace('in A 22.10 g\n', 'in 10.00 g of A\n')}`;
  expect(below(text)).toEqual([]);
});

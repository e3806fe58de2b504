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

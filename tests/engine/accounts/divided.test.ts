/** A division in two sides: what one side holds by the assays of the charge and of the other. */
import { expect, it } from 'vitest';
import { spread } from '../../../server/engine/accounts/inexact';
import { segmentsOf } from '../../../server/engine/accounts/segments';
import { accountsOf } from '../../../server/workspace/accounts';
import { pageWorkspace, said } from '../../support/workspace';

const page = (division: string): string => `2026-05-04
receive A 100.00 g
assay A by fire
  Au 10.0 %, Ag 1.0 %
${division}assay A1 by fire
  Au 12.0 %, Ag 1.2 %
`;

const gold = (text: string, lot: string) => {
  const { known, grams } = accountsOf(pageWorkspace(text))
    .stock()
    .find((one) => one.lot === lot)!
    .fine.find(({ metal }) => metal === 'Au')!;
  return { ground: known.ground, grams: grams!.value, u: spread(grams!) };
};

it.each([
  ['a screen', 'screen N\n  in A 100.00 g\n  out A1 60.00 g\n  out A2 40.00 g\n'],
  ['a pan that loses slimes', 'pan N\n  in A 100.00 g\n  out A1 60.00 g concentrate\n  out A2 39.00 g tails\n'],
])('of %s the side that nobody assayed holds the difference', (_, division) => {
  // 100.00 g × 10.0 % − 60.00 g × 12.0 % = 2.80 g; of fire assays 0.5 ‰ and 0.5 ‰ and the last digit.
  const { ground, grams, u } = gold(page(division), 'A2');
  expect(grams).toBeCloseTo(2.8, 6);
  expect(u).toBeGreaterThan(0.05);
  expect(u).toBeLessThan(0.2);
  expect(ground).toBe('carried');
  expect(said(pageWorkspace(page(division)))).toEqual([]);
});

it('a side that holds more than the charge leaves nothing to the other, and is told of', () => {
  const text = page('pan N\n  in A 100.00 g\n  out A1 95.00 g concentrate\n  out A2 5.00 g tails\n');
  expect(gold(text, 'A2').grams).toBe(0);
  expect(said(pageWorkspace(text)).some((one) => one.startsWith('fine-gained'))).toBe(true);
});

it('with both sides assayed what is missing is told again', () => {
  const text = `${page('pan N\n  in A 100.00 g\n  out A1 60.00 g concentrate\n  out A2 39.00 g tails\n')}assay A2 by fire\n  Au 0.5 %\n`;
  expect(said(pageWorkspace(text)).map((one) => one.split(' ')[0])).toContain('fine-missing');
});

// 840.00 g × 1.24 % are 10.42 g. Beside tails the other side keeps 90 to 100 % of it, in the middle 95 %: 10.42 g / 0.95 = 10.96 g came in, not
// the 14.7 to 29.4 g that were expected, and nothing is left over.
it.each(['ash', ''])('beside tails the side that is %s tells what the charge held, before a guess does', (kind) => {
  const text = `2026-05-04
receive SW from x
  material sweeps
  1840.0 g
  expect Au 0.8..1.6 %
burn A1
  in SW
  out SW-a 900.0 g ash
magnet G1
  in SW-a
  out 60.0 g tails
  out SW-n 840.0 g ${kind}
assay SW-n by fire
  Au 1.24 ±0.06 % expanded
`;
  const workspace = pageWorkspace(text);
  const { metals, period } = accountsOf(workspace);
  const [start] = segmentsOf(workspace.book.lot('SW')!).all;
  const known = metals.best(start!).get('Au')!;
  expect(known.ground).toBe('inferred');
  expect(1840 * known.share!.value).toBeCloseTo(10.96 / 0.9975, 1);
  expect(Math.abs(period('Au').unaccounted.value)).toBeLessThan(0.1);
  expect(said(workspace)).toEqual([]);
});

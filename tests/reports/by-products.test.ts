/** How much of a record rests on guesses of its by-products, and for how long. */
import { expect, test } from 'vitest';
import { guessesOn, guessesSay } from '../../server/reports/by-products';
import { accountsOf } from '../../server/workspace/accounts';
import { pageWorkspace } from '../support/workspace';

const PAGE = `2026-01-05
receive A 100.00 g, material black-sand, claim Au 20.0 %
pan P1
  in A
  out A1 30.0 g concentrate
  out A2 70.0 g tails, keep
melt M1
  in A1
  add borax-glass 30 g
  out B1 19.00 g button
  out S1 39 g slag, keep
assay B1 by fire, Au 90 %
`;

const guesses = (rest: string) => guessesOn(accountsOf(pageWorkspace(`${PAGE}${rest}`)), 'Au');

const bars = (grams: string): string => `receive BAR ${grams} g\nassay BAR by fire, Au 90 %\n`;

test('tails and slag that are much of what is held are told once they are older than a month', () => {
  const later = (rest: string) => guesses(`${rest}2026-02-10\nnote rain\n`);
  // The button tells of 17.1/0.9725 = 17.6 g in the concentrate, of that 0.48 g in the slag, and 17.6/0.95 × 0.05 = 0.93 g in the tails: 1.4 of 18.5 g; and of 18 g more.
  expect(guesses('')).toBeUndefined();
  expect(later('')).toMatchObject({ tooLarge: true, tooLong: false });
  expect(later(bars('20.00'))).toBeUndefined();
});

test('what left in the days before counts as held, and later no more', () => {
  const sold = (then: string): string => `${bars('100.00')}ship V1 to moor-refiner\n  in BAR\n${then}\nnote rain\n`;
  expect(guesses(sold('2026-02-05'))).toBeUndefined();
  expect(guesses(sold('2026-04-05'))).toBeUndefined();
  const after = guesses(sold('2026-04-06'))!;
  expect(after).toMatchObject({ tooLarge: true, tooLong: true });
  expect(guessesSay(after)).toMatch(
    /in 2 by-products is a guess, 7\.6 % of the 18\.5 g held in 90 days, A2 since 2026-01-05\. Sample and assay A2 first, or work it\.$/,
  );
});

test('a little is told once it is old, and less than one in a hundred not at all', () => {
  const later = (grams: string): string => `2026-04-06\n${bars(grams)}`;
  // 1.4 g of 18.5 + 36 g, and of 18.5 + 180 g.
  expect(guesses(later('40.00'))).toMatchObject({ tooLarge: false, tooLong: true });
  expect(guessesSay(guesses(later('40.00'))!)).toMatch(
    /^~1\.4 g ±1\.2 of gold in 2 by-products is a guess, A2 since 2026-01-05\./,
  );
  expect(guesses(later('200.00'))).toBeUndefined();
});

test('an assay ends it', () => {
  expect(guesses('assay A2 by fire, Au 1.4 %\nassay S1 by fire, Au 1.2 %\n2026-05-05\nnote rain\n')).toBeUndefined();
});

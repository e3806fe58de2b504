/** A heat whose metal weighs as much as before lost none: worked by hand beside each page. */
import { describe, expect, test } from 'vitest';
import { spread } from '../../../server/engine/accounts/inexact';
import { accountsOf } from '../../../server/workspace/accounts';
import { pageWorkspace } from '../../support/workspace';

const A = '2026-03-01\nreceive A 100.00 g\nassay A by fire\n  Au 60.00 %, Ag 30.00 %\n';

/** Of the gold and silver that went in, what is not on hand, in grams. */
const short = (heat: string, metal = 'Au') =>
  accountsOf(pageWorkspace(A + heat)).period(metal, undefined, undefined).unaccounted;

/** A rectangle from nothing to `most`: its middle. */
const middle = (most: number): number => most / 2;

describe('a remelt', () => {
  // Two readings to 0.01 g: each has 0.01/√12 = 0.0029 g, their difference 0.0041, twice that 0.0082 g: no more of either metal.
  test('that weighs as much as before is short of what weighing leaves open, not of the usual loss', () => {
    const gold = short('cast C\n  in A 100.00 g\n  out B 100.00 g bar');
    expect(gold.value).toBeCloseTo(middle(0.00816), 4);
    expect(short('cast C\n  in A 100.00 g\n  out B 100.00 g bar', 'Ag').value).toBeCloseTo(middle(0.00816), 4);
  });

  // 0.10 g less, and 0.0082 g of weighing: all of it may have been gold, 0.18 g of which such a heat may lose, or silver, 0.21 g.
  test('that lost a little lost no more of either metal', () => {
    const heat = 'cast C\n  in A 100.00 g\n  out B 99.90 g bar';
    expect(short(heat).value).toBeCloseTo(middle(0.10816), 4);
    expect(short(heat, 'Ag').value).toBeCloseTo(middle(0.10816), 4);
  });

  // Usual are 0 to 0.3 % of the gold, 0 to 0.7 % of the silver: 0.18 and 0.21 g of 0.4.
  test('that lost more than that lost the usual: base metal went', () => {
    const heat = 'cast C\n  in A 100.00 g\n  out B 99.60 g bar';
    expect(short(heat).value).toBeCloseTo(middle(60 * 0.003), 6);
    expect(short(heat, 'Ag').value).toBeCloseTo(middle(30 * 0.007), 5);
  });

  test('behind borax is told by its metal alone, with metal from the shelf', () => {
    const heat =
      'cast C\n  in A 100.00 g\n  add copper 20.00 g\n  add borax-glass 5 g\n  out B 120.00 g bar\n  out 5 g slag';
    expect(short(heat).value).toBeLessThan(60 * 0.0002);
  });

  test('with litharge may have been given lead by it: its weight tells nothing', () => {
    const heat = 'cast C\n  in A 100.00 g\n  add litharge 0.10 g\n  out B 100.00 g bar';
    expect(short(heat).value).toBeCloseTo(middle(60 * 0.003), 6);
  });

  test('whose product was not weighed lost the usual', () => {
    expect(short('cast C\n  in A 100.00 g\n  out B bar').value).toBeCloseTo(middle(60 * 0.003), 3);
  });

  test('is as sure of its gold as before', () => {
    expect(spread(short('cast C\n  in A 100.00 g\n  out B 100.00 g bar'))).toBeLessThan(0.01);
  });
});

import { describe, expect, test } from 'vitest';
import { from, pricePerMetal, proceeds, splitAssay, upTo } from '../../../server/engine/bench/terms';
import { decimal } from '../../../server/quantity/decimal';
import { money } from '../../../server/quantity/money';
import { given, refused } from './properties';

const [cent, fifteen] = [money('0.00', 'USD'), money('0.15', 'USD')];

describe('terms', () => {
  test('up to and from, at their edges', () => {
    const tiers = [
      [decimal('0.01'), cent],
      [decimal('0.03'), fifteen],
    ] as const;
    expect(given(upTo(tiers, decimal('0.01')))).toBe(cent);
    expect(given(upTo(tiers, decimal('0.0101')))).toBe(fifteen);
    refused(upTo(tiers, decimal('0.04')));
    expect(given(from(tiers, decimal('0.03')))).toBe(fifteen);
    refused(from(tiers, decimal('0.001')));
  });

  test('at the limit the mean is final, whichever came first', () => {
    const split = (one: string, other: string) => splitAssay(decimal(one), decimal(other), decimal('0.05'));
    expect(split('75.44', '75.39')).toEqual(split('75.39', '75.44'));
    expect(split('75.44', '75.39').outcome).toBe('mean');
    expect(split('75.4400000000000000001', '75.39').outcome).toBe('umpire');
  });

  test('money stays exact: where binary fractions miss a coin', () => {
    // 0.1 × 3 = 0.3 and no more; in binary fractions it is 0.30000000000000004.
    const terms = {
      returnFraction: decimal(1),
      chargePerMass: money('0.1', 'USD'),
      leastCharge: money('0.2', 'USD'),
    };
    expect(proceeds(decimal(3), decimal(1), money('0.1', 'USD'), terms).amount.toString()).toBe('0');
    // By hand: 1,234,567,890,123.45 × 0.999 = 1,233,333,322,233.32655, less 0.2.
    const large = proceeds(decimal(1), decimal('0.999'), money('1234567890123.45', 'USD'), terms);
    expect(large.amount.toString()).toBe('1233333322233.12655');
  });

  test('no rate between two moneys is assumed', () => {
    const [dollar, pound] = [money(1, 'USD'), money(1, 'GBP')];
    const terms = { returnFraction: decimal(1), chargePerMass: pound, leastCharge: pound };
    expect(() => proceeds(decimal(3), decimal(1), dollar, terms)).toThrow(RangeError);
    expect(() => pricePerMetal(dollar, decimal(1), pound, decimal(1))).toThrow(RangeError);
  });
});

/** Two assays and the splitting limit. Figures of the first two: published assaying terms of a refinery, 0.05 % for gold. */
import { describe, expect, test } from 'vitest';
import { exchangeOf } from '../../../server/engine/selling/exchange';
import { decimal } from '../../../server/quantity/decimal';

const share = (percent: number) => decimal(percent).div(100);
const exchange = (
  ours: number,
  theirs: number,
  limit: number | undefined,
  umpire?: number,
  rule?: 'result' | 'nearest' | 'middle',
) => {
  const { outcome, settled, farther } = exchangeOf(
    share(ours),
    share(theirs),
    limit === undefined ? undefined : share(limit),
    umpire === undefined ? undefined : share(umpire),
    rule,
  );
  return [outcome, settled?.times(100).toString(), farther];
};

describe('an exchange of assays', () => {
  test('75.42 and 75.39 within 0.05 settle on 75.405; 75.50 and 75.39 want an umpire', () => {
    expect(exchange(75.42, 75.39, 0.05)).toEqual(['mean', '75.405', undefined]);
    expect(exchange(75.5, 75.39, 0.05)).toEqual(['umpire wanted', undefined, undefined]);
  });

  test('at the limit they split, and an umpire then changes nothing', () => {
    expect(exchange(75.44, 75.39, 0.05, 75.3)).toEqual(['mean', '75.415', undefined]);
  });

  test("after an umpire: the result, its mean with the nearer party's, or the middle of three; the farther party is named", () => {
    expect(exchange(75.5, 75.3, 0.05, 75.46, 'result')).toEqual(['umpire', '75.46', 'theirs']);
    expect(exchange(75.5, 75.3, 0.05, 75.46, 'nearest')).toEqual(['umpire', '75.48', 'theirs']);
    expect(exchange(75.5, 75.3, 0.05, 75.6, 'middle')).toEqual(['umpire', '75.5', 'theirs']);
    expect(exchange(75.5, 75.3, 0.05, 75.2, 'middle')).toEqual(['umpire', '75.3', 'ours']);
  });

  test('an umpire in the very middle settles as it is', () => {
    expect(exchange(75.5, 75.3, 0.05, 75.4, 'nearest')).toEqual(['umpire', '75.4', undefined]);
  });
});

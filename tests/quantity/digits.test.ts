/** How many digits of a figure are shown. */
import { describe, expect, it } from 'vitest';
import { decimal } from '../../server/quantity/decimal';
import { showDigits } from '../../server/quantity/show';

describe('a figure cut to digits that mean something', () => {
  it.each([
    [0.04123, 3, '0.0412'],
    [38.4, 2, '38'],
    [7.049, 2, '7.0'],
    [132.6, 2, '130'],
  ])('%d to %i digits', (value, digits, shown) => {
    expect(showDigits(decimal(value), digits)).toBe(shown);
  });

  it('has no digit more where rounding takes it over a power of ten', () => {
    expect(showDigits(decimal(0.99999), 3)).toBe('1.00');
    expect(showDigits(decimal(9.996), 2)).toBe('10');
  });
});

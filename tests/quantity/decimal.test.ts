import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import {
  type Decimal,
  decimal,
  decimalsOf,
  isNumberText,
  type Rounding,
  roundTo,
  sum,
  toPlain,
} from '../../server/quantity/decimal';
import { fromBase, toBase, unit } from '../../server/quantity/units';
import file from '../fixtures/measurement/decimal.json';
import { openCases, same } from '../support/cases';

const cases = openCases(file);
afterAll(() => expect(cases.left()).toEqual([]));

describe('rounding', () => {
  test.each([1, 2, 3, 4, 6, 7, 9])('general decimal arithmetic, case %d', (number) => {
    const { inputs, expected } = cases.take<{ x: string; quantum: string; mode: string }, string>(`dx-round-${number}`);
    const mode = inputs.mode.replace('_', '-') as Rounding;
    same(roundTo(decimal(inputs.x), decimal(inputs.quantum), mode), expected);
  });

  test('1.005 goes up, as it is written', () => {
    const { inputs, expected } = cases.take<{ x: string }, string>('dx-js-trap');
    same(roundTo(decimal(inputs.x), decimal('0.01'), 'half-up'), expected);
  });

  test('bars are booked down to a step', () => {
    const gold = cases.take<{ kg: string; step: string }, string>('dx-gold-down');
    same(roundTo(ounces(gold.inputs.kg, 'kg'), decimal(gold.inputs.step), 'down'), gold.expected);
    const silver = cases.take<{ ozt: string; step: string }, string>('dx-silver-down');
    same(roundTo(decimal(silver.inputs.ozt), decimal(silver.inputs.step), 'down'), silver.expected);
  });

  test('up and down are away from nothing and towards it', () => {
    same(roundTo(decimal('-0.11'), decimal('0.1'), 'up'), '-0.2');
    same(roundTo(decimal('-0.19'), decimal('0.1'), 'down'), '-0.1');
  });
});

describe('fine ounces', () => {
  test('of a large bar', () => {
    const { inputs, expected } = cases.take<{ gross_ozt: string; assay: string }, string>('dx-gold-fine');
    same(thousandths(decimal(inputs.gross_ozt).times(fineness(inputs.assay))), expected);
  });

  test.each([
    '1000g-995.0',
    '1000g-999.0',
    '1000g-999.9',
    '100g-995.0',
    '100g-999.9',
    '200g-999.9',
    '10tola-995.0',
    '10tola-999.9',
  ])('of a small bar, %s: arithmetic gives the agreed content', (name) => {
    const { inputs, expected } = cases.take<{ bar: string; assay: string }, string>(`dx-small-${name}`);
    same(fineOunces(inputs.bar, inputs.assay), expected);
  });

  test('the agreed contents are a list: arithmetic is not always in it', () => {
    const { inputs, expected } = cases.take<{ bar: string; assay: string }, { agreed: string; arithmetic: string }>(
      'dx-agreed-not-computed',
    );
    const computed = fineOunces(inputs.bar, inputs.assay);
    same(computed, expected.arithmetic);
    expect(computed.eq(expected.agreed)).toBe(false);
  });
});

describe('numbers as typed', () => {
  test.each(['0', '58.16', '007.50', '123456789012345', '1.123456789012', '123456789012345.123456789012'])(
    '%s is a number',
    (text) => expect(isNumberText(text)).toBe(true),
  );

  test.each([
    '',
    '.5',
    '5.',
    '-1',
    '+1',
    '1e3',
    '1,5',
    '1.2.3',
    '1234567890123456',
    '1.1234567890123',
    '٣',
    ' 1',
    '1\n',
  ])('%j is none', (text) => expect(isNumberText(text)).toBe(false));

  test('digits after the point are counted as typed', () => {
    expect(['240', '58.10', '0.000'].map(decimalsOf)).toEqual([0, 2, 3]);
  });

  test('very small and very large values have no exponent', () => {
    expect(toPlain(decimal('0.000000000001'))).toBe('0.000000000001');
    expect(toPlain(decimal('1e30'))).toBe(`1${'0'.repeat(30)}`);
    expect(toPlain(decimal('-0'))).toBe('0');
    expect(String(decimal('1e-30'))).not.toContain('e');
  });

  test('any number of the language is kept to its last digit, and any order of a sum is the same', () => {
    fc.assert(
      fc.property(fc.array(numberText, { minLength: 1, maxLength: 20 }), (texts) => {
        expect(texts.every(isNumberText)).toBe(true);
        for (const text of texts) expect(decimal(text).toFixed(decimalsOf(text))).toBe(withoutNoughts(text));
        const values = texts.map((text) => decimal(text));
        // The second opinion counts in whole trillionths.
        const trillionths = texts.reduce((total, text) => total + wholeTrillionths(text), 0n);
        expect(sum(values).times('1e12').toFixed(0)).toBe(String(trillionths));
        expect(sum([...values].reverse()).eq(sum(values))).toBe(true);
      }),
    );
  });

  test('rounding is a whole multiple, near, and the same when done again', () => {
    const mode = fc.constantFrom<Rounding>('half-up', 'half-even', 'down', 'up');
    fc.assert(
      fc.property(numberText, fc.constantFrom('0.01', '0.025', '0.1', '5', '100'), mode, (text, step, how) => {
        const quantum = decimal(step);
        const rounded = roundTo(decimal(text), quantum, how);
        expect(rounded.mod(quantum).isZero()).toBe(true);
        const away = rounded.minus(text).abs();
        expect(away.lte(how === 'down' || how === 'up' ? quantum : quantum.div(2))).toBe(true);
        expect(roundTo(rounded, quantum, how).eq(rounded)).toBe(true);
      }),
    );
  });
});

const digits = (least: number, most: number): fc.Arbitrary<string> =>
  fc.string({ unit: fc.constantFrom(...'0123456789'), minLength: least, maxLength: most });

const numberText = fc
  .tuple(digits(1, 15), digits(0, 12))
  .map(([whole, part]) => (part === '' ? whole : `${whole}.${part}`));

const withoutNoughts = (text: string): string => text.replace(/^0+(?=\d)/, '');

const wholeTrillionths = (text: string): bigint => {
  const [whole, part = ''] = text.split('.');
  return BigInt(whole! + part.padEnd(12, '0'));
};

const thousandths = (value: Decimal): Decimal => roundTo(value, decimal('0.001'), 'half-up');

const fineness = (assay: string): Decimal => toBase(decimal(assay), unit('fine')!);

const ounces = (value: string, symbol: string): Decimal =>
  fromBase(toBase(decimal(value), unit(symbol)!), unit('ozt')!);

const fineOunces = (bar: string, assay: string): Decimal => {
  const [value, symbol] = bar.split(' ');
  return thousandths(ounces(value!, symbol!).times(fineness(assay)));
};

test('its binary number is the one that its digits read as, to the last bit', () => {
  const digits = fc.tuple(fc.constantFrom('', '-'), fc.stringMatching(/^\d{1,20}$/), fc.integer({ min: -40, max: 40 }));
  fc.assert(
    fc.property(digits, ([sign, whole, power]) => {
      const text = `${sign}${whole}e${power}`;
      expect(decimal(text).toNumber()).toBe(Number(text));
      expect(decimal(text).plus(0).toNumber()).toBe(Number(text) + 0);
    }),
    { numRuns: 5000 },
  );
  expect(decimal(Number.NaN).toNumber()).toBeNaN();
  expect(decimal('-Infinity').toNumber()).toBe(Number.NEGATIVE_INFINITY);
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimal } from '../../server/quantity/decimal';
import {
  add,
  exact,
  guess,
  type Measured,
  measured,
  multiply,
  scale,
  subtract,
  uncertainty,
} from '../../server/quantity/measured';
import { addMoney, minorDigits, minorUnit, money, roundMoney, showMoney } from '../../server/quantity/money';
import {
  cutUncertainty,
  placesFor,
  showMass,
  showPercent,
  showPlaces,
  showPlain,
  showQuantity,
} from '../../server/quantity/show';
import { fromBase, unit } from '../../server/quantity/units';
import { type Scale, weighed } from '../../server/quantity/weighing';
import minorUnits from '../fixtures/measurement/minor-units.json';

const BENCH: Scale = { name: 'bench', division: decimal('0.01') };
const read = (grams: string, typedDivision = 0.01, on?: Scale): Measured =>
  weighed(decimal(grams), typedDivision, on, 'r');
const known = (value: string, u: number): Measured => measured(decimal(value), u, 'x');

describe('a quantity', () => {
  test.each([
    // As read: no digit that the display did not have.
    [read('58.16'), '58.16 g ±0.01'],
    [read('58.10'), '58.10 g ±0.01'],
    [read('58.16', 0.01, BENCH), '58.16 g ±0.01'],
    [read('240', 1), '240 g ±1'],
    [add(read('50.00'), read('50.00')), '100.00 g ±0.01'],
    [subtract(read('238.42'), read('18.20')), '220.22 g ±0.01'],
    // A reading of 1 g beside readings of 0.01 g: 503.88 in, 494.26 out.
    [
      subtract(add(read('203.88'), read('240', 1), read('60', 1)), add(read('58.16'), read('436.1', 0.1))),
      '9.6 g ±0.8',
    ],
    // Stated or computed: one digit of the ±, two where it starts with a 1.
    [known('53.04192', 0.05822), '53.04 g ±0.12'],
    [known('53.04192', 0.041), '53.04 g ±0.08'],
    [known('5321', 150), '5300 g ±300'],
    [known('0.0412', 0.0002), '0.0412 g ±0.0004'],
    [known('12', 0.0475), '12.00 g ±0.10'],
    [known('12', 0.0985), '12.0 g ±0.2'],
    // Known better than its digits say: 58.2 ±0.03 as stated.
    [{ ...known('58.2', 0.0173), places: 1 }, '58.20 g ±0.03'],
    // Without error: as typed.
    [exact(decimal('58.16')), '58.16 g'],
    [exact(decimal('0.0000001')), '0.0000001 g'],
    [guess(known('60', 3)), '~60 g ±6'],
    [guess(exact(decimal('60'))), '~60 g'],
    [known('-0.0004', 0.004), '0.000 g ±0.008'],
  ])('%#: %o', (of, text) => expect(showQuantity(of, 'g')).toBe(text));

  test('in another unit', () => {
    expect(showQuantity(read('5816.00'), 'kg')).toBe('5.81600 kg ±0.00001');
    expect(showQuantity(read('58.16'), 'ozt')).toBe('1.86989 ozt ±0.00019');
    expect(showQuantity(read('0.0581', 0.0001), 'mg')).toBe('58.1 mg ±0.1');
    expect(showMass(read('5816', 1), 'kg')).toBe('5.816 kg');
  });

  test('a product is not held to the digits of its factors', () => {
    const fine = multiply(read('58.16'), known('0.912', 0.001));
    expect(showMass(fine)).toBe('53.04 g');
    expect(showMass(scale(read('58.16'), decimal('0.5')))).toBe('29.080 g');
  });

  test('without the ±', () => {
    expect(showMass(read('58.10'))).toBe('58.10 g');
    expect(showMass(guess(exact(decimal('60'))))).toBe('~60 g');
    expect(showPlain(decimal('12.5'), 'kg', 2)).toBe('12.50 kg');
    expect([showPlaces(decimal('-0.004'), 2), showPlaces(decimal(1249), -2)]).toEqual(['0.00', '1200']);
  });

  test('per cent of a small difference', () => {
    // Loss 0.02 g of 58.16 g with u 0.006 g: 0.03 %, not 0.0344 %.
    expect(showPercent(0.02 / 58.16, 0.006 / 58.16)).toBe('0.03 %');
    expect(showPercent(0.912, 0.001)).toBe('91.2 %');
    expect(showPercent(0.912, 0)).toBe('91.20 %');
  });

  test('places and significant digits', () => {
    expect([0.0094, 0.0194, 0.0196, 0.02, 0.14, 3, 14, 300, 0].map(placesFor)).toEqual([3, 3, 2, 2, 2, 0, 0, 0, 0]);
    expect(cutUncertainty(decimal('0.0273'), 1, 'half-even').toFixed()).toBe('0.03');
    expect(cutUncertainty(decimal('99.6'), 2, 'half-even').toFixed()).toBe('100');
    expect(cutUncertainty(decimal(0), 2, 'up').toFixed()).toBe('0');
  });

  const anyQuantity = fc
    .tuple(fc.integer({ min: -(10 ** 9), max: 10 ** 9 }), fc.nat(9), fc.integer({ min: 1, max: 10 ** 6 }), fc.nat(9))
    .map(([digits, places, error, errorPlaces]) =>
      measured(decimal(digits).div(decimal(10).pow(places)), error / 10 ** errorPlaces, 'x'),
    );

  test('what is shown reads back within its last place, and within its ±', () => {
    fc.assert(
      fc.property(anyQuantity, fc.constantFrom('g', 'kg', 'mg', 'ozt', 'gr'), (of, symbol) => {
        const shown = showQuantity(of, symbol);
        expect(shown).not.toMatch(/e/i);
        const [value, , spread] = shown.split(' ');
        const row = unit(symbol)!;
        const away = decimal(value!).minus(fromBase(of.value, row)).abs().toNumber();
        const u = uncertainty(of) / row.factor.toNumber();
        // Half of the ±'s own last digit at most: a quarter of two u, and a little for what is shown as 0.1 for 0.095.
        expect(away).toBeLessThanOrEqual(0.55 * u);
        expect(Number(spread!.slice(1)) / (2 * u)).toBeGreaterThan(0.74);
        expect(Number(spread!.slice(1)) / (2 * u)).toBeLessThan(1.27);
      }),
    );
  });

  test('a reading is shown as it was typed', () => {
    fc.assert(
      fc.property(fc.nat(10 ** 9), fc.nat(4), (digits, places) => {
        const typed = decimal(digits).div(decimal(10).pow(places)).toFixed(places);
        expect(showMass(read(typed, 10 ** -places))).toBe(`${typed} g`);
      }),
    );
  });
});

describe('money', () => {
  test.each(Object.entries(minorUnits.digits))('currencies with %s digits', (digits, codes) => {
    expect(codes.filter((code) => minorDigits(code) !== Number(digits))).toEqual([]);
  });

  test('minor units', () => {
    expect(minorUnit('KWD').toFixed()).toBe('0.001');
    expect(minorUnit('JPY').toFixed()).toBe('1');
    expect(minorUnit('USD').toFixed()).toBe('0.01');
    // From memory: no minor unit since the list was changed.
    expect(minorDigits('UGX')).toBe(0);
  });

  test('is rounded half to even, once, and shown with its noughts', () => {
    expect(showMoney(money('3804.745', 'USD'))).toBe('3804.74 USD');
    expect(showMoney(money('3804.755', 'USD'))).toBe('3804.76 USD');
    expect(showMoney(money('45', 'USD'))).toBe('45.00 USD');
    expect(showMoney(money('1234.5', 'JPY'))).toBe('1234 JPY');
    expect(showMoney(money('-0.004', 'USD'))).toBe('0.00 USD');
    expect(showMoney(money('-35.1', 'USD'))).toBe('-35.10 USD');
    expect(roundMoney(money('0.125', 'USD'), 'half-up').amount.toFixed()).toBe('0.13');
    expect(roundMoney(money('0.129', 'USD'), 'down').amount.toFixed()).toBe('0.12');
  });

  test('of two currencies is never added', () => {
    expect(showMoney(addMoney(money('0.10', 'USD'), money('0.20', 'USD'), money('1', 'USD')))).toBe('1.30 USD');
    expect(() => addMoney(money(1, 'USD'), money(1, 'EUR'))).toThrow('EUR cannot be added to USD');
  });
});

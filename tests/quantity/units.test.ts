import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { type Decimal, decimal } from '../../server/quantity/decimal';
import { money, showMoney } from '../../server/quantity/money';
import { fromBase, fromCelsius, nearUnit, toBase, toCelsius, UNITS, unit } from '../../server/quantity/units';
import gnu from '../fixtures/measurement/gnu-units.json';
import file from '../fixtures/measurement/units.json';
import { near, openCases, same } from '../support/cases';

const cases = openCases(file);
afterAll(() => expect(cases.left()).toEqual([]));

interface Conversion {
  readonly value: string;
  readonly from: string;
  readonly to: string;
}

describe('published factors', () => {
  test.each(['ozt-g', 'dwt-g', 'grain-g', 'lb-g', 'oz-g', 'tola-g', 'carat-g'])('%s', (name) => {
    const { inputs, expected } = cases.take<Conversion, string>(`unit-${name}`);
    same(toBase(decimal(inputs.value), unit(inputs.from)!), expected);
  });

  test('tola in troy ounces, karat in thousandths', () => {
    const tola = cases.take<Conversion, string>('unit-10tola-ozt');
    same(convert(tola.inputs.value, 'tola', 'ozt'), tola.expected);
    const karat = cases.take<Conversion, string>('unit-karat-22');
    same(convert(karat.inputs.value, 'k', 'fine'), karat.expected);
  });

  test('the troy ounce against the common one', () => {
    same(unit('ozt')!.factor.div(unit('oz')!.factor), cases.take<unknown, string>('unit-ozt-per-oz').expected);
  });

  test('a kilogram in troy ounces, to seven places', () => {
    const { inputs, expected } = cases.take<Conversion, string>('unit-kg-ozt');
    expect(convert(inputs.value, 'kg', 'ozt').toFixed(7)).toBe(expected);
  });

  test('several units added: 3 ozt 4 dwt', () => {
    const total = toBase(decimal(3), unit('ozt')!).plus(toBase(decimal(4), unit('dwt')!));
    same(total, cases.take<unknown, string>('unit-compound-ozt').expected);
  });

  test('the seven digits of the printed table are not used', () => {
    const { inputs, expected, tolerance } = cases.take<{ sp811: string }, number>('unit-sp811-rounded');
    const factor = unit('ozt')!.factor;
    near(decimal(inputs.sp811).div(factor).minus(1).toNumber(), expected, tolerance);
  });

  test('tons and assay tons, by their pounds', () => {
    same(convert('2000', 'lb', 'kg'), cases.take<unknown, string>('unit-shortton-kg').expected);
    same(convert('2240', 'lb', 'kg'), cases.take<unknown, string>('unit-longton-kg').expected);
    const short = cases.take<unknown, number>('unit-assayton-short-g');
    near(convert('2000', 'lb', 'ozt').div(1000).toNumber(), short.expected, short.tolerance);
    const long = cases.take<unknown, number>('unit-assayton-long-g');
    near(convert('2240', 'lb', 'ozt').div(1000).toNumber(), long.expected, long.tolerance);
    const share = unit('ozt')!.factor.div(convert('2000', 'lb', 'g'));
    same(fromBase(share, unit('g/t')!), cases.take<unknown, string>('unit-gpt-per-ozt-ston').expected);
  });

  test('prices, by the mass that they are for', () => {
    const gram = cases.take<{ price: string }, number>('unit-price-g');
    near(
      decimal(gram.inputs.price)
        .div(convert('1', 'ozt', 'g'))
        .toNumber(),
      gram.expected,
      gram.tolerance,
    );
    const dwt = cases.take<{ price: string }, string>('unit-price-dwt');
    same(decimal(dwt.inputs.price).div(convert('1', 'ozt', 'dwt')), dwt.expected);
    expect(showMoney(money(dwt.expected, 'USD'))).toBe('124.00 USD');
  });

  test('temperatures', () => {
    const gold = cases.take<Conversion, string>('unit-temp-au-f');
    same(fromCelsius(decimal(gold.inputs.value), unit('°F')!), gold.expected);
    const kelvin = cases.take<Conversion, number>('unit-temp-f-k');
    const celsius = toCelsius(decimal(kelvin.inputs.value), unit('F')!);
    near(celsius.plus('273.15').toNumber(), kelvin.expected, kelvin.tolerance);
  });

  test('the statute tael is four thirds of a common ounce', () => {
    const { expected, tolerance } = cases.take<unknown, number>('unit-tael-statute-g');
    near(convert('4', 'oz', 'g').div(3).toNumber(), expected, tolerance);
  });
});

// Nothing of the program converts these: what the words mean differs from place to place, or nobody melts by the gallon. They are refused.
describe('measures that the journal does not know', () => {
  test.each([
    ['momme-g', 'momme'],
    ['tael-troy-g', 'tael'],
    ['baht-g', 'baht'],
    ['usgal-l', 'gal'],
    ['impgal-l', 'gallon'],
    ['impfloz-ml', 'floz'],
  ])('%s', (name, word) => {
    expect(cases.take<Conversion, string>(`unit-${name}`).inputs.value).toBe('1');
    expect(unit(word)).toBeUndefined();
    expect(nearUnit(word)).toBeUndefined();
  });

  test.each(['liang', 'ton', 't', 'assay-ton', 'kan'])('%s', (word) => expect(nearUnit(word)).toBeUndefined());
});

describe('against GNU units', () => {
  test.each(gnu.factors as [string, string, string][])('1 %s in %s', (from, to, factor) => {
    const ours = convert('1', from, to);
    // Fifteen digits are printed.
    near(ours.div(factor).minus(1).toNumber(), 0, 1e-14);
  });

  test.each(gnu.fahrenheitInCelsius as [string, string][])('%s °F', (fahrenheit, celsius) => {
    near(toCelsius(decimal(fahrenheit), unit('°F')!).minus(celsius).toNumber(), 0, 1e-11);
  });

  test('every unit but the temperatures is compared', () => {
    const compared = new Set(gnu.factors.map(([from]) => from));
    expect(UNITS.filter(({ kind, symbol }) => kind !== 'temperature' && !compared.has(symbol))).toEqual([]);
  });
});

describe('there and back', () => {
  const written = fc
    .tuple(fc.bigInt({ min: 0n, max: 10n ** 15n }), fc.integer({ min: 0, max: 12 }))
    .map(([whole, places]) => decimal(String(whole)).div(decimal(10).pow(places)));
  const straight = fc.constantFrom(...UNITS.filter(({ kind }) => kind !== 'temperature'));

  test('any written number in any unit', () => {
    fc.assert(
      fc.property(written, straight, (value, of) => {
        const back = fromBase(toBase(value, of), of);
        // A karat is a twenty-fourth, which no decimal writes in full.
        if (of.parts) expect(back.minus(value).abs().lte(value.times('1e-59'))).toBe(true);
        else expect(back.eq(value)).toBe(true);
      }),
    );
  });

  test('twice as much is twice as much in any other unit', () => {
    fc.assert(
      fc.property(written, straight, straight, (value, from, to) => {
        const once = fromBase(toBase(value, from), to);
        const twice = fromBase(toBase(value.times(2), from), to);
        expect(twice.minus(once.times(2)).abs().lte(once.abs().times('1e-55'))).toBe(true);
      }),
    );
  });

  test('temperatures', () => {
    fc.assert(
      fc.property(written, fc.constantFrom('°C', 'C', '°F', 'F'), (value, symbol) => {
        const back = fromCelsius(toCelsius(value, unit(symbol)!), unit(symbol)!);
        expect(back.minus(value).abs().lt('1e-30')).toBe(true);
      }),
    );
  });

  test('karats are exact: 18 k is three quarters', () => {
    for (const karat of [9, 12, 14, 18, 21, 24]) {
      expect(fromBase(toBase(decimal(karat), unit('k')!), unit('k')!).eq(karat)).toBe(true);
    }
    expect(toBase(decimal(18), unit('k')!).eq('0.75')).toBe(true);
    expect(toBase(decimal(24), unit('k')!).eq(1)).toBe(true);
  });
});

describe('other spellings', () => {
  test.each([
    ['gram', 'g'],
    ['grams', 'g'],
    ['gm', 'g'],
    ['gms', 'g'],
    ['G', 'g'],
    ['g.', 'g'],
    ['kgs', 'kg'],
    ['kt', 'k'],
    ['karat', 'k'],
    ['K', 'k'],
    ['oz t', 'ozt'],
    ['oz.t.', 'ozt'],
    ['troy', 'ozt'],
    ['oz.', 'oz'],
    ['ounces', 'oz'],
    ['pennyweight', 'dwt'],
    ['grain', 'gr'],
    ['grains', 'gr'],
    ['gn', 'gr'],
    ['ml', 'mL'],
    ['l', 'L'],
    ['cc', 'mL'],
    ['deg', '°C'],
    ['percent', '%'],
    ['pct', '%'],
  ])('%s is meant as %s', (word, symbol) => expect(nearUnit(word)).toBe(symbol));

  test('no unit is another spelling', () => {
    for (const { symbol } of UNITS) expect(nearUnit(symbol)).toBeUndefined();
  });

  test.each(['slag', 'Au', 'button', '', 'constructor', '__proto__'])('%j is no unit', (word) => {
    expect([unit(word), nearUnit(word)]).toEqual([undefined, undefined]);
  });
});

const convert = (value: string, from: string, to: string): Decimal =>
  fromBase(toBase(decimal(value), unit(from)!), unit(to)!);

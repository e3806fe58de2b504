import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Weight } from '../../server/engine/book';
import { weighAmount } from '../../server/engine/weigh';
import type { Workshop } from '../../server/engine/workshop';
import { subtract, uncertainty } from '../../server/quantity/measured';
import { near } from '../support/cases';
import { bookOf, entriesOf, shopOf } from '../support/entries';

const bench = shopOf({
  scales: { bench: '0.01', coarse: '0.1', leaning: { division: undefined, permissibleError: 0.03 } },
  tares: { 'tray-2': ['18.20', 0.004] },
  measures: { spoon: '12' },
});

/** The weight of the only product of a step. */
const weigh = (amount: string, workshop: Workshop = bench): Weight => {
  const flow = entriesOf(`melt M1\n  out B1 ${amount}`)[0]!.flows[0]!;
  return weighAmount(flow.amount, flow.said, workshop, 'B1');
};

const value = (weight: Weight): string | undefined => weight.mass?.value.toFixed();
const u = (weight: Weight): number => uncertainty(weight.mass!);

describe('one reading', () => {
  test('its last digit is its division: 0.01/√12 = 0.002887', () => {
    const weight = weigh('58.16 g');
    expect([value(weight), weight.ground, weight.divisionGrams]).toEqual(['58.16', 'weighed', 0.01]);
    near(u(weight), 0.0028868, 1e-7);
  });
  test('a whole gram is a division of 1 g: 0.28868', () => near(u(weigh('240 g')), 0.288675, 1e-6));
  test('on a scale, rounded at load and at zero: 0.1/√6 = 0.040825', () => {
    const weight = weigh('58.2 g on coarse');
    expect(weight.divisionGrams).toBe(0.1);
    near(u(weight), 0.0408248, 1e-7);
  });
  test('2 ozt is 62.2069536 g exactly, its division 31.1034768 g', () => {
    const weight = weigh('2 ozt');
    expect([value(weight), weight.divisionGrams]).toEqual(['62.2069536', 31.1034768]);
  });
  test('a scale named for the line or for the entry holds; the amount’s own comes first', () => {
    const [entry] = entriesOf('melt M1\n  on coarse\n  out A 20.0 g\n  out B 20.00 g on bench');
    const divisions = entry!.flows.map((flow) => weighAmount(flow.amount, flow.said, bench, 'x').divisionGrams);
    expect(divisions).toEqual([0.1, 0.01]);
  });
  test('a stated ± is a rectangle: 0.3/√3 = 0.1732; expanded halves it', () => {
    near(u(weigh('58.2 ±0.3 g')), 0.173205, 1e-6);
    near(u(weigh('58.2 ±0.3 g expanded')), 0.15, 1e-12);
  });
});

describe('several readings', () => {
  // 0.01/√12 × √2 = 0.00408
  test('goes add up, roundings by squares', () => {
    const weight = weigh('20.11 + 38.05 g');
    expect(value(weight)).toBe('58.16');
    near(u(weight), 0.0040825, 1e-6);
  });
  // Mean 58.16; s² = (0 + 0.0001 + 0.0001)/2 = 0.0001; u² = 0.0001/3 + 0.0001/12 = 0.0000416667.
  test('repeats give mean and scatter', () => {
    const weight = weigh('58.16 / 58.15 / 58.17 g');
    expect(value(weight)).toBe('58.16');
    near(u(weight), 0.006455, 1e-6);
  });
  test('what a scale leans by counts in full in a sum: 2 × 0.03/√3', () => {
    near(u(weigh('20 + 38 g on leaning')), Math.hypot(2 * (0.03 / Math.sqrt(3)), 1 / Math.sqrt(3)), 1e-9);
  });
});

describe('vessels', () => {
  // √2 × 0.01/√12 = 0.00408
  test('gross less a typed tare, both rounded', () => {
    const weight = weigh('gross 238.42 g, tare 18.20 g');
    expect([value(weight), weight.gross?.value.toFixed(), weight.tare?.value.toFixed()]).toEqual([
      '220.22',
      '238.42',
      '18.2',
    ]);
    near(u(weight), 0.0040825, 1e-6);
  });
  test('a vessel’s tare is one error, and falls out of a difference', () => {
    const first = weigh('gross 238.42 g wet, tare tray-2');
    const second = weigh('gross 222.08 g dry, tare tray-2');
    expect(value(first)).toBe('220.22');
    near(u(first), Math.hypot(0.0028868, 0.004), 1e-6);
    near(uncertainty(subtract(first.mass!, second.mass!)), 0.0040825, 1e-6);
    expect(first.states).toEqual(['wet']);
  });
  test('gross without a known tare has no net weight', () => {
    for (const text of ['gross 238.42 g', 'gross 238.42 g, tare tray-9']) {
      const weight = weigh(text);
      expect([weight.ground, weight.mass, weight.gross?.value.toFixed()]).toEqual(['unknown', undefined, '238.42']);
    }
  });
  test('what grew tells no weight, and what only weighing moved is nothing', () => {
    const used = (pair: string) => {
      const [entry] = entriesOf(`drop R8\n  add copper, ${pair}\n  out W 81.4 g`);
      const { amount, said } = entry!.flows[0]!;
      return value(weighAmount(amount, said, bench, 'copper'));
    };
    expect(used('before 388.2 g, after 412.3 g')).toBeUndefined();
    expect(used('before 388.2 g, after 388.3 g')).toBe('0');
  });
  test('a tare above its gross leaves no weight', () =>
    expect(value(weigh('gross 18.20 g, tare 38.42 g'))).toBeUndefined());
  test('before less after is what was used', () => {
    const [entry] = entriesOf('drop R8\n  add copper, before 412.3 g, after 388.2 g\n  out W 81.4 g');
    const flow = entry!.flows[0]!;
    const weight = weighAmount(flow.amount, flow.said, bench, 'copper');
    expect(value(weight)).toBe('24.1');
    near(u(weight), 0.0408248, 1e-6);
  });
});

describe('what is less than a weight', () => {
  test.each([
    ['~60 g', '60', 6],
    ['2 spoon', '24', 2.4],
    // Half-width 2, 2/√3.
    ['22..26 g', '24', 1.154701],
    ['<0.02 g', '0.01', 0.0057735],
  ])('%s is a guess', (text, grams, expected) => {
    const weight = weigh(text);
    expect([value(weight), weight.ground, weight.mass?.guessed]).toEqual([grams, 'guessed', true]);
    near(u(weight), expected, 1e-5);
  });
  test('none is exactly nothing; ? is not known', () => {
    expect([value(weigh('none')), u(weigh('none'))]).toEqual(['0', 0]);
    expect(weigh('?').ground).toBe('unknown');
    expect(weigh('nd').ground).toBe('unknown');
  });
  test('a volume is no mass', () => {
    const weight = weigh('1.35 L solution');
    expect([weight.mass, weight.volume?.value.toFixed()]).toEqual([undefined, '1350']);
  });
});

test('weighed twice for two purposes it is the same error', () => {
  const book = bookOf('receive A 20.00 g\ncast C1\n  in A\n  out B 19.98 g bar');
  const [birth] = book.story('A').births;
  expect(book.step('C1').inputs[0]!.mass!.errors[0]!.source).toBe(birth!.weight.mass!.errors[0]!.source);
});

test('changing the unit changes nothing but the writing', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 99_999_999 }), (milligrams) => {
      const thousandths = `${Math.floor(milligrams / 1000)}.${`${milligrams % 1000}`.padStart(3, '0')} g`;
      const [inGrams, inMilligrams] = [weigh(thousandths), weigh(`${milligrams} mg`)];
      expect(inMilligrams.mass!.value.equals(inGrams.mass!.value)).toBe(true);
      near(u(inMilligrams), u(inGrams), 1e-15);
    }),
    { numRuns: 60 },
  );
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { additionFor, blend, massFromMoles, molesFromMass, toComposition } from '../../../server/engine/bench/alloy';
import { fineGrams, finenessPptFromKarat, MARKS, markFor } from '../../../server/engine/bench/fineness';
import { inquart, ratioBand, silverToAdd } from '../../../server/engine/bench/inquart';
import { exactly } from '../../../server/engine/bench/result';
import { molarMass } from '../../../server/vocabulary/compounds';
import { close, fraction, given, grams, ordered, refused, within } from './properties';

describe('fineness', () => {
  test('14 karat is not marked 585, and 22 karat is marked 916', () => {
    expect(given(markFor('Au', finenessPptFromKarat(14))).finenessPpt).toBe(417);
    expect(given(markFor('Au', finenessPptFromKarat(22))).finenessPpt).toBe(916);
  });

  test('a mark never stands above the assay, and no mark between them is passed over', () => {
    fc.assert(
      fc.property(fc.constantFrom('Au', 'Ag', 'Pt', 'Pd'), within(0, 1000), (metal, assay) => {
        const marks = MARKS.get(metal)!.map(({ finenessPpt }) => finenessPpt);
        const found = markFor(metal, assay);
        expect(found.value?.finenessPpt).toBe(marks.findLast((mark) => mark <= assay));
      }),
    );
    refused(markFor('Au', 100));
    refused(markFor('Fe', 900));
  });

  test('fine weight scales with the lot, and its uncertainty never falls below either part', () => {
    fc.assert(
      fc.property(grams, fraction, within(0, 1), within(0, 0.01), (mass, fine, uMass, uFine) => {
        const found = given(fineGrams({ value: mass, u: uMass }, { value: fine, u: uFine }));
        close(found.value, mass * fine);
        expect(found.u).toBeGreaterThanOrEqual(Math.max(mass * uFine, fine * uMass) - 1e-12);
      }),
    );
  });
});

describe('alloying', () => {
  const apart = fc.tuple(within(0.05, 0.95), within(0, 1), grams);

  test('what is added brings the lot to its target', () => {
    fc.assert(
      fc.property(apart, within(0, 1), ([to, from, mass], addition) => {
        const found = additionFor(mass, exactly(from), to, addition);
        if (!found.value) return;
        const added = found.value.addGrams.best;
        if (added > 1e9) return;
        close((mass * from + added * addition) / (mass + added), to, 1e-6);
        ordered(found.value.addGrams);
      }),
    );
  });

  test('up and down: no target outside of the two', () => {
    refused(additionFor(100, exactly(0.585), 0.75, 0.5));
    refused(additionFor(100, exactly(0.75), 0.585, 0.9));
    refused(additionFor(100, exactly(0.75), 0.9, 0.9));
  });

  test('an unsure lot gives an unsure addition', () => {
    const { addGrams } = given(additionFor(100, { low: 0.57, best: 0.585, high: 0.6 }, 0.75, 1));
    close(addGrams.low, 60);
    close(addGrams.best, 66);
    close(addGrams.high, 72);
  });

  const composition = fc.tuple(within(0.05, 1), within(0.05, 1), within(0.05, 1)).map(([gold, silver, copper]) => {
    const whole = gold + silver + copper;
    return new Map([
      ['Au', gold / whole],
      ['Ag', silver / whole],
      ['Cu', copper / whole],
    ]);
  });

  test('three metals: the recipe makes the target, with one metal left as it is', () => {
    fc.assert(
      fc.property(composition, composition, grams, (from, to, mass) => {
        const { addGrams, totalGrams } = given(toComposition(mass, from, to));
        const made = blend([
          { grams: mass, fractions: from },
          ...[...addGrams].map(([symbol, added]) => ({ grams: added, fractions: new Map([[symbol, 1]]) })),
        ]);
        close(made.grams, totalGrams, 1e-6);
        for (const [symbol, share] of to) close(made.fractions.get(symbol) ?? 0, share, 1e-6);
        expect(Math.min(...addGrams.values())).toBeLessThanOrEqual(1e-6 * totalGrams);
      }),
    );
  });

  test('a metal that the target has no place for is refused, as is a lot that does not add up', () => {
    const eighteen = new Map([
      ['Au', 0.75],
      ['Ag', 0.25],
    ]);
    refused(
      toComposition(10, new Map([...eighteen, ['Zn', 0.01]].map(([k, v]) => [k, v] as [string, number])), eighteen),
    );
    refused(
      toComposition(
        10,
        new Map([
          ['Au', 0.75],
          ['Ag', 0.2],
          ['Zn', 0.05],
        ]),
        eighteen,
      ),
    );
    refused(toComposition(10, new Map([['Au', 0.5]]), eighteen));
  });

  test('atoms to mass and back', () => {
    fc.assert(
      fc.property(composition, (moles) => {
        const back = molesFromMass(massFromMoles(moles, molarMass), molarMass);
        for (const [symbol, share] of moles) close(back.get(symbol)!, share);
      }),
    );
  });
});

describe('inquarting', () => {
  test('silver added brings the ratio, and never falls below none', () => {
    fc.assert(
      fc.property(grams, within(0, 500), within(0.5, 4), (gold, silver, ratio) => {
        const add = silverToAdd(gold, silver, ratio);
        expect(add).toBeGreaterThanOrEqual(0);
        if (add > 0) close((silver + add) / gold, ratio, 1e-6);
      }),
    );
  });

  test('silver that nobody knows spreads the answer from none to all that is not gold', () => {
    const { silverGrams, toAssay } = given(inquart(10, exactly(0.75), undefined));
    close(silverGrams.high, 18.75);
    close(silverGrams.low, 16.25);
    expect(toAssay).toEqual(['silver']);
    refused(inquart(10, undefined, exactly(0.2)));
  });

  test('twice the lot wants twice the silver', () => {
    fc.assert(
      fc.property(grams, within(0.01, 1), fraction, (mass, gold, silver) => {
        const held = Math.min(silver, 1 - gold);
        const one = given(inquart(mass, exactly(gold), exactly(held)));
        const two = given(inquart(2 * mass, exactly(gold), exactly(held)));
        close(two.silverGrams.best, 2 * one.silverGrams.best);
        ordered(one.silverGrams);
        ordered(one.alloyGrams);
      }),
    );
  });

  test('ratios in words', () => {
    expect(ratioBand(1).does).toContain('hardly');
    expect(ratioBand(2.5).does).toContain('parts well');
    expect(ratioBand(4).does).toContain('powder');
  });
});

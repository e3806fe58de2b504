import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { additionFor, blend, massFromMoles, molesFromMass, toComposition } from '../../../server/engine/bench/alloy';
import { fineGrams, finenessPptFromKarat, MARKS, markFor } from '../../../server/engine/bench/fineness';
import { inquart, ratioBand, silverToAdd, silverWindow } from '../../../server/engine/bench/inquart';
import { type Estimate, exactly } from '../../../server/engine/bench/result';
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

  const near = (found: Estimate, low: number, best: number, high: number): void => {
    close(found.low, low);
    close(found.best, best);
    close(found.high, high);
  };

  test('10 g of 600 gold and 100 silver by 2.5 : 1: 6 g want 15 of silver and have one', () => {
    const made = given(inquart(10, exactly(0.6), exactly(0.1)));
    near(made.silverGrams, 14, 14, 14);
    near(made.alloyGrams, 21, 21, 21);
    near(made.ratioNow!, 1 / 6, 1 / 6, 1 / 6);
    expect(made.toAssay).toEqual([]);
    // By 3 : 1 they want 18.
    near(given(inquart(10, exactly(0.6), exactly(0.1), 3)).silverGrams, 17, 17, 17);
  });

  test('10 g of 500 to 700 gold and 50 to 200 silver: the ends are the poorest gold with the most silver, and the other way', () => {
    const made = given(inquart(10, { low: 0.5, best: 0.6, high: 0.7 }, { low: 0.05, best: 0.1, high: 0.2 }));
    // 2.5 · 5 − 2, 2.5 · 6 − 1, 2.5 · 7 − 0.5; with the gold and silver that are there.
    near(made.silverGrams, 10.5, 14, 17);
    near(made.alloyGrams, 17.5, 21, 24.5);
    near(made.ratioNow!, 0.5 / 7, 1 / 6, 2 / 5);
  });

  test('10 g of 600 gold and nobody knows what else: silver from none to 4 g, as good as 2', () => {
    const made = given(inquart(10, exactly(0.6), undefined));
    near(made.silverGrams, 11, 13, 15);
    near(made.alloyGrams, 21, 21, 21);
    expect(made.ratioNow).toBeUndefined();
    // Of gold known as 500 to 700 there are 0 to 5 g.
    near(given(inquart(10, { low: 0.5, best: 0.6, high: 0.7 }, undefined)).silverGrams, 7.5, 13, 17.5);
    // A share rounded above one leaves room for none.
    near(given(inquart(10, exactly(1.001), undefined)).silverGrams, 25.025, 25.025, 25.025);
  });

  test('a lot with silver enough wants none; shares of more than all weigh no more than all', () => {
    const rich = given(inquart(10, exactly(0.1), exactly(0.9)));
    near(rich.silverGrams, 0, 0, 0);
    near(rich.alloyGrams, 10, 10, 10);
    near(given(inquart(10, exactly(0.6), exactly(0.45))).alloyGrams, 20.5, 20.5, 20.5);
  });

  test('without gold nothing is parted, and perhaps none gives no ratio', () => {
    refused(inquart(10, exactly(0), exactly(0.9)));
    const perhaps = { low: 0, best: 0.01, high: 0.02 };
    expect(given(inquart(10, perhaps, exactly(0.9))).ratioNow).toBeUndefined();
  });

  test('10 g of 750 for the jewellery assay, ISO 11426: 2.3 to 3 of silver for one of gold', () => {
    near(silverWindow(10, 0.75), 17.25, 19.875, 22.5);
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
    // Each begins at its own figure.
    const from = [0, 1.69, 1.7, 2.29, 2.3, 2.99, 3].map((ratio) => ratioBand(ratio).low);
    expect(from).toEqual([0, 0, 1.7, 1.7, 2.3, 2.3, 3]);
    const unknown = inquart(10, exactly(0.6), undefined);
    const known = inquart(10, exactly(0.6), exactly(0.1));
    const bounds = [unknown, known].map(
      (one) => 'assumed' in one && one.assumed.some(({ source }) => source === 'bounds'),
    );
    expect(bounds).toEqual([true, false]);
  });
});

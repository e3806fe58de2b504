import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  additionFor,
  blend,
  massFromMoles,
  molesFromMass,
  toComposition,
  twoAdditions,
  usualSilver,
} from '../../../server/engine/bench/alloy';
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
    const { addGrams, totalGrams } = given(additionFor(100, { low: 0.57, best: 0.585, high: 0.6 }, 0.75, 1));
    close(totalGrams.low, 160);
    close(totalGrams.best, 166);
    close(totalGrams.high, 172);
    close(addGrams.low, 60);
    close(addGrams.best, 66);
    close(addGrams.high, 72);
  });

  test('a lot that is there already wants nothing; it is said which way it goes', () => {
    close(given(additionFor(100, exactly(0.75), 0.75, 1)).totalGrams.best, 100);
    const way = (from: number, addition: number): string => {
      const found = additionFor(100, exactly(from), 0.75, addition);
      return 'assumed' in found ? found.assumed.map(({ says }) => says).join('; ') : '';
    };
    expect([way(0.5, 1), way(0.9, 0)].map((said) => said.replace(/.*; /, ''))).toEqual(['going up', 'going down']);
  });

  test("silver of carat gold as Rose's table has it, straight lines between", () => {
    for (const [gold, silver] of [
      [0.2, 0.1],
      [0.375, 0.1],
      [0.75, 0.125],
      [0.6875, 0.1125],
      [0.9167, 0.02],
      [1, 0],
    ] as const)
      close(usualSilver(gold), silver);
  });

  test('of no metal there is no blend', () => {
    const none = blend([{ grams: 0, fractions: new Map([['Au', 1]]) }]);
    expect([none.grams, none.fractions.size, blend([]).grams]).toEqual([0, 0, 0]);
  });

  test('two things to add: what was added to a lot is found from what came of it', () => {
    // 100 g with 50 g of gold and 30 g of silver, 20 g of 900 gold and 100 silver and 30 g of 200 and 500: 74 and 47 of 150 g.
    const has = new Map([
      ['Au', 50],
      ['Ag', 30],
    ]);
    const [one, other, copper] = [
      new Map([
        ['Au', 0.9],
        ['Ag', 0.1],
      ]),
      new Map([
        ['Au', 0.2],
        ['Ag', 0.5],
      ]),
      new Map([['Cu', 1]]),
    ];
    const target = (gold: number, silver: number): [string, number][] => [
      ['Au', gold / 150],
      ['Ag', silver / 150],
    ];
    const found = given(twoAdditions(100, has, target(74, 47), [one, other]));
    close(found[0], 20);
    close(found[1], 30);
    // 40 g of the first and 10 g of copper: 86 and 34 of 150 g.
    const thinned = given(twoAdditions(100, has, target(86, 34), [one, copper]));
    close(thinned[0], 40);
    close(thinned[1], 10);
    // A target that names a metal the lot does not hold.
    const zinc = given(
      twoAdditions(
        100,
        has,
        [
          ['Au', 1 / 3],
          ['Zn', 0.1],
        ],
        [copper, new Map([['Zn', 1]])],
      ),
    );
    close(zinc[0], 35);
    close(zinc[1], 15);
    // All of 100 g of copper more: a quarter gold, and nothing of the first.
    const thin = given(
      twoAdditions(
        100,
        has,
        [
          ['Au', 0.25],
          ['Ag', 0.15],
        ],
        [new Map([['Au', 1]]), copper],
      ),
    );
    close(thin[0], 0);
    close(thin[1], 100);
  });

  test('two things to add, where it cannot be', () => {
    const has = new Map([
      ['Au', 50],
      ['Ag', 30],
    ]);
    const [gold, copper, alike] = [new Map([['Au', 1]]), new Map([['Cu', 1]]), new Map([['Zn', 1]])];
    // To 585 and 250 there are 120 g with 70.2 of gold: 20.2 of gold, and 0.2 of copper out of it.
    const target: [string, number][] = [
      ['Au', 0.585],
      ['Ag', 0.25],
    ];
    const why = (makes: readonly [Map<string, number>, Map<string, number>], to = target) =>
      twoAdditions(100, has, to, makes).reason;
    expect(why([gold, copper])).toContain('taken out');
    expect(why([copper, gold])).toContain('taken out');
    expect(why([copper, alike])).toContain('alike');
    expect(why([gold, copper], [['Au', 0.585]])).toContain('two metals');
    expect(why([gold, copper], [])).toContain('two metals');
  });

  test('shares that are written as none count as none', () => {
    const [from, to] = [0.5, 0.75].map(
      (gold) =>
        new Map([
          ['Au', gold],
          ['Ag', 1 - gold],
          ['Zn', 0],
        ]),
    ) as [Map<string, number>, Map<string, number>];
    // 10 g of 500 want as much gold again.
    for (const wanted of [to, new Map([...to].filter(([symbol]) => symbol !== 'Zn'))]) {
      const { addGrams, totalGrams } = given(toComposition(10, from, wanted));
      close(totalGrams, 20);
      expect([addGrams.get('Au'), addGrams.get('Ag'), addGrams.get('Zn') ?? 0]).toEqual([10, 0, 0]);
    }
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

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  CUPEL_BODIES,
  cupelHeat,
  cupelHoldsAt,
  cupelLoad,
  expectedGain,
  oxidesToDrink,
  SIGNS,
} from '../../../server/engine/bench/cupel';
import {
  leadFor,
  leadForGold,
  leadForJewellery,
  leadForLot,
  leadForSilver,
} from '../../../server/engine/bench/cupel-lead';
import {
  beadExpected,
  beforeCupelling,
  bullionGoldLoss,
  cupelLosses,
  goldLoss,
  isUnfinished,
  silverLoss,
} from '../../../server/engine/bench/cupel-loss';
import { goldByProof, silverByCheck } from '../../../server/engine/bench/proof';
import type { Estimate, Result } from '../../../server/engine/bench/result';
import { close, fraction, given, grams, ordered, refused, within } from './properties';

const says = (result: Result<unknown>): string =>
  'assumed' in result ? result.assumed.map((one) => one.says).join('; ') : result.reason;

describe('lead', () => {
  test('more copper or more alloy never wants less lead', () => {
    fc.assert(
      fc.property(within(0.1, 50), fraction, fraction, (mass, one, other) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)];
        for (const table of [leadForSilver, leadForGold]) {
          ordered(given(table(mass, one)));
          expect(given(table(mass, more)).best).toBeGreaterThanOrEqual(given(table(mass, less)).best - 1e-9);
          expect(given(table(mass * 1.5, one)).best).toBeGreaterThan(given(table(mass, one)).best);
        }
      }),
    );
    refused(leadForSilver(1, 1.2));
    refused(leadForGold(1, Number.NaN));
    refused(leadForJewellery(400, false));
  });

  const sure = (grams: number) => ({ low: grams, best: grams, high: grams });
  const near = (found: Estimate, low: number, best: number, high: number): void => {
    close(found.low, low);
    close(found.best, best);
    close(found.high, high);
  };
  test("silver by its copper: Beringer's figures, straight lines between, and as little as 4 g for none", () => {
    for (const [copper, grams] of [
      [0.05, 6],
      [0.1, 8],
      [0.15, 9],
      [0.2, 10],
      [0.3, 12],
      [0.49, 16.75],
    ] as const) {
      near(given(leadForSilver(2, copper)), 2 * grams, 2 * grams, 2 * grams);
      expect(says(leadForSilver(2, copper))).not.toContain('under 5 %');
    }
    near(given(leadForSilver(1, 0.5)), 16, 17, 18);
    near(given(leadForSilver(1, 1)), 16, 17, 18);
    // From 6 g at 5 % down to 4 g at none, in proportion.
    near(given(leadForSilver(1, 0)), 4, 6, 6);
    near(given(leadForSilver(1, 0.025)), 5, 6, 6);
    expect(says(leadForSilver(1, 0.025))).toContain('under 5 %');
    for (const copper of [-0.1, 1.1, Number.NaN]) refused(leadForSilver(1, copper));
  });

  test("gold by its weight and its copper: Beringer's figures, and between two of them both as bounds", () => {
    for (const [sample, grams] of [
      [0.15, 1.5],
      [0.3, 3],
      [0.4, 3.5],
      [0.5, 4],
      [1, 8],
    ] as const)
      near(given(leadForGold(sample, 0)), grams, grams, grams);
    for (const [copper, fold] of [
      [0.05, 1],
      [0.2, 2],
      [0.4, 3],
      [0.6, 4],
      [0.9, 4],
      [1, 4],
    ] as const)
      near(given(leadForGold(0.5, copper)), 4 * fold, 4 * fold, 4 * fold);
    near(given(leadForGold(0.5, 0.3)), 8, 10, 12);
    near(given(leadForGold(0.5, 0.5)), 12, 14, 16);
    near(given(leadForGold(0.5, 0.1)), 4, 16 / 3, 8);
    for (const copper of [-0.1, 1.1, Number.NaN]) refused(leadForGold(1, copper));
  });

  test('outside the samples of the table it is said that they are left', () => {
    const outside = (sample: number): boolean[] =>
      ['above half a gram', 'below 0.3 g'].map((words) => says(leadForGold(sample, 0)).includes(words));
    expect([0.29, 0.3, 0.5, 0.51].map(outside)).toEqual([
      [false, true],
      [false, false],
      [false, false],
      [true, false],
    ]);
  });

  test('jewellery, ISO 11426: 4 g up to 200 mg, 6 g up to 300 mg, 4 g more with nickel', () => {
    expect([1, 200, 201, 300].map((sample) => given(leadForJewellery(sample, false)))).toEqual([4, 4, 6, 6]);
    expect([200, 300].map((sample) => given(leadForJewellery(sample, true)))).toEqual([8, 10]);
    for (const sample of [-1, 0, 301]) refused(leadForJewellery(sample, false));
  });

  test('a button with lead: its alloy alone wants lead, and its own counts for it', () => {
    // 10 g with 2 g of lead: of 8 g of alloy 1 g is copper, 12.5 %, for which 8.5 g a gram are wanted; with gold up to double.
    const button = { grams: 10, gold: 0.1, silver: 0.6, base: 0.1, lead: 0.2 };
    const advice = given(leadFor(button));
    near(advice.totalGrams, 68, 68, 136);
    near(advice.addGrams, 66, 66, 134);
    expect(says(leadFor(button))).toContain('with gold in it');
    // What gold, silver and lead leave is base metal.
    near(given(leadFor({ ...button, base: undefined })).totalGrams, 68, 68, 136);
    // The same without gold is not doubled.
    near(given(leadFor({ ...button, gold: 0, silver: 0.7 })).totalGrams, 68, 68, 68);
    near(given(leadFor({ ...button, gold: undefined, silver: 0.7 })).totalGrams, 68, 68, 68);
    expect(says(leadFor({ ...button, gold: 0, silver: 0.7 }))).not.toContain('with gold in it');
    // 0.8 g of alloy, three quarters gold of what is noble: 8 g a gram, and with a fifth of copper twice that.
    const rich = leadFor({ grams: 1, gold: 0.48, silver: 0.16, base: 0.16, lead: 0.2 });
    near(given(rich).totalGrams, 12.8, 12.8, 12.8);
    expect([given(rich).by, says(rich).includes('with gold in it')]).toEqual(['gold table', false]);
  });

  test('gold by half or less of what is noble stays with silver', () => {
    const by = (gold: number, silver: number) => given(leadFor({ grams: 1, gold, silver, base: undefined })).by;
    expect([by(0.4, 0.4), by(0.41, 0.4), by(0.3, 0.1), by(0, 0)]).toEqual([
      'silver table',
      'gold table',
      'gold table',
      'silver table',
    ]);
  });

  test('a button of lead wants none, one with more base metal than it weighs is refused, one half known is not known', () => {
    near(given(leadFor({ grams: 10, gold: 0, silver: 0, base: 0, lead: 1 })).totalGrams, 0, 0, 0);
    refused(leadFor({ grams: 10, gold: 0, silver: 0, base: 0.9, lead: 0.2 }));
    // Rounded shares of more than all leave no base metal: 4 to 6 g for a gram.
    near(given(leadFor({ grams: 1, gold: 0, silver: 1.001, base: undefined })).totalGrams, 4, 6, 6);
    for (const half of [
      { gold: 0.9, silver: undefined },
      { gold: undefined, silver: 0.9 },
    ])
      expect(given(leadFor({ grams: 1, base: undefined, ...half })).by).toBe('unknown base metal');
  });

  test('a larger lot: its own weight to begin with, up to four times; at least 16 parts for one of copper', () => {
    near(given(leadForLot(100, undefined)).totalGrams, 100, 100, 400);
    // Of 100 g with 20 g of lead 80 g want lead, and have 20.
    near(given(leadForLot(100, undefined, 20)).totalGrams, 80, 80, 320);
    near(given(leadForLot(100, undefined, 20)).addGrams, 60, 60, 300);
    near(given(leadForLot(10, undefined, 12)).totalGrams, 0, 0, 0);
    near(given(leadForLot(100, sure(2))).totalGrams, 100, 100, 400);
    near(given(leadForLot(100, { low: 5, best: 10, high: 30 })).totalGrams, 100, 160, 480);
    near(given(leadForLot(100, { low: 10, best: 10, high: 10 })).totalGrams, 160, 160, 400);
    expect(['unknown base metal', 'larger lot']).toEqual([
      given(leadForLot(100, undefined)).by,
      given(leadForLot(100, sure(2))).by,
    ]);
    for (const lot of [-1, 0, Number.NaN]) refused(leadForLot(lot, undefined));
  });

  test('of a larger lot, base metal that nobody named counts as copper at the most', () => {
    const named = { low: 5, best: 10, high: 30 };
    const unnamed = leadForLot(100, named, 0, { low: 0, best: 5, high: 10 });
    near(given(unnamed).totalGrams, 100, 160, 640);
    expect(says(unnamed)).toContain('which base metal it is nobody said');
    expect(says(unnamed)).toContain('a lot is begun with about its own weight');
    // What is named asks for no more than the own weight: then nothing but that is known.
    for (const little of [2, 6.25]) {
      const known = says(leadForLot(100, sure(little), 0, { low: 0, best: 5, high: 10 }));
      expect([known.includes('base metal not known'), known.includes('nobody said')]).toEqual([true, true]);
    }
    // Up to a hundredth of the lot wants no word.
    const word = (grams: number) => says(leadForLot(100, named, 0, sure(grams))).includes('nobody said');
    expect([0, 1, 1.01].map(word)).toEqual([false, false, true]);
    expect(says(leadForLot(100, named, 0, sure(1)))).toContain('all base metal counts as copper');
    // Without its lead the lot is 50 g, and a hundredth of it half a gram.
    expect(says(leadForLot(100, named, 50, sure(0.6)))).toContain('nobody said');
  });

  test("base metal that nobody knows: the button's own weight to start", () => {
    const advice = given(leadFor({ grams: 61, gold: undefined, silver: undefined, base: undefined }));
    expect(advice.by).toBe('unknown base metal');
    expect(advice.addGrams.best).toBe(61);
    ordered(advice.addGrams);
  });

  test('lead in the button counts', () => {
    const bare = { grams: 10, gold: 0.1, silver: 0.6, base: 0.1 };
    const leaded = given(leadFor({ ...bare, lead: 0.2 }));
    expect(leaded.addGrams.best).toBeCloseTo(leaded.totalGrams.best - 2, 9);
    expect(given(leadFor({ grams: 10, gold: 0.9, silver: 0, base: 0.1 })).by).toBe('gold table');
    // Gold 0.3, silver 0.6: what is left is the base metal.
    expect(given(leadFor({ grams: 10, gold: 0.3, silver: 0.6, base: undefined })).by).toBe('silver table');
    refused(leadFor({ grams: 0, gold: 0, silver: 0, base: 0 }));
  });
});

describe('cupel', () => {
  test('a cupel that just holds its lead is full, twice the cupel half full', () => {
    fc.assert(
      fc.property(within(5, 500), fc.constantFrom(...CUPEL_BODIES.map(({ material }) => material)), (mass, body) => {
        const { takes, source } = CUPEL_BODIES.find(({ material }) => material === body)!;
        const lead = cupelHoldsAt(mass, takes, source).value.best;
        const full = given(cupelLoad(new Map([['Pb', lead]]), mass, body));
        close(full.share.best, 1, 1e-9);
        ordered(full.share);
        close(given(cupelLoad(new Map([['Pb', lead]]), 2 * mass, body)).share.best, 0.5, 1e-9);
      }),
    );
  });

  test('verdicts and number of cupels', () => {
    const load = (lead: number) => given(cupelLoad(new Map([['Pb', lead]]), 40, 'bone-ash'));
    expect(load(20).verdict).toBe('fits');
    expect(load(35).verdict).toBe('nearly full');
    expect(load(40).verdict).toBe('may be too much');
    expect(load(60).verdict).toBe('too much');
    expect([20, 35, 60, 100].map((lead) => load(lead).cupels)).toEqual([1, 2, 2, 3]);
    refused(cupelLoad(new Map([['Pb', 1]]), 40, 'clay'));
    refused(cupelLoad(new Map([['W', 1]]), 40, 'cement'));
    refused(cupelLoad(new Map([['Pb', 1]]), 0, 'cement'));
  });

  test('base metal is drunk as its oxide, and what fumes may stay out', () => {
    close(given(oxidesToDrink(new Map([['Cu', 10]]))).best, 12.5177, 1e-4);
    expect(given(oxidesToDrink(new Map([['Zn', 10]]))).low).toBe(0);
    const gain = given(expectedGain(new Map([['Pb', 100]]), { low: 0, best: 0, high: 0 }));
    ordered(gain);
    close(gain.high, 107.7215, 1e-4);
  });

  test('heat by stage', () => {
    expect(cupelHeat('opening', 800).value.verdict).toBe('too cold');
    expect(cupelHeat('driving', 820).value.verdict).toBe('right');
    expect(cupelHeat('finish', 1100).value.verdict).toBe('too hot');
  });

  test('signs say what they mean', () => {
    for (const { sign, means, source } of SIGNS) expect([sign, means, source].every((each) => each !== '')).toBe(true);
  });
});

describe('losses', () => {
  test('more silver loses a smaller share and more of it; more lead, copper or heat loses more', () => {
    fc.assert(
      fc.property(within(12.5, 600), within(10, 50), within(0, 0.1), (silverMilligrams, leadGrams, copperGrams) => {
        const lost = (more: object): number =>
          given(silverLoss({ silverMilligrams, leadGrams, copperGrams, ...more })).best;
        const once = lost({});
        ordered(given(silverLoss({ silverMilligrams, leadGrams, copperGrams })));
        const plain = (silver: number) => given(silverLoss({ silverMilligrams: silver, leadGrams })).best;
        expect(plain(silverMilligrams * 1.2)).toBeLessThanOrEqual(plain(silverMilligrams) + 1e-12);
        expect(plain(silverMilligrams * 1.2) * 1.2).toBeGreaterThanOrEqual(plain(silverMilligrams));
        expect(lost({ leadGrams: leadGrams * 1.2 })).toBeGreaterThanOrEqual(once);
        expect(lost({ copperGrams: copperGrams + 0.1 })).toBeGreaterThanOrEqual(once);
        expect(lost({ heat: 'clear yellow' })).toBeGreaterThan(once);
        expect(lost({ heat: { celsius: 950 } })).toBeGreaterThan(lost({ heat: { celsius: 850 } }));
      }),
    );
  });

  test('no figure from the trials outside of them, but a wide range for larger lots', () => {
    refused(silverLoss({ silverMilligrams: 5000, leadGrams: 20 }));
    refused(silverLoss({ silverMilligrams: 100, leadGrams: 100 }));
    refused(silverLoss({ silverMilligrams: 100, leadGrams: 20, heat: { celsius: 1200 } }));
    refused(bullionGoldLoss(0.1));
    refused(goldLoss({ goldMilligrams: 0 }));
    expect(given(cupelLosses({ goldGrams: 20, silverGrams: 30, leadGrams: 200 })).by).toBe('larger lots');
    expect(given(cupelLosses({ goldGrams: 0.2, silverGrams: 0.5, leadGrams: 20 })).by).toBe('trials');
    refused(cupelLosses({ goldGrams: 0, silverGrams: 0, leadGrams: 20 }));
  });

  test('silver protects gold', () => {
    const loss = (silverMilligrams: number): number => given(goldLoss({ goldMilligrams: 100, silverMilligrams })).best;
    expect(loss(0)).toBeGreaterThan(loss(200));
    expect(loss(200)).toBeGreaterThan(loss(250));
    expect(given(goldLoss({ goldMilligrams: 100, veryHot: true })).best).toBeGreaterThan(loss(0));
  });

  test('bead and what stays in the cupel are gold, silver and a trace of lead', () => {
    fc.assert(
      fc.property(within(0.001, 40), within(0.001, 80), within(5, 400), (goldGrams, silverGrams, leadGrams) => {
        const found = given(beadExpected({ goldGrams, silverGrams, leadGrams }));
        for (const each of [found.beadGrams, found.goldInCupelGrams, found.silverInCupelGrams]) ordered(each);
        const all = found.beadGrams.best * (1 - 0.0005) + found.goldInCupelGrams.best + found.silverInCupelGrams.best;
        close(all, goldGrams + silverGrams, 1e-6);
        expect(isUnfinished(found.beadGrams.best, found)).toBe(false);
        expect(isUnfinished(1.01 * found.beadGrams.high, found)).toBe(true);
      }),
    );
  });

  test('back from the bead: what was in the button lies within the bounds', () => {
    fc.assert(
      fc.property(within(1, 40), within(1, 80), within(20, 400), (goldGrams, silverGrams, leadGrams) => {
        const { beadGrams } = given(beadExpected({ goldGrams, silverGrams, leadGrams }));
        const whole = goldGrams + silverGrams;
        const buttonGrams = 2 * whole;
        const known = goldGrams / whole;
        const back = given(beforeCupelling(buttonGrams, beadGrams.best, leadGrams, known));
        ordered(back.goldSilverGrams);
        ordered(back.removedGrams);
        expect(back.goldSilverGrams.low).toBeLessThanOrEqual(whole);
        expect(back.goldSilverGrams.high).toBeGreaterThanOrEqual(whole);
        close(back.goldSilverGrams.best, whole, 1e-3);
        const blind = given(beforeCupelling(buttonGrams, beadGrams.best, leadGrams));
        expect(blind.goldSilverGrams.low).toBeLessThanOrEqual(whole);
        expect(blind.goldSilverGrams.high).toBeGreaterThanOrEqual(whole * 0.999);
      }),
    );
    refused(beforeCupelling(10, 11, 20));
    refused(beforeCupelling(10, 0, 20));
  });
});

describe('checks', () => {
  test('a check that loses nothing corrects nothing, and one that loses puts the fineness up', () => {
    fc.assert(
      fc.property(grams, fraction, within(0, 0.05), (sample, fine, lost) => {
        const bead = sample * fine;
        close(given(silverByCheck(sample, [bead], 1, [1, 1])), 1000 * fine, 1e-6);
        expect(given(silverByCheck(sample, [bead], 1, [1 - lost]))).toBeGreaterThanOrEqual(1000 * fine - 1e-6);
        close(given(goldByProof(sample, bead, [{ taken: 1, purity: 1, cornet: 1 }])), 1000 * fine, 1e-6);
      }),
    );
    // By hand: the checks lost 0.01 and 0.02 of 1, so 0.015 goes on to the mean bead of 0.905.
    close(given(silverByCheck(1, [0.9, 0.91], 1, [0.99, 0.98])), 920);
    close(given(silverByCheck(2, [1.8, 1.82], 1, [0.99, 0.98])), 912.5);
    // Proofs of 500 at 999.9 and 400: 0.1 too much and 0.3 too little are found, so 0.1 goes on to a cornet of 450.
    const proofs = [
      { taken: 500, purity: 0.9999, cornet: 500.05 },
      { taken: 400, purity: 1, cornet: 399.7 },
    ];
    close(given(goldByProof(500, 450, proofs)), 900.2);
    const told = [1, 2].map((count) => says(goldByProof(500, 450, proofs.slice(0, count))).includes('one check only'));
    expect(told).toEqual([true, false]);
    refused(silverByCheck(1, [1], 1, []));
    refused(silverByCheck(0, [1], 1, [1]));
    refused(silverByCheck(1, [], 1, [1]));
    refused(goldByProof(1, 1, []));
    refused(goldByProof(0, 1, [{ taken: 1, purity: 1, cornet: 1 }]));
  });
});

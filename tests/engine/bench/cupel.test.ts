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
import { leadFor, leadForGold, leadForJewellery, leadForSilver } from '../../../server/engine/bench/cupel-lead';
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
import { close, fraction, given, grams, ordered, refused, within } from './properties';

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
    refused(silverByCheck(1, [], 1, [1]));
    refused(goldByProof(1, 1, []));
    refused(goldByProof(0, 1, [{ taken: 1, purity: 1, cornet: 1 }]));
  });
});

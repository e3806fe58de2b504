/**
 * Aqua regia by the mole, worked by hand with IUPAC atomic weights: HCl 36.458, HNO3 63.012, Au 196.96657, Ag 107.8682, AgCl 143.3182 g; a mole
 * of gas fills 24.055 L at 20 °C and 101.325 kPa.
 */
import { describe, expect, test } from 'vitest';
import { acidPerGram, aquaRegia, chlorideHeld, goldBack } from '../../../server/engine/bench/aqua-regia';
import { type Estimate, exactly } from '../../../server/engine/bench/result';
import { close, given, refused } from './properties';

const near = (found: Estimate, low: number, best: number, high: number): void => {
  close(found.low, low, 1e-4);
  close(found.best, best, 1e-4);
  close(found.high, high, 1e-4);
};

describe('aqua regia', () => {
  test('a mole of gold takes four of hydrochloric and one of nitric acid, and gives one of NO or three of NO2', () => {
    const made = given(aquaRegia(new Map([['Au', exactly(196.96657)]])));
    // 145.832 g, 1.1 to 2.3 times; 63.012 g, once to three times.
    near(made.hydrochloricGrams, 160.4152, 247.9144, 335.4136);
    near(made.nitricGrams, 63.012, 94.518, 189.036);
    near(made.gasLitres, 24.055, 36.0825, 72.165);
    // Each litre of gas is thinned to 5 ppm in 200 m³.
    near(made.airCubicMetres, 4811, 7216.5, 14_433);
    near(made.chlorideGrams, 0, 0, 0);
  });

  test('of silver a mole stays as chloride; of copper, lead, palladium and platinum each takes its own', () => {
    const silver = given(aquaRegia(new Map([['Ag', exactly(107.8682)]])));
    near(silver.chlorideGrams, 143.3182, 143.3182, 143.3182);
    // Chloride and electrons for a mole: HCl 36.458 each, HNO3 21.004 each.
    for (const [metal, grams, chloride, electrons] of [
      ['Ag', 107.8682, 1, 1],
      ['Cu', 63.546, 2, 2],
      ['Pb', 207.2, 2, 2],
      ['Pd', 106.42, 4, 2],
      ['Pt', 195.084, 6, 4],
    ] as const) {
      const { hydrochloric, nitric } = acidPerGram(metal)!;
      close(hydrochloric, (36.458 * chloride) / grams, 1e-4);
      close(nitric, (21.004 * electrons) / grams, 1e-4);
    }
    expect(acidPerGram('Zn')).toBeUndefined();
    refused(aquaRegia(new Map([['Zn', exactly(1)]])));
  });

  test('metals add up, and so do the ends of what is known of them', () => {
    const made = given(
      aquaRegia(
        new Map([
          ['Au', { low: 0, best: 196.96657, high: 2 * 196.96657 }],
          ['Ag', exactly(107.8682)],
        ]),
      ),
    );
    // One mole of chloride, five, nine; one of electrons, four, seven.
    near(made.hydrochloricGrams, 1.1 * 36.458, 1.7 * 5 * 36.458, 2.3 * 9 * 36.458);
    near(made.nitricGrams, 21.004, 1.5 * 4 * 21.004, 3 * 7 * 21.004);
  });

  test('gold and silver hold three and one of chloride', () => {
    close(chlorideHeld(196.96657, 0).value, 3 * 36.458, 1e-4);
    close(chlorideHeld(0, 107.8682).value, 36.458, 1e-4);
    close(chlorideHeld(196.96657, 2 * 107.8682).value, 5 * 36.458, 1e-4);
  });

  test('a mole of gold is thrown down by three of copperas, 3/4 of metabisulphite or 3/2 of oxalic acid, and up to half over', () => {
    const grams = new Map(goldBack(exactly(196.96657)).value.map((one) => [one.what, one.grams]));
    // FeSO4·7H2O 278.006, Na2S2O5 190.0945, H2C2O4·2H2O 126.064 g.
    near(grams.get('copperas')!, 834.018, 1.2 * 834.018, 1.5 * 834.018);
    near(grams.get('metabisulphite')!, 142.5709, 1.2 * 142.5709, 1.5 * 142.5709);
    near(grams.get('oxalic-acid')!, 189.096, 1.2 * 189.096, 1.5 * 189.096);
  });
});

/** Gold dissolved by hydrochloric and nitric acid: amounts, gas, what stays, and what cannot be. Equations are from memory, weights IUPAC. */
import { describe, expect, it } from 'vitest';
import { cautionsOf } from '../../server/advice/cautions';
import { acidPerGram, aquaRegia, goldBack } from '../../server/engine/bench/aqua-regia';
import { exactly } from '../../server/engine/bench/result';
import { hintsOf } from '../../server/features/hints';
import { planIn, wayOf, writtenIn } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const FILE = 'page.melt';
const page = (assay: string, lines: string, prefix = 'plan '): string =>
  `2026-06-22\n\nreceive G1 20.00 g\nassay G1 by fire\n  ${assay}\n\n${prefix}dissolve V1\n  in G1\n${lines}`;
const BOTH = '  add hydrochloric-acid ?\n  add nitric-acid ?\n';
const labels = (text: string): string =>
  hintsOf(pageWorkspace(text), FILE)
    .map(({ label }) => label)
    .join('\n');

describe('the acids of a gram', () => {
  // Au + HNO3 + 4 HCl = HAuCl4 + NO + 2 H2O: 4 × 36.458/196.967 and 63.012/196.967.
  it('of gold, copper and silver are those of the equation', () => {
    expect(acidPerGram('Au')!.hydrochloric).toBeCloseTo(0.7404, 3);
    expect(acidPerGram('Au')!.nitric).toBeCloseTo(0.3199, 3);
    expect(acidPerGram('Cu')!.nitric).toBeCloseTo(((2 / 3) * 63.012) / 63.546, 3);
    expect(acidPerGram('Ag')!.hydrochloric).toBeCloseTo(36.458 / 107.868, 3);
  });

  it('give a mole of NO for a mole of gold, and three of NO2 where it is strong', () => {
    const { gasLitres, chlorideGrams } = aquaRegia(new Map([['Au', exactly(196.966569)]])).value!;
    expect(gasLitres.low).toBeCloseTo(24.06, 1);
    expect(gasLitres.high).toBeCloseTo(3 * 24.06, 1);
    expect(chlorideGrams.high).toBe(0);
    expect(aquaRegia(new Map([['Ir', exactly(1)]])).value).toBeUndefined();
  });

  it('leave gold that three of ferrous iron bring down', () => {
    const [copperas, metabisulphite, oxalic] = goldBack(exactly(1)).value;
    expect(copperas!.grams.low).toBeCloseTo((3 * 278.01) / 196.967, 2);
    expect(metabisulphite!.grams.low).toBeCloseTo((0.75 * 190.09) / 196.967, 2);
    expect(oxalic!.grams.low).toBeCloseTo((1.5 * 126.06) / 196.967, 2);
  });
});

describe('a plan that names both acids', () => {
  it('has their amounts, the chloride that stays and the solution written in', () => {
    expect(writtenIn(page('Au 90.0 %, Ag 4.0 %, Cu 6.0 %', BOTH))).toEqual([
      '~60 mL',
      '~10.5 mL',
      'out ~1.06 g residue',
      'out ~70 mL solution',
    ]);
  });

  it('can be followed by hand', () => {
    const way = wayOf(page('Au 90.0 %, Ag 4.0 %, Cu 6.0 %', BOTH), 'aqua regia');
    // 18 × 0.740 + 0.8 × 0.338 + 1.2 × 1.147 = 15.0 g of HCl, 1.7 times that, in acid with 0.42 g a mL.
    expect(way).toContain('18 g × 0.740 HCl, × 0.320 HNO3');
    expect(way).toMatch(/HCl +15 g in all × 1\.7 \(1\.1\.\.2\.3\) = 25 g \(16\.\.35\)/);
    expect(way).toContain('60 mL (39..83), 0.42 g of HCl a mL');
    expect(way).toMatch(/gas +HNO3 \/ 63\.01 × 24\.1 L = 3\.8 L/);
    expect(way).toContain('equations from memory');
    expect(way).toContain('as local codes have it');
    expect(way).not.toMatch(/\bmay safely\b|\bis safe\b|\ballowed\b/);
  });

  it('cautions of chlorine and of nitrous fume', () => {
    const { job } = planIn(pageWorkspace(page('Au 90.0 %', BOTH)));
    expect(cautionsOf(job).map(({ code }) => code)).toEqual(['nitrous-fume', 'mixed-acids']);
  });

  it('says that much silver coats the metal', () => {
    expect(labels(page('Au 58.5 %, Ag 25.0 %, Cu 16.5 %', BOTH))).toContain('silver coats it: part it first');
    expect(labels(page('Au 90.0 %, Ag 4.0 %, Cu 6.0 %', BOTH))).not.toContain('coats');
  });

  it('says which acids to name where none is, and nothing where gold is not known', () => {
    expect(wayOf(page('Au 90.0 %, Ag 4.0 %', ''), 'missing')).toContain(
      '`add hydrochloric-acid ?` and `add nitric-acid ?`',
    );
    expect(writtenIn(page('Ag 4.0 %', BOTH))).toEqual([]);
    expect(wayOf(page('Ag 4.0 %', BOTH), 'missing')).toContain('How much gold is in G1 is not known');
  });
});

describe('hydrochloric acid', () => {
  // 18 g of gold hold 3 × 36.458/196.967 × 18 = 10.0 g of HCl as AuCl3, 0.8 g of silver 0.27 g: 24 mL of 36 % acid.
  it('that the chlorides alone hold more of cannot be enough, planned or done', () => {
    const lines = (millilitres: number): string =>
      `  add hydrochloric-acid ${millilitres} mL\n  add nitric-acid 8 mL\n`;
    for (const prefix of ['plan ', '']) {
      const told = (millilitres: number): string[] =>
        said(pageWorkspace(page('Au 90.0 %, Ag 4.0 %, Cu 6.0 %', lines(millilitres), prefix))).filter((one) =>
          one.startsWith('acid-short'),
        );
      expect(told(20)).toEqual(['acid-short at "20 mL"']);
      expect(told(30)).toEqual([]);
    }
  });
});

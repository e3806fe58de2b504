/** Metal that one heat left behind and the next picked up is proposed where the figures fit, with whose it was. */
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace } from '../support/workspace';

const says = (body: string): string[] =>
  findingsOf(pageWorkspace(`2026-07-01\n${body}`), 'page.melt').map(({ code, says }) => `${code}: ${says}`);

const TWO = 'receive A 50.00 g, owner high-fell\nreceive B 30.00 g, owner beck-side\n';
const heat = (name: string, lot: string, weight: string, out: string, crucible = 'C4'): string =>
  `cast ${name}, crucible ${crucible}\n  in ${lot} ${weight} g\n  out ${lot}x ${out} g bar\n`;

describe('a gain after a loss in the same crucible', () => {
  // 50.00 − 47.90 = 2.10; 32.05 − 30.00 = 2.05
  it('names the heat beside and whose metal it was, at both', () => {
    expect(says(TWO + heat('T1', 'A', '50.00', '47.90') + heat('T2', 'B', '30.00', '32.05'))).toEqual([
      'loss-above-usual: 2.10 g is missing in cast T1, more than such a step usually loses (up to 0.25 g). Cast T2, of beck-side, next in crucible C4, has 2.05 g too much: did metal stay there? See, and book it back.',
      'more-out-than-in: 2.05 g more came out of cast T2 than went in. It may be of the 2.10 g missing in cast T1, of high-fell, before it in crucible C4: did metal stay there? See, and book it back.',
    ]);
  });

  it('says nothing of owners where there is one', () => {
    const page = `receive A 50.00 g\nreceive B 30.00 g\n${heat('T1', 'A', '50.00', '47.90')}${heat('T2', 'B', '30.00', '32.05')}`;
    expect(says(page)[1]).toContain('It may be of the 2.10 g missing in cast T1, before it in crucible C4');
  });

  it('is held against what is missing beyond the usual, of metal behind flux', () => {
    // 25.0 g of metal is missing, up to 14.0 g of it usual for placer gold: the 9.0 g that come out of the next heat are most of the rest.
    const page = `receive A 280.00 g, owner high-fell\n  material placer-gold\nreceive B 150.00 g, owner beck-side\n  material placer-gold\nmelt M1, crucible C4\n  in A 280.00 g\n  add borax-glass 60 g\n  out Ax 255.00 g bar\n  out 70.0 g slag\nmelt M2, crucible C4\n  in B 150.00 g\n  add borax-glass 40 g\n  out Bx 158.00 g bar\n  out 41.0 g slag`;
    expect(says(page).filter((one) => one.includes('did metal stay'))).toHaveLength(2);
  });

  it('is not proposed where the figures do not fit, of another crucible, or with a heat between', () => {
    const loses = heat('T1', 'A', '50.00', '47.90');
    const others = [
      heat('T2', 'B', '30.00', '33.40'),
      heat('T2', 'B', '30.00', '30.60'),
      heat('T2', 'B', '30.00', '32.05', 'C5'),
      `receive D 9.00 g\n${heat('T3', 'D', '9.00', '8.99')}${heat('T2', 'B', '30.00', '32.05')}`,
    ];
    for (const other of others) expect(says(TWO + loses + other).join()).not.toContain('did metal stay');
  });
});

describe('fine metal', () => {
  const assayed = (lot: string, gold: string): string => `assay ${lot} by fire\n  Au ${gold} ±0.05 %\n`;

  it('that one heat misses and the next has too much is proposed where the weights show nothing', () => {
    // 50.00 × 0.800 − 49.90 × 0.780 = 1.078 g; 29.95 × 0.635 − 30.00 × 0.600 = 1.018 g
    const page = `${TWO}${assayed('A', '80.00')}${assayed('B', '60.00')}${heat('T1', 'A', '50.00', '49.90')}${assayed('Ax', '78.00')}${heat('T2', 'B', '30.00', '29.95')}${assayed('Bx', '63.50')}`;
    expect(says(page)).toEqual([
      expect.stringMatching(
        /^fine-missing: .* Cast T2, of beck-side, next in crucible C4, has 1\.\d+ g of gold too much/,
      ),
      expect.stringMatching(
        /^fine-gained: .* It may be of the 1\.\d+ g of gold missing in cast T1, of high-fell, before it/,
      ),
    ]);
  });

  it('that was left in a slag whose assay tells of too little comes back with the slag', () => {
    const page = `${TWO}${assayed('A', '80.00')}${assayed('B', '60.00')}melt T1\n  in A 50.00 g\n  add borax-glass 10 g\n  out Ax 49.80 g button\n  out S1 10.0 g slag\n${assayed('Ax', '74.00')}assay S1 by fire\n  Au 0.20 ±0.05 %\nmelt T2, pooled by assay\n  in B 30.00 g\n  in S1 10.0 g\n  out Bx 29.95 g button\n  out 9.9 g slag\n${assayed('Bx', '67.00')}`;
    expect(says(page).join('\n')).toContain('before it in slag S1: did metal stay there?');
  });
});

/** Metal alone through a heat: what came out against what was charged. */
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace } from '../support/workspace';

const findings = (body: string) => findingsOf(pageWorkspace(`2026-07-01\n${body}`), 'page.melt');
const says = (body: string): string[] =>
  findings(body)
    .filter(({ code }) => code === 'metal-gained')
    .map((finding) => finding.says);

const SCRAP = 'receive G 80.00 g\n  material scrap\n';

describe('metal out against metal in', () => {
  it('finds a button heavier than the scrap, which the slag hides from the whole balance', () => {
    // In 80 + 20 = 100.00, out 88 + 11 = 99: one gram short in all, but 8.00 g more metal than was charged.
    expect(
      says(`${SCRAP}melt M4\n  in G 80.00 g\n  add borax-glass 20 g\n  out H 88.00 g button\n  out V 11 g slag`),
    ).toEqual(['88.00 g of metal came out of melt M4, 8.00 g more than was charged. Slag on it, or a slip?']);
  });

  it('counts metal from the shelf, and prills with the button', () => {
    // 80 + 60 = 140.00 charged; 139.20 + 0.70 = 139.90 out
    const melt = `${SCRAP}melt Q1\n  in G 80.00 g\n  add silver 60.00 g\n  add borax-glass 5 g\n  out Q 139.20 g shot\n  out P`;
    expect(says(`${melt} 0.70 g prills\n  out V 5 g slag`)).toEqual([]);
    expect(says(`${melt} 1.70 g prills\n  out V 4 g slag`)).toHaveLength(1);
  });

  it('finds a bead heavier than the button, whatever lead went in', () => {
    const button = `${SCRAP}melt M1\n  in G 80.00 g\n  out B 79.90 g button\n`;
    expect(says(`${button}cupel K1\n  in B 79.90 g\n  add lead 80 g\n  out C 81.20 g bead`)).toEqual([
      '81.20 g of metal came out of cupel K1, 1.30 g more than was charged. Lead left in it, or a slip?',
    ]);
    expect(says(`${button}cupel K1\n  in B 79.90 g\n  add lead 80 g\n  out C 61.20 g bead`)).toEqual([]);
  });

  it('lets rounding be: one step of the scale is no gain', () => {
    expect(
      says(`${SCRAP}cast C1\n  in G 80.00 g\n  add borax-glass 2 g\n  out H 80.01 g bar\n  out V 1.9 g slag`),
    ).toEqual([]);
  });

  it('says nothing of sand, of a feed that nobody described, or where the flux itself yields metal', () => {
    const sand = 'receive G 80.00 g\n  material black-sand\n';
    const melt = (flux: string): string =>
      `melt M1\n  in G 80.00 g\n  add ${flux} 60 g\n  out H 88.00 g button\n  out V 50 g slag`;
    expect(says(`${sand}${melt('borax-glass')}`)).toEqual([]);
    expect(says(`receive G 80.00 g\n${melt('borax-glass')}`)).toEqual([]);
    expect(says(`${SCRAP}${melt('litharge')}`)).toEqual([]);
  });

  it('leaves the word to a hand-over in doubt', () => {
    expect(
      says(`${SCRAP}melt M4\n  in G 88.00 g\n  add borax-glass 20 g\n  out H 89.00 g button\n  out V 18 g slag`),
    ).toEqual([]);
  });
});

describe('metal missing behind flux', () => {
  const melt = (lines: string, feed = SCRAP): string => `${feed}melt M1\n  in G 80.00 g\n  ${lines}`;
  const all = (body: string): string[] => findings(body).map(({ code, says: words }) => `${code}: ${words}`);

  it('is found where slag and button together make up the whole weight', () => {
    // 100 in, 99.4 out; of 80.00 g metal 70.00 came back, and half of a hundredth of 80 g is usual.
    expect(all(melt('add borax-glass 20 g\n  out H 70.00 g button\n  out V 29.4 g slag'))).toEqual([
      'metal-missing: 10.00 g of metal is missing in melt M1, more than such a melt usually loses (up to 0.40 g). Prills in the slag?',
    ]);
  });

  it('is found whatever the slag weighs, or if it is still to be weighed', () => {
    for (const slag of ['20 g slag', 'slag', '? g slag'])
      expect(
        all(melt(`add borax-glass 20 g\n  out H 70.00 g button\n  out V ${slag}`)).filter(
          (one) => !one.includes('not weighed'),
        ),
        slag,
      ).toHaveLength(1);
  });

  it('is metal against metal where no slag is written, be the flux little or much', () => {
    for (const flux of ['2', '20', '60'])
      expect(all(melt(`add borax-glass ${flux} g\n  out H 70.00 g button`)), flux).toEqual([
        'loss-above-usual: 10.00 g of metal is missing in melt M1, more than such a step usually loses (up to 0.40 g).',
      ]);
    // Borax gives off half its weight: what of it leaves as gas is not in the slag, and no matter here.
    expect(all(melt('add borax 20 g\n  out H 79.70 g button'))).toEqual([]);
    expect(all(melt('add borax-glass 20 g\n  out H 88.00 g button'))).toEqual([
      'more-out-than-in: 8.00 g more metal came out of melt M1 than went in.',
    ]);
  });

  it('is held against the usual loss of the material, or the shop’s own', () => {
    const lines = 'add borax-glass 20 g\n  out H 77.00 g button\n  out V 22 g slag';
    expect(all(melt(lines))).toHaveLength(1);
    expect(all(melt(lines, 'receive G 80.00 g\n  material placer-gold\n'))).toEqual([]);
    const workspace = pageWorkspace(`2026-07-01\n${melt(lines)}`, 'limits:\n  usual loss:\n    melt scrap: 4 %\n');
    expect(findingsOf(workspace, 'page.melt')).toEqual([]);
  });

  it('counts prills, what was seen to be lost, and silver from the shelf', () => {
    const lines = 'add silver 40.00 g\n  add borax-glass 20 g\n  lost 2.00 g because spat\n  out V 20 g slag\n  out H';
    expect(all(melt(`${lines} 113.00 g shot\n  out P 4.80 g prills`))).toEqual([]);
    expect(all(melt(`${lines} 103.00 g shot\n  out P 4.80 g prills`))).toHaveLength(1);
  });

  it('is not said where the metal may be in another product, in the slag by design, or was never metal', () => {
    const button = 'out H 70.00 g button\n  out V 25 g slag';
    expect(all(melt(`add borax-glass 20 g\n  ${button}\n  out W 5 g matte`))).toEqual([]);
    expect(all(melt(`add borax-glass 14 g\n  add niter 6 g\n  ${button}`))).toEqual([]);
    expect(all(melt(`add borax-glass 20 g\n  ${button}`, 'receive G 80.00 g\n  material sweeps\n'))).toEqual([]);
  });
});

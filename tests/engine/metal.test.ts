/** Metal alone through a heat: what came out against what was charged. */
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace } from '../support/workspace';

const says = (body: string): string[] =>
  findingsOf(pageWorkspace(`2026-07-01\n${body}`), 'page.melt')
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

/** Weighing in air and in water: the density, and the gold that it leaves room for. */
import { describe, expect, it } from 'vitest';
import { hintsOf } from '../../server/features/hints';
import { pageWorkspace, said } from '../support/workspace';

const FILE = 'page.melt';

const hint = (page: string) => hintsOf(pageWorkspace(page), FILE).find(({ label }) => label.includes('g/cm³'));

const weighed = (water: string, before = ''): string =>
  `2026-06-01\nreceive A 50.00 g\n${before}assay A by density\n  air 50.00 g\n  water ${water}\n`;

describe('an assay by density', () => {
  // 750 gold with 250 silver: 16.03 measured, 15.91 additive (Rose, table XIV). 50 g of it lose 50/16.03 × 0.997 = 3.11 g in water.
  it('shows the density, and gold between the rest all silver and all copper', () => {
    const found = hint(weighed('46.89 g 20 °C'))!;
    expect(found.label).toContain('16.03 g/cm³');
    const tooltip = found.tooltip();
    expect(tooltip).toContain('50 × (0.9982 − 0.0012)/(50 − 46.89) + 0.0012');
    expect(tooltip).toMatch(/rest all silver {3}19\.3 × .* = 75\.\d %/);
    expect(tooltip).toMatch(/rest all copper {3}19\.3 × .* = 8\d\.\d %/);
    expect(tooltip).toContain('read low');
    expect(tooltip).toContain('Tanaka');
  });

  it('comes closer where silver and copper are known', () => {
    const xrf = 'assay A by xrf\n  Au 75.0 %, Ag 25.0 %, Cu 0.0 %\n';
    expect(hint(weighed('46.89 g 20 °C', xrf))!.tooltip()).toContain('100 % of the rest silver: 74..77 %');
  });

  it('says what it took for the water where no temperature is written', () => {
    expect(hint(weighed('46.89 g'))!.label).toContain('water taken at 20 °C');
    expect(hint(weighed('46.89 g 20 °C'))!.label).not.toContain('taken');
  });

  it('is not reckoned from water above air, which is a finding', () => {
    const page = weighed('51.00 g 20 °C');
    expect(hint(page)).toBeUndefined();
    expect(said(pageWorkspace(page)).length).toBe(1);
  });
});

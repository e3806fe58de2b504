/** Weighing in air and in water: the density, and the gold that it leaves room for. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { goldInQuartz } from '../../server/engine/bench/density';
import { hintsOf } from '../../server/features/hints';
import { wayOf } from '../support/plan';
import { everyMetal, pageWorkspace, said } from '../support/workspace';

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

  it('that names quartz says what the lot is: its gas, its room and its flux are told as if it had been received so', () => {
    const page = (received: string, weighed: string): string =>
      `2026-06-01\nreceive A 84.00 g\n${received}assay A by density\n  air 84.00 g\n  water 62.00 g 20 °C\n${weighed}plan melt M1\n  in A\n`;
    const [there, here] = [page('  material quartz\n', ''), page('', '  material quartz\n')];
    for (const topic of ['gas', 'crucible', 'flux', 'slag', 'expected loss'])
      expect(wayOf(here, topic), topic).toBe(wayOf(there, topic));
    expect(wayOf(here, 'gas')).toContain('× 0.4152 CO2');
    expect(wayOf(page('', ''), 'flux')).toContain('is made of is not known');
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

describe('a piece too small for its scale', () => {
  // A tenth of a gram lost in water, by a scale of tenths.
  it('is told, and no gold', () => {
    const page = '2026-06-01\nreceive A 1.20 g\nassay A by density\n  air 1.2 g\n  water 1.1 g 20 °C\n';
    const labels = hintsOf(pageWorkspace(page), FILE).map(({ label }) => label);
    expect(labels).toEqual(['too small a piece for this scale']);
  });

  it('is known closer by a finer scale', () => {
    const width = (air: string, water: string): number => {
      const page = `2026-06-01\nreceive A 31.2 g\nassay A by density\n  air ${air} g\n  water ${water} g 20 °C\n`;
      const [, low, high] = /Au ([\d.]+) % to ([\d.]+) %/.exec(hintsOf(pageWorkspace(page), FILE)[0]!.label)!;
      return Number(high) - Number(low);
    };
    expect(width('31.2', '29.3')).toBeGreaterThan(width('31.20', '29.30') + 5);
    expect(width('31.20', '29.30')).toBeGreaterThan(width('31.200', '29.300'));
  });
});

describe('gold in quartz', () => {
  const page = (received: string, assay: string, water = '18.00'): string =>
    `2026-06-01\nreceive N 20.00 g${received}\nassay N by density${assay}\n  air 20.00 g\n  water ${water} g 20 °C\n`;
  const labels = (text: string): string[] => hintsOf(pageWorkspace(text), FILE).map(({ label }) => label);

  // 9.97 g/cm³ by 17.24 of native gold at 85 % and quartz of 2.65: w = 17.24 (9.97 − 2.65)/(9.97 (17.24 − 2.65)) = 0.868, gold 0.74.
  it('is reckoned where the assay says that the metal sits in it', () => {
    const text = page('', ', material quartz');
    expect(labels(text)).toContain('9.97 g/cm³');
    expect(labels(text)).toContain('Au 57.9 % to 84.1 %');
    expect(everyMetal(pageWorkspace(text)).join('\n')).toContain('0.5790');
    expect(goldInQuartz({ low: 9.97, best: 9.97, high: 9.97 }).value?.goldFraction.best).toBeCloseTo(0.737, 2);
  });

  it('is offered beside the reading as metal where the record does not say which it is', () => {
    const text = page('', '');
    expect(labels(text)).toContain('9.97 g/cm³, in quartz Au 58..84 %');
    expect(labels(text)).toContain('Au 0 % to 21.1 %');
    expect(labels(page(', material scrap', ''))).toContain('9.97 g/cm³');
    // 16.62 is heavier than a piece with quartz to speak of.
    expect(labels(page('', '', '18.80'))).toContain('16.62 g/cm³');
  });

  it('is not spoken of where the piece was assayed as metal', () => {
    expect(labels(`${page('', '')}assay N by fire\n  Au 75 %, Ag 12.5 %, Cu 12.5 %\n`)).toContain('9.97 g/cm³');
  });

  it.each(['quartz', 'placer-gold'])('makes of a lot of %s no poor alloy', (material) => {
    const text = page(`, material ${material}`, '');
    expect(labels(text).join('\n')).not.toContain('21.1 %');
    expect(said(pageWorkspace(`${text}assay N by fire\n  Au 72 %\n`))).toEqual([]);
  });

  it('holds the fineness of another assay against quartz', () => {
    expect(said(pageWorkspace(`${page('', ', material quartz')}assay N by fire\n  Au 72 %\n`))).toEqual([]);
    expect(said(pageWorkspace(`${page('', ', material quartz')}assay N by fire\n  Au 92 %\n`))).toEqual([
      'density-against-assay at "N"',
    ]);
  });

  it('may be lighter than any metal', () => {
    expect(said(pageWorkspace(page('', ', material quartz', '15.00')))).toEqual([]);
    expect(said(pageWorkspace(page('', '', '15.00')))).toEqual(['impossible-density at "15.00 g"']);
  });

  it('is all native gold at the one end and all quartz at the other', () => {
    fc.assert(
      fc.property(fc.double({ min: 2.65, max: 14.9, noNaN: true }), (density) => {
        const { low, best, high } = goldInQuartz({ low: density, best: density, high: density }).value!.goldFraction;
        expect(low).toBeLessThanOrEqual(best);
        expect(best).toBeLessThanOrEqual(high);
        expect(high).toBeLessThanOrEqual(0.98);
        expect(low).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

/** What a fire or a salt left of a feed is reckoned as what it is: burnt sweeps as sweeps, calcine as calcine, thrown-down chloride as chloride. */
import { describe, expect, it } from 'vitest';
import { leftBy } from '../../server/engine/bench/roast';
import { findingsOf } from '../../server/rules/findings';
import { wayOf, writtenIn } from '../support/plan';
import { pageWorkspace } from '../support/workspace';

const fired = (material: string, verb: string, out: string): string => `2026-06-01
receive A 250.00 g
  material ${material}
${verb} R1
  in A 250.00 g
  out B ${out}
plan melt M1
  in B
`;

describe('what a fire leaves of a feed', () => {
  it('is burnt sweeps without their carbon, and gets collector and flux', () => {
    const page = fired('sweeps', 'burn', '181.30 g ash');
    expect(writtenIn(page).map((line) => line.split(' ')[1])).toEqual(
      expect.arrayContaining(['litharge', 'borax-glass', 'soda-ash']),
    );
    const way = wayOf(page, 'flux');
    expect(way).toContain('burnt sweeps');
    expect(way).toMatch(/SiO2 +75 g/);
  });

  it('is lemel that still has its dust and iron: more flux than a cover', () => {
    const burnt = wayOf(fired('lemel', 'burn', '230 g ash'), 'flux');
    expect(burnt).toContain('borax-glass');
    expect(burnt).toContain('soda-ash');
    expect(burnt).toContain('burnt lemel');
  });

  it('is lemel too when a magnet took its iron out after that', () => {
    const page = fired('lemel', 'burn', '230 g ash').replace(
      'plan melt M1\n  in B\n',
      'magnet G1\n  in B 230 g\n  out C 12 g other\n  out D 218 g concentrate\nplan melt M1\n  in D\n',
    );
    expect(wayOf(page, 'flux')).toContain('burnt lemel         220 g');
  });

  it('is melted with the usual loss of what it came from', () => {
    const page = fired('lemel', 'burn', '230 g ash').replace('plan melt', 'melt');
    const melted = `${page}  out C 222 g button\n`;
    expect(findingsOf(pageWorkspace(melted), 'page.melt').map(({ code }) => code)).not.toContain('loss-above-usual');
  });

  it("is a shop's own material without the carbon and the water that it is said to hold", () => {
    const own =
      'materials:\n  filters:\n    composition: { C: 60 %, SiO2: 20 %, Fe2O3: 10 % }\n    bulk density: 0.4 g/mL\n';
    const way = wayOf(fired('filters', 'burn', '100 g ash'), 'flux', own);
    // 20 of the 40 parts that do not burn.
    expect(way).toMatch(/SiO2 +50 g/);
  });

  it('is calcine: iron as ferric oxide, copper as its own, and room by its own bulk', () => {
    const page = fired('sulphide-concentrate', 'roast', '185 g');
    expect(wayOf(page, 'flux')).toContain('CuO');
    expect(wayOf(page, 'crucible')).toContain('roasted sulphide-concentrate 185 g / 1.4..2.8 = 66..130 mL');
  });

  it('weighs what its oxides weigh', () => {
    // A gram of pyrite leaves 159.69/2/119.98 g of ferric oxide.
    const { composition, kept } = leftBy('roast', [
      { what: 'FeS2', fraction: 0.8, low: 0.6, high: 0.9 },
      { what: 'SiO2', fraction: 0.2 },
    ]);
    expect(kept).toBeCloseTo(0.2 + (0.8 * 159.69) / 2 / 119.98, 3);
    expect(composition.map(({ what }) => what)).toEqual(['Fe2O3', 'SiO2']);
    expect(composition.reduce((so, { fraction }) => so + fraction, 0)).toBeCloseTo(1, 9);
  });
});

describe('what salt throws down', () => {
  const page = `2026-06-01
receive L 1.0 L solution
  expect Ag 60 g/L
drop D1
  in L 1.0 L
  add salt 45 g
  out S 78 g precipitate
  out W 1.0 L solution
plan melt M1
  in S
`;

  it('is silver chloride: soda, and the room that its powder takes', () => {
    expect(writtenIn(page).some((line) => line.startsWith('add soda-ash'))).toBe(true);
    expect(wayOf(page, 'crucible')).toContain('silver-chloride   78.0 g / 1.5..2.5 = 31..52 mL');
  });

  it('is not so where copper was added too', () => {
    const copper = page.replace('  add salt 45 g\n', '  add salt 45 g\n  add copper 20 g\n');
    expect(wayOf(copper, 'crucible')).not.toContain('silver-chloride');
  });
});

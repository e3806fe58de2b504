/** The room of a charge, cold and molten: what goes into the crucible after what has sunk, and what goes into the mould. */
import { describe, expect, it } from 'vitest';
import { slagMelt } from '../../server/engine/bench/mould';
import { slagOf } from '../../server/engine/bench/slag';
import { findingsOf } from '../../server/rules/findings';
import { wayOf, writtenIn } from '../support/plan';
import { pageWorkspace } from '../support/workspace';

const SHOP = 'crucibles:\n  C2: 1200 mL\nmoulds:\n  cone: 600 mL\n';

const plan = (feed: string, more = ''): string => `2026-06-01\n${feed}plan melt M1\n  in A\n${more}`;
const sand = (grams: number): string => `receive A ${grams} g\n  material black-sand\n`;

describe('charges one after another', () => {
  it('lie on what the others have become, and are told with that sum', () => {
    const way = wayOf(plan(sand(500)), 'crucible', SHOP);
    const [, before, of, molten, cold, charges, last] =
      /the last charge +(\d+)\/(\d+) × ([\d.]+) mL molten \+ ([\d.]+) mL \/ (\d+) = ([\d.]+) mL, of 0.75 × 1200 mL/.exec(
        way,
      )!;
    expect(Number(last)).toBeCloseTo(
      (Number(before) / Number(of)) * Number(molten) + Number(cold) / Number(charges),
      -1,
    );
    expect(Number(last)).toBeLessThanOrEqual(900);
    // One charge fewer would not go in.
    const fewer = Number(charges) - 1;
    expect(((fewer - 1) / fewer) * Number(molten) + Number(cold) / fewer).toBeGreaterThan(900);
  });

  it('are several melts where all of it is too much for the crucible even molten', () => {
    const way = wayOf(plan(sand(2400)), 'crucible', SHOP);
    expect(way).toMatch(/or 4 melts, 3 charges each in C2, one after another as they sink; pour between the melts/);
    expect(way).toMatch(/each of 4 melts +1520 mL cold, 545 mL molten/);
  });

  it('are one where it goes in at once', () => {
    expect(wayOf(plan(sand(100)), 'crucible', SHOP)).toMatch(/^C2, 1200 mL, is the smallest that fits/);
  });
});

describe('what a mould takes', () => {
  it('is the matte too', () => {
    const feed = 'receive A 200 g\n  material sulphide-concentrate\n';
    const way = wayOf(plan(feed, '  add iron ?\n'), 'mould', SHOP);
    expect(way).toMatch(/matte +[\d.]+ g?.* \/ 3\.8\.\.5 = [\d.]+/);
    expect(way).toContain('together');
  });

  it('is heavier slag the more lead it holds, without a step', () => {
    const at = (lead: number): number => slagMelt({ lead, iron: 0, salt: 0 }).best;
    expect(at(0)).toBeCloseTo(2.7, 6);
    expect(at(0.85)).toBeCloseTo(6.7, 6);
    // Just over 30 %: volumes add up.
    expect(at(0.31)).toBeCloseTo(1 / ((1 - 0.31 / 0.85) / 2.7 + 0.31 / 0.85 / 6.7), 6);
    expect(at(0.31) - at(0.29)).toBeLessThan(0.1);
  });

  it('is salt, light as it is, of silver chloride', () => {
    const way = wayOf(plan('receive A 100 g\n  material silver-chloride\n'), 'mould', SHOP);
    expect(way).toMatch(/slag +108 g \/ 1\.5\.\.2 = 54\.\.72 mL molten, salt and soda/);
  });
});

describe('silver chloride beside another feed', () => {
  const feed = 'receive C 50 g\n  material silver-chloride\nreceive A 100 g\n  material black-sand\n  expect Au 2 %\n';
  const flux = (more: string): string => wayOf(plan(feed, more), 'flux', SHOP);

  it('gets the soda that it turns to salt, beside that of the slag', () => {
    // 50 g × 105.99/(2 × 143.32)
    expect(flux('  in C\n')).toMatch(/for the chloride +0\.370 × 50\.0 g = 18\.5 g more/);
    expect(flux('')).not.toContain('chloride');
  });

  it('gets it too where soda alone is asked for', () => {
    const soda = (more: string): number => Number(/add soda-ash +([\d.]+) g/.exec(flux(more))![1]);
    const own = '  add borax-glass 41 g\n  add soda-ash ?\n';
    expect(soda(`  in C\n${own}`) - soda(own)).toBeCloseTo(18.5, -1);
  });

  it('takes no base from the slag with that soda', () => {
    const item = (name: string, what: string, massGrams: number) => ({
      material: { name, composition: [{ what, fraction: 1 }], givesOff: [] },
      massGrams,
      u: 0,
    });
    const [quartz, soda, more] = [item('q', 'SiO2', 60), item('s', 'Na2CO3', 106), item('m', 'Na2CO3', 36.98)];
    const made = slagOf([quartz, soda, more, item('c', 'AgCl', 100)]);
    expect(made.degree!.best).toBeCloseTo(slagOf([quartz, soda]).degree!.best, 3);
    // 2 × 36.98/105.99 mol of salt, 58.44 g each.
    expect(made.saltGrams).toBeCloseTo(40.8, 1);
  });
});

describe('a nugget in quartz by its density', () => {
  const page = (where: string): string => `2026-06-01
receive A 28.40 g
${where === 'lot' ? '  material quartz\n' : ''}assay A by density
  air 28.40 g, water 24.10 g 18 °C
${where === 'assay' ? '  material quartz\n' : ''}plan melt M1
  in A
`;

  it.each(['assay', 'lot'])('is charged as metal and quartz: soda for the quartz, no cover alone (%s)', (where) => {
    const way = wayOf(page(where), 'flux');
    expect(way).toMatch(/metal +20 g/);
    expect(way).toMatch(/quartz +8\.3 g/);
    expect(way).toMatch(/add soda-ash +20 g/);
    expect(wayOf(page(where), 'products')).toMatch(/button of 20 g \(19\.\.21\), and .* of slag/);
  });

  it('is metal where nothing speaks of quartz', () => {
    const heavy = page('').replace('air 28.40 g, water 24.10 g', 'air 28.40 g, water 26.60 g');
    expect(wayOf(heavy, 'products')).toContain('a button of 28.3..28.4 g');
  });
});

describe('niter beside sulphide', () => {
  const ore = (grams: number): string => `receive A ${grams} g\n  material sulphide-concentrate\n`;
  const asked = '  add niter ?\n';

  it('has the crucible half full at most', () => {
    const way = wayOf(plan(ore(100), asked), 'crucible', SHOP);
    const [, room, wanted] = /room of charge +([\d.]+)\.\.[\d.]+ mL\ncrucible +room \/ 0\.5 = (\d+)/.exec(way) ?? [way];
    expect(Number(wanted)).toBeCloseTo(2 * Number(room), -1.5);
    expect(way).toContain('at most 50 % full, cold: so much niter lifts a charge all at once');
    // Iron froths nothing.
    expect(wayOf(plan(ore(100), '  add iron ?\n'), 'crucible', SHOP)).toContain('room / 0.75');
  });

  it('is not written in where it does not go into the crucible that is named', () => {
    const named = `  crucible C2\n${asked}`;
    expect(writtenIn(plan(ore(300), named), SHOP).join()).toMatch(/~\d+ g/);
    expect(writtenIn(plan(ore(600), named), SHOP)).toEqual([]);
    const way = wayOf(plan(ore(600), named), 'sulphur', SHOP);
    // 600 g / 2.3 and 850 g / 1.1 come to 1030 mL, and half of C2 is 600 mL.
    expect(way).toMatch(
      /C2, half full, does not take that much niter: .* less than 350 g of the feed with 490 g of niter/,
    );
    expect(way).toMatch(/C2 +0.5 × 1200 mL = 600 mL/);
  });

  it('has a crucible that is named take it in parts, or another', () => {
    const way = wayOf(plan(ore(300), `  crucible C2\n${asked}`), 'crucible', SHOP);
    expect(way).toMatch(/C2 does not take it at once: a crucible of [\d.]+ mL is wanted, or \d charges in C2/);
    expect(wayOf(plan(ore(100), `  crucible C2\n${asked}`), 'crucible', SHOP)).toBe('');
  });

  it('is told of what is done: half is the most', () => {
    const done = (oxidiser: string): string =>
      `2026-06-01\n${ore(200)}melt M1, crucible C2\n  in A\n  add ${oxidiser}\n  add borax-glass 300 g\n  out S 500 g slag\n`;
    const told = (oxidiser: string): string[] =>
      findingsOf(pageWorkspace(done(oxidiser), SHOP), 'page.melt')
        .filter(({ code }) => code === 'crucible-overfull')
        .map(({ says }) => says);
    // 200/2.8 + 400/1.2 + 300/1.3 = 636 mL of 1200 mL.
    expect(told('niter 400 g')).toEqual([
      'The charge fills C2 to 53 % at least, cold; above 50 % with so much niter it froths over. Take a larger crucible, or charge it in parts.',
    ]);
    expect(told('iron 400 g')).toEqual([]);
  });
});

/** A fusion with litharge: what brings its lead button down, and niter where the ore brings down too much, as ranges with their ground. */
import { describe, expect, it } from 'vitest';
import { wayOf, writtenIn } from '../support/plan';

const lot = (material: string): string => `2026-06-01\nreceive A 50.0 g\n  material ${material}\n`;
const plan = (material: string, adds: string): string => `${lot(material)}plan melt M1\n  in A\n${adds}`;
const way = (material: string, adds: string): string => wayOf(plan(material, adds), 'lead button');

describe('a lead button', () => {
  // Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904: 4 g of flour to 75 g of litharge, 11.2 g of lead a gram.
  it('wants flour from the most to the least that a gram brings down', () => {
    const done = way('quartz', '  add litharge 75 g\n  add flour 4 g\n');
    expect(done).toMatch(/flour +4\.0 g × 11\.2 \(10\.\.12\) = 45 g \(40\.\.48\)/);
    const short = way('quartz', '  add litharge 75 g\n  add flour ?\n');
    expect(short).toContain('lead button of 40..48 g');
    expect(short).toContain('flour brings down 11.2 g lead a gram, 10 to 12');
  });

  it('is as uncertain as the iron that takes of its lead', () => {
    // 6.2 to 44 g by the bounds of the black sand's iron oxides.
    expect(way('black-sand', '  add litharge 75 g\n  add flour 6 g\n')).toMatch(
      /ferric iron takes [\d.]+ g of charcoal, which would bring down × 22\.6 = 22 g \(6\.2\.\.44\)/,
    );
    expect(way('black-sand', '  add litharge 75 g\n  add flour 6 g\n')).toMatch(/lead button +45 g \(16\.\.66\)/);
  });

  // niter = (lead by the ore − button)/4: 50 g of ore with 30 g pyrite × 11 and 5 g × 7.5 bring down 367 g; (367 − 45)/4 = 81 g.
  it('is held by niter where the ore brings down more', () => {
    const adds = '  add litharge 75 g\n  add niter ?\n';
    expect(writtenIn(plan('sulphide-concentrate', adds))[0]).toBe('~81 g');
    const text = wayOf(plan('sulphide-concentrate', adds.replace('?', '81 g')), 'lead button');
    expect(text).toMatch(/niter +81 g × 4 \(3\.2\.\.5\.3\) = 320 g \(260\.\.430\) less/);
    // What burns is not put in beside it unasked.
    expect(writtenIn(plan('sulphide-concentrate', adds)).join()).not.toContain('flour');
    expect(writtenIn(plan('sulphide-concentrate', '  add litharge ?\n  add niter ?\n'))).toEqual(
      expect.arrayContaining(['~75 g', '~81 g']),
    );
  });

  it('wants no niter of an ore that brings nothing down', () => {
    expect(writtenIn(plan('quartz', '  add litharge 75 g\n  add niter ?\n'))[0]).toBe('0 g');
  });
});

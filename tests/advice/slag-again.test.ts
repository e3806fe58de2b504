/** Slag of the journal's own melts, melted again. */
import { describe, expect, it } from 'vitest';
import { wayOf, writtenIn } from '../support/plan';

const first = (added: string, slag = 300): string =>
  `2026-06-01\nreceive A 200 g\n  material black-sand\nmelt M1\n  in A\n${added}  out B1 20 g button\n  out S1 ${slag} g slag\n`;
const FLUXED = '  add silver 20 g\n  add borax-glass 84 g\n  add soda-ash 100 g\n  add silica 40 g\n';
const LEADED =
  '  add litharge 300 g\n  add flour 12 g\n  add borax-glass 84 g\n  add soda-ash 120 g\n  add silica 60 g\n';
const again = (lines = ''): string => `plan melt M2\n  in S1\n${lines}`;

describe('slag of an own melt', () => {
  it('is made of what was charged there, wants a collector, and melts as it is', () => {
    const page = `${first(FLUXED)}${again()}`;
    expect(writtenIn(page).slice(0, 2)).toEqual(['add litharge ~450 g', 'add flour ~24 g']);
    const way = wayOf(page, 'slag again');
    expect(way).toContain('It is slag of M1, of silicate degree');
    expect(way).toContain('melts again as it is');
    expect(way).toContain('gold in such slag 0.18..0.21 g, perhaps');
    expect(way).toContain('T. K. Rose, The Metallurgy of Gold');
    expect(wayOf(page, 'flux')).toBe('');
  });
  it('is crushed slag in the crucible, and no metal', () => {
    expect(wayOf(`${first(FLUXED)}${again()}`, 'crucible')).toContain('300 g / 1.2..2.2 = 140..250 mL');
  });
  it('with much lead in it is given charcoal, and its own lead collects', () => {
    const page = `${first(LEADED, 500)}${again()}`;
    const [charcoal] = writtenIn(page);
    expect(charcoal).toMatch(/^add charcoal ~\d/);
    expect(writtenIn(page).join(' ')).not.toContain('litharge');
    expect(wayOf(page, 'expected')).not.toContain('not known');
  });
  it('is brought to the degree that is chosen', () => {
    const page = `${first(FLUXED)}${again('  add silver 6 g\n  silicate-degree 0.9\n')}`;
    expect(writtenIn(page)[0]).toMatch(/^add soda-ash ~\d/);
    expect(wayOf(page, 'slag again')).toContain('melts again as it is');
  });
  it('of a melt whose feed nobody knows is not known', () => {
    const page = `${first(FLUXED).replace('  material black-sand\n', '')}${again()}`;
    expect(wayOf(page, 'flux')).toContain('is made of is not known');
  });
});

/** Plans of drying, the magnet and other steps by hand: by earlier ones of the journal, else by what the feed is made of. */
import { describe, expect, it } from 'vitest';
import { hintsOf } from '../../server/features/hints';
import { wayOf, writtenIn } from '../support/plan';
import { pageWorkspace } from '../support/workspace';

const FILE = 'page.melt';
const labels = (page: string, workshop?: string): string[] =>
  hintsOf(pageWorkspace(page, workshop), FILE).map(({ label }) => label);

const lot = (name: string, grams: number, material = 'black-sand'): string =>
  `receive ${name} ${grams} g\n  material ${material}\n`;
const dried = (at: number, wet: number, dry: number, material?: string): string =>
  `${lot(`W-${at}`, wet, material)}dry D${at}\n  in W-${at}\n  out W-${at}d ${dry} g\n`;
const DAY = '2026-06-01\n';
const THREE = `${DAY}${dried(1, 800, 720)}${dried(2, 500, 440)}${dried(3, 1000, 890)}`;

describe('a planned drying', () => {
  it('loses what earlier ones of the same feed lost', () => {
    const page = `${THREE}${lot('N-1', 600)}plan dry D9\n  in N-1\n  out Nd-1 ?\n`;
    // 90.0, 88.0 and 89.0 % stayed: 89 % of 600 g.
    expect(writtenIn(page)).toEqual(['~534 g']);
    const way = wayOf(page, 'as before stays');
    expect(way).toContain('D2                440 g of 500 g = 88.0 %');
    expect(way).toContain('this time         88.0..90.0 % × 600 g = 528..540 g');
    expect(way).toContain('as the 3 earlier of feed of the same make');
    expect(way).toContain('Dry until it loses no more');
  });
  it('is shown what one earlier gave, and that is not written in', () => {
    const page = `${DAY}${dried(1, 800, 720)}${lot('N-1', 600)}plan dry D9\n  in N-1\n  out Nd-1 ?\n`;
    expect(writtenIn(page)).toEqual([]);
    expect(labels(page)).toContainEqual(expect.stringContaining('540 g stays, as once before'));
  });
  it('rests on no other feed, no later day and no guess', () => {
    const other = `${DAY}${dried(1, 800, 720, 'sweeps')}${lot('N-1', 600)}plan dry D9\n  in N-1\n`;
    expect(wayOf(other, 'as before stays')).toBe('');
    const later = `${DAY}${lot('N-1', 600)}plan dry D9\n  in N-1\n2026-06-02\n${dried(1, 800, 720)}`;
    expect(wayOf(later, 'as before stays')).toBe('');
    const guess = `${THREE.replaceAll(/out (\S+) /g, 'out $1 ~')}${lot('N-1', 600)}plan dry D9\n  in N-1\n`;
    expect(wayOf(guess, 'as before stays')).toBe('');
  });
  it('of a material that says its moisture loses that; else it is told what ores hold', () => {
    const shop = 'materials:\n  tarn-sand:\n    from: black-sand\n    moisture: 10 %\n';
    const page = `${DAY}${lot('N-1', 600, 'tarn-sand')}plan dry D9\n  in N-1\n  out Nd-1 ?\n`;
    expect(writtenIn(page, shop)).toEqual(['~540 g']);
    const unsaid = wayOf(`${DAY}${lot('N-1', 600)}plan dry D9\n  in N-1\n`, 'as before');
    expect(unsaid).toContain('would lose 30..90 g');
    expect(unsaid).toContain('ores carry 5 to 15 % of adherent water (A Text-book of Assaying, 1904)');
  });
});

describe('a planned magnet', () => {
  const earlier = (at: number, magnetics: number): string =>
    `${lot(`G-${at}`, 500)}magnet G${at}\n  in G-${at}\n  out G-${at}m ${magnetics} g\n  out G-${at}r ${499 - magnetics} g\n`;
  it('takes out the share that earlier ones took', () => {
    const page = `${DAY}${earlier(1, 150)}${earlier(2, 170)}${earlier(3, 160)}${lot('N-1', 1000)}plan magnet G9\n  in N-1\n  out Nm-1 ?\n  out Nr-1 ?\n`;
    expect(writtenIn(page)).toEqual(['~320 g', '~678 g']);
    const way = wayOf(page, 'as before Nm-1');
    expect(way).toContain('30.0..34.0 % × 1000 g');
    expect(way).toContain('keep them until they are assayed');
  });
  it('is told the magnetite of a sand that it never saw', () => {
    const way = wayOf(`${DAY}${lot('N-1', 1000)}plan magnet G9\n  in N-1\n`, 'as before');
    expect(way).toContain('a hand magnet takes out');
    expect(way).toContain('magnetite, iron');
  });
});

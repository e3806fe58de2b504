/** A plan that waits for a figure says which, and what it would give. */
import { describe, expect, it } from 'vitest';
import { hintsOf } from '../../server/features/hints';
import { wayOf, writtenIn } from '../support/plan';
import { pageWorkspace } from '../support/workspace';

const FILE = 'page.melt';
const page = (received: string, plan: string): string => `2026-06-01\nreceive B ${received}\nplan ${plan}\n`;
const labels = (text: string): string[] => hintsOf(pageWorkspace(text), FILE).map(({ label }) => label);

describe('a plan without figures', () => {
  it.each([
    ['melt M1, in B', 'flux, crucible, mould, button and slag'],
    ['cast C1, in B', 'crucible, mould and bar'],
    ['cupel K1, in B', 'lead, cupel and bead'],
    ['part P1, in B', 'acid, gold and silver'],
    ['roast R1, in B', 'what it loses'],
  ])('%s asks for the weight', (plan, gives) => {
    const way = wayOf(page('from own-dredge', plan), 'missing');
    expect(way).toContain('The weight of B is not written.');
    expect(way).toContain(`as in \`in B 61 g\`, to have ${gives}.`);
    expect(labels(page('from own-dredge', plan)).join()).toContain('weight not written');
    expect(wayOf(page('40.00 g', plan), 'missing')).not.toContain('is not written');
  });

  it('asks what goes in', () => {
    expect(wayOf('2026-06-01\nplan cupel K1\n', 'missing')).toContain('Nothing goes in yet.');
  });

  it('does not ask for the weight of a lot that nothing makes: that is found', () => {
    expect(wayOf('2026-06-01\nplan cupel K1, in B\n', 'missing')).toBe('');
  });

  it.each([
    ['40.00 g', 'part P1, in B', 'How much silver is in B is not known'],
    ['40.00 g', 'dissolve V1, in B', 'How much silver is in B is not known'],
    ['40.00 g, expect Ag 92 %', 'dissolve V1, in B', 'add nitric-acid ?'],
    ['40.00 g', 'drop R1, in B', 'Dissolve it first'],
    ['1.00 L', 'drop R1, in B', 'How much silver is in B is not known'],
    ['40.00 g', 'cupel K1, in B', 'so the bead is not told'],
    ['40.00 g', 'cast C1, in B', 'liquidus and the heat of the pour are not told'],
    ['40.00 g, expect Au 60 %', 'melt M1, in B, expect Au 75 %', 'liquidus and the heat of the pour are not told'],
    ['40.00 g, material platinum', 'cast C1, in B', 'Of this alloy no liquidus is reckoned'],
    ['40.00 g', 'roast R1, in B', 'material sulphide-concentrate'],
    ['40.00 g', 'retort T1, in B', 'expect Hg 60 %'],
  ])('%s, %s: asks for the metal or the make', (received, plan, asks) => {
    expect(wayOf(page(received, plan), 'missing')).toContain(asks);
  });

  it.each([
    ['40.00 g, expect Au 25 %, Ag 74 %', 'part P1, in B'],
    ['40.00 g, expect Au 60 %, Ag 30 %', 'cupel K1, in B'],
    ['40.00 g, material sulphide-concentrate', 'roast R1, in B'],
    ['40.00 g, expect Au 75 %, Ag 12.5 %, Cu 12.5 %', 'cast C1, in B'],
    ['40.00 g, expect Au 75 %, Ag 12.5 %, Cu 12.5 %', 'melt M1, in B, expect Au 80 %'],
  ])('%s, %s: asks for nothing', (received, plan) => {
    expect(wayOf(page(received, plan), 'missing')).toBe('');
  });
});

describe('a feed that loses in the heat', () => {
  const WORKSHOP =
    'materials:\n  pyrite: { composition: { FeS2: 100 % } }\n  galena: { composition: { PbS: 100 % } }\n';
  const written = (material: string, plan = 'roast R1, in B'): string[] =>
    writtenIn(page(`100.0 g, material ${material}`, plan), WORKSHOP);

  // 2 FeS2 to Fe2O3: 159.69/239.95 stays; PbS to PbO 223.2/239.3, to PbSO4 303.3/239.3 (IUPAC atomic weights).
  it('of pyrite leaves ferric oxide, two thirds of it', () => {
    expect(written('pyrite')).toEqual(['out ~67 g other']);
  });

  it('of galena loses 6.7 % to oxide, and nothing where it stays as sulphate', () => {
    expect(wayOf(page('100.0 g, material galena', 'roast R1, in B'), 'driven off', WORKSHOP)).toMatch(
      /leaves +6\.7 g \(0\.\.6\.7\)/,
    );
  });

  it('of a concentrate is a range, which its melt takes on', () => {
    const text = page('100.0 g, material sulphide-concentrate', 'roast R1, in B, out C');
    expect(writtenIn(text)[0]).toMatch(/^~7\d g$/);
    expect(wayOf(text, 'driven off')).toMatch(/stays +\d+ g \(\d+\.\.\d+\)/);
  });

  it('of amalgam leaves sponge', () => {
    expect(written('amalgam', 'retort T1, in B')[0]).toMatch(/^out ~4\d g sponge$/);
    expect(writtenIn(page('100.0 g, expect Hg 60 %', 'retort T1, in B'))[0]).toBe('out ~40 g sponge');
  });

  it('leaves what is written, and what nothing leaves', () => {
    expect(written('pyrite', 'roast R1, in B, out C 70 g')).toEqual([]);
    expect(written('quartz')).toEqual([]);
  });
});

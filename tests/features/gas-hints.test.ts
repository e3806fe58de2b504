/** Gas at the ends of lines, and a balance that gas alone may explain. */
import { describe, expect, it } from 'vitest';
import { hintsOf } from '../../server/features/hints';
import { pageWorkspace } from '../support/workspace';

const labels = (page: string): string[] => hintsOf(pageWorkspace(page), 'page.melt').map(({ label }) => label);

const melt = (flux: string): string =>
  `2026-07-01\nreceive R1 40 g\n  material scrap\nmelt M1\n  in R1 40 g\n${flux}\n  out B1 39.8 g button\n  out S 150 g slag`;

describe('gas from the fluxes', () => {
  it('is that of all that stands on the line', () => {
    // Bare borax holds up to 47.24 % water, 57 g of 120; soda ash 41.52 % carbon dioxide, 33 g of 80: together up to 90 g.
    const most = (label: string): number => Number(/(?:\.\.| )(\d+) g of gas$/.exec(label)?.[1]);
    const gas = (page: string): number[] =>
      labels(page)
        .filter((label) => label.includes('of gas'))
        .map(most);
    expect(gas(melt('  add borax 120 g\n  add soda-ash 80 g'))).toEqual([57, 33]);
    expect(gas(melt('  add borax 120 g, add soda-ash 80 g'))).toEqual([90]);
  });

  it('may be all that is missing', () => {
    // 40 + 120 + 80 − 39.8 − 150 = 50.2, of the 90 g at most that may leave
    expect(labels(melt('  add borax 120 g, add soda-ash 80 g'))).toContain('50.2 g less out, gas explains it');
  });
});

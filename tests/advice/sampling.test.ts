/** Where a planned sample of metal is taken. */
import { describe, expect, it } from 'vitest';
import { wayOf } from '../support/plan';

const bar = (assay: string): string =>
  `2026-06-01\nreceive A 84.1 g\nmelt M1\n  in A\n  out B1 84.0 g bar\n${assay === '' ? '' : `assay B1 by fire\n  ${assay}\n`}plan sample B1\n  out 2.0 g drillings\n`;

describe('a planned sample', () => {
  it('of gold, silver and copper is drilled from both faces', () => {
    const way = wayOf(bar('Au 75.00 %, Ag 12.50 %, Cu 12.50 %'), 'sampling');
    expect(way).toContain('Drill both faces, and weigh every sample');
    expect(way).toContain('The Sampling of Gold Bullions, 1913');
  });
  it('of a bar with lead, or with base metal that nobody named, is stirred and taken molten', () => {
    for (const assay of ['Au 60.00 %, Ag 30.00 %, Pb 10.00 %', 'Au 60.00 %, Ag 30.00 %', ''])
      expect(wayOf(bar(assay), 'sampling'), assay).toContain('take a pin or dip sample molten');
  });
  it('of ore says nothing of metal', () => {
    expect(wayOf('2026-06-01\nreceive A 84.1 g\n  material black-sand\nplan sample A\n', 'sampling')).toBe('');
  });
});

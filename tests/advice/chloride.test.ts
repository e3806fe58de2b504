/** Silver chloride melted to metal with soda. */
import { describe, expect, it } from 'vitest';
import { wayOf, writtenIn } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const lot = '2026-06-01\nreceive A 250.0 g\n  material silver-chloride\n';

describe('silver chloride', () => {
  // 0.7527 of it is silver; 2AgCl + Na2CO3: 0.370 g of soda for a gram (IUPAC atomic weights). Twice its bulk of soda: Beringer & Beringer 1904.
  it('planned to be melted wants soda, and gives three quarters of its weight', () => {
    const page = `${lot}plan melt M1\n  in A\n`;
    const [soda, button] = writtenIn(page);
    expect(soda).toBe('add soda-ash ~250 g');
    expect(button).toMatch(/^out ~184 g button$/);
    expect(wayOf(page, 'chloride')).toContain('soda by equation  × 0.370 = 92 g');
    expect(wayOf(page, 'chloride')).toContain('190 g of silver are in it');
    expect(wayOf(page, 'flux')).toBe('');
    expect(wayOf(page, 'collector')).toBe('');
    expect(writtenIn(page.replace('  in A\n', '  in A\n  add soda-ash ?\n'))[0]).toBe('~250 g');
  });

  it('that salt threw down is known for what it is', () => {
    const page =
      '2026-06-01\nreceive S 100.0 g\nassay S by fire\n  Ag 99.0 %\ndissolve V1\n  in S 100.0 g\n  add nitric-acid 150 mL\n  out L 1.00 L solution\ndrop R1\n  in L\n  add salt 60 g\n  out CL 130.0 g other dry\nplan melt M1\n  in CL\n';
    expect(writtenIn(page)[0]).toBe('add soda-ash ~130 g');
    expect(writtenIn(page)[1]).toMatch(/^out ~9[5-8](\.\d)? g button$/);
  });

  // 250 g with 200 g of soda: 188 g silver, 102 g salt and 108 g soda, 38 g carbon dioxide and 14 g oxygen.
  it('melted with soda is no basic slag, and loses what the reaction gives off', () => {
    const done = (slag: string): string[] =>
      said(
        pageWorkspace(
          `${lot}melt M1\n  in A\n  add soda-ash 200.0 g\n  out B 187.0 g button\n  out S ${slag} g slag\n`,
        ),
      );
    expect(done('205.0')).toEqual([]);
    expect(done('120.0').length).toBeGreaterThan(0);
  });
});

/** What was seen to be lost takes metal with it; what an assay leaves no room for is not there. */
import { describe, expect, it } from 'vitest';
import { spread } from '../../../server/engine/accounts/inexact';
import { accountsOf } from '../../../server/workspace/accounts';
import type { Workspace } from '../../../server/workspace/workspace';
import { pageWorkspace, said } from '../../support/workspace';

const page = (melt: string, assay = 'Au 60.0 %, Ag 20.0 %, Cu 20.0 %'): Workspace =>
  pageWorkspace(`2026-05-04
receive A 100.00 g
assay A by fire
  ${assay}
${melt}`);

const held = (workspace: Workspace, lot: string, metal: string): string => {
  const fine = accountsOf(workspace)
    .stock()
    .find((one) => one.lot === lot)
    ?.fine.find((one) => one.metal === metal)?.grams;
  return fine ? `${fine.value.toFixed(1)} ±${(2 * spread(fine)).toFixed(1)}` : 'nothing';
};

const account = (workspace: Workspace, metal: string) => {
  const { lines, unaccounted } = accountsOf(workspace).period(metal, undefined, undefined);
  const lost = lines.find(({ movement }) => movement === 'lost')?.grams;
  return {
    lost: lost?.value,
    u: lost && spread(lost),
    isExplained: Math.abs(unaccounted.value) <= 2 * spread(unaccounted),
  };
};

describe('what spat', () => {
  const spat = 'melt M1\n  in A 100.00 g\n  lost 10.00 g because spat\n  out B 90.00 g bar\n';

  it('is metal like the rest: the bar has the fineness of the charge, the account a line of its own', () => {
    const workspace = page(spat);
    // 100.00 g × 60 % − 10.00 g × 60 % = 54.0 g, less the usual loss of a melt.
    expect(held(workspace, 'B', 'Au')).toBe('53.9 ±0.2');
    expect(held(workspace, 'B', 'Ag')).toBe('17.9 ±0.4');
    expect(account(workspace, 'Au').lost).toBeCloseTo(6, 6);
    expect(account(workspace, 'Ag').lost).toBeCloseTo(2, 6);
    expect([account(workspace, 'Au').isExplained, account(workspace, 'Ag').isExplained]).toEqual([true, true]);
  });

  it('accuses nobody: neither metal missing nor the assay', () => {
    const fine = 'melt M1\n  in A 100.00 g\n  lost 2.00 g because spat\n  out B 98.00 g bar\n';
    expect(said(page(fine, 'Au 60.0 %, Ag 40.0 %'))).toEqual([]);
  });

  it('beside flux may be slag alone, or metal alone', () => {
    const workspace = page(
      'melt M1\n  in A 100.00 g\n  add borax-glass 20.00 g\n  lost 10.00 g because boiled over\n  out B 95.00 g bar\n  out 15.00 g slag\n',
    );
    // From 0 to a tenth of 60 g: 3 g, rectangular.
    expect(account(workspace, 'Au').lost).toBeCloseTo(3, 6);
    expect(account(workspace, 'Au').u).toBeCloseTo(6 / Math.sqrt(12), 1);
  });

  it('is a slip where it is more than was charged: no bar holds less than nothing for it', () => {
    const workspace = page('melt M1\n  in A 100.00 g\n  lost 200.00 g because spat\n  out B 90.00 g bar\n');
    expect(account(workspace, 'Au').lost).toBeUndefined();
    expect(held(workspace, 'B', 'Au')).not.toMatch(/^-/);
    expect(said(workspace).some((one) => one.startsWith('more-out-than-in'))).toBe(true);
  });

  it('of a weight that nobody wrote says nothing', () => {
    const workspace = page('melt M1\n  in A 100.00 g\n  lost because spat\n  out B 97.00 g bar\n');
    expect(account(workspace, 'Au').lost).toBeUndefined();
  });
});

it('gold that was assayed leaves room for so much silver, whatever the acid was thought to leave', () => {
  const workspace = pageWorkspace(`2026-05-04
receive A 100.00 g
assay A by xrf
  Au 60.0 %, Ag 15.0 %, Cu 25.0 %
melt M1
  in A 100.00 g
  add silver 150.00 g
  out S 250.00 g shot
part P1
  in S 250.00 g
  add nitric-acid 400 mL, add water 400 mL
  out G 60.10 g sponge
  out L 2.0 L solution
assay G by fire
  Au 99.80 ±0.20 %
`);
  const [gold, silver] = ['Au', 'Ag'].map(
    (metal) =>
      accountsOf(workspace)
        .stock()
        .find(({ lot }) => lot === 'G')!
        .fine.find((one) => one.metal === metal)!.grams!,
  );
  expect(gold!.value + silver!.value).toBeLessThanOrEqual(60.1 * 1.002);
  // Between nought and what 99.80 % less its ± leaves of 60.10 g: the acid alone would leave 0.8 g ±0.9.
  expect(silver!.value).toBeLessThan(0.15);
  expect(silver!.value + 2 * spread(silver!)).toBeLessThan(0.3);
});

it('parting leaves in the sponge what its assay says, and the rest of the silver goes into solution', () => {
  // 60.00 g of silver went in; of 30.00 g of sponge 0.20 % are silver: 0.060 g. Without the assay of silver 0 to 1 % of it stays, 0.30 g.
  const silverIn = (assay: string): number => {
    const page = pageWorkspace(
      `2026-05-04\nreceive A 100.00 g\nassay A by fire\n  Au 30.00 %, Ag 60.00 %\npart P\n  in A\n  add nitric-acid 400 mL\n  out B 30.00 g sponge annealed\n  out L 2000 mL solution\n${assay}`,
    );
    const { metals } = accountsOf(page);
    return 2000 * metals.best(metals.lineage.segmentAt('L')!).get('Ag')!.share!.value;
  };
  expect(silverIn('assay B by fire, corrected\n  Au 99.70 %, Ag 0.20 ±0.02 %')).toBeCloseTo(59.94, 6);
  expect(silverIn('')).toBeCloseTo(59.7, 6);
});

it('gold that came of it leaves as little room', () => {
  // The bar holds 99.70 % gold, so of the sponge before it no more than 0.3 % and its errors can be silver: 0.1 g rather than 0.30 g ±0.35.
  const page = pageWorkspace(
    '2026-05-04\nreceive A 100.00 g\nassay A by fire\n  Au 30.00 %, Ag 60.00 %\npart P\n  in A\n  add nitric-acid 400 mL\n  out B 30.00 g sponge annealed\ncast C\n  in B 30.00 g\n  out D 30.00 g bar\nassay D by fire, corrected\n  Au 99.70 ±0.02 %',
  );
  const { metals } = accountsOf(page);
  const silver = metals.best(metals.lineage.segmentAt('B')!).get('Ag')!.share!;
  expect(30 * silver.value).toBeLessThan(0.06);
  expect(30 * (silver.value + 2 * spread(silver))).toBeLessThan(0.12);
});

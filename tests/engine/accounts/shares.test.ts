/** Shares of a pooled lot: who brought in how much, and what that is of the lot. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sharedOut } from '../../../server/engine/accounts/shares';
import { lotMarkdown } from '../../../server/features/hover/lot';
import { onHandView } from '../../../server/features/views';
import { stockList } from '../../../server/reports/stock';
import { findingsOf } from '../../../server/rules/findings';
import { pageWorkspace } from '../../support/workspace';

const page = (pool: 'weight' | 'assay', more = ''): string => `2026-05-04
receive A 30.00 g, owner high-fell
assay A by fire
  Au 90.00 ±0.01 %, Ag 10.00 ±0.01 %
receive B 10.00 g, owner beck-side
assay B by fire
  Au 50.00 ±0.01 %, Ag 50.00 ±0.01 %
blend J1, pooled by ${pool}
  in A
  in B
  out C 40.00 g
${more}`;

const sharesOf = (text: string) =>
  stockList(pageWorkspace(text)).owners.flatMap(({ rows }) =>
    rows.map(({ lot, shares }) => [
      lot,
      ...shares.map(({ owner, percent, fine }) => [
        owner,
        percent,
        ...fine.map(({ grams }) => Number(grams.toFixed(2))),
      ]),
    ]),
  );

describe('a pooled lot', () => {
  test('by weight: each metal as the weights that were brought in', () => {
    // 27 + 5 = 32 g gold, 3 + 5 = 8 g silver, three to one.
    expect(sharesOf(page('weight'))).toEqual([['C', ['high-fell', 75, 24, 6], ['beck-side', 25, 8, 2]]]);
  });

  test('by assay: each metal as it was brought in, the lot by both together', () => {
    // Gold 27 and 5 g, silver 3 and 5 g; together 30 and 10 of 40 g.
    expect(sharesOf(page('assay'))).toEqual([['C', ['high-fell', 75, 27, 3], ['beck-side', 25, 5, 5]]]);
  });

  test('keeps its shares through later steps, parts and names', () => {
    const more = 'split Y1\n  in C\n  out C1 20.00 g, out C2 20.00 g\nrelabel C1 to D\n';
    expect(sharesOf(page('weight', more)).sort()).toEqual([
      ['C2', ['high-fell', 75, 12, 3], ['beck-side', 25, 4, 1]],
      ['D', ['high-fell', 75, 12, 3], ['beck-side', 25, 4, 1]],
    ]);
  });

  test('of which a part was given to one owner is theirs by so much less', () => {
    // Of high-fell's 30 g 20 are out: 10 of the 20 g that are left, of each metal.
    const more = 'split Y1\n  in C\n  out C1 20.00 g, owner high-fell\n  out C2 20.00 g\n';
    expect(sharesOf(page('weight', more)).find(([lot]) => lot === 'C2')).toEqual([
      'C2',
      ['high-fell', 50, 8, 2],
      ['beck-side', 50, 8, 2],
    ]);
  });

  test('joined with more is shared again, the shop’s own beside', () => {
    const more = 'receive S 40.00 g\nblend J2, pooled by weight\n  in C\n  in S\n  out E 80.00 g\n';
    expect(
      sharesOf(page('weight', more))[0]!
        .slice(1)
        .map((one) => one.slice(0, 2)),
    ).toEqual([
      ['high-fell', 37.5],
      ['beck-side', 12.5],
      ['the shop', 50],
    ]);
  });

  test('of one owner, or by assay without an assay, has no shares', () => {
    expect(sharesOf('2026-05-04\nreceive A 30.00 g, owner high-fell\n')).toEqual([['A']]);
    expect(sharesOf(page('assay').replace(/assay B[\s\S]*?50.00 ±0.01 %\n/, ''))).toEqual([['C']]);
  });

  test('says so in its hover and in the side view', () => {
    const workspace = pageWorkspace(page('weight'));
    expect(lotMarkdown(workspace, 'C')).toMatch(/Pooled by weight: high\S*fell 75\.00 %, Au 24\.0\d* g/);
    const rows = onHandView(workspace)[0]!.children[0]!.children.map(({ label, detail }) => `${label}: ${detail}`);
    expect(rows[1]).toMatch(/^beck-side: 25\.00 %, Au 8\.0\d* g, Ag 2\.0\d* g$/);
  });
});

describe('a pooled lot divided among its owners', () => {
  const told = (pool: 'weight' | 'assay', parts: string): readonly string[] =>
    findingsOf(pageWorkspace(page(pool, `split Y1\n  in C\n${parts}`)), 'page.melt').flatMap(({ code, says }) =>
      code === 'parts-against-shares' ? [says.slice(0, says.indexOf('. '))] : [],
    );

  test('as it is shared is in order, as well as weighing and assay can tell', () => {
    expect(told('weight', '  out D1 29.98 g, owner high-fell\n  out D2 9.99 g, owner beck-side\n')).toEqual([]);
    expect(told('assay', '  out D1 29.90 g, owner high-fell\n  out D2 10.08 g, owner beck-side\n')).toEqual([]);
  });

  test('by assay: what parting makes of it by its own metal', () => {
    // Of 32 g gold 27 are high-fell's, of 8 g silver 3: of the gold alone 84.4 %, not the 75 % of both together.
    const parted = (own: string, other: string) =>
      findingsOf(
        pageWorkspace(`${page('assay')}part P1
  in C
  add nitric-acid 200 mL
  out G 32.02 g
  out N 300 mL solution
assay G by fire
  Au 99.9 %, Ag 0.1 %
split Y1
  in G
  out G1 ${own} g, owner high-fell
  out G2 ${other} g, owner beck-side
`),
        'page.melt',
      ).flatMap(({ code, says }) => (code === 'parts-against-shares' ? [says.slice(0, says.indexOf('. '))] : []));
    expect(parted('27.00', '5.02')).toEqual([]);
    expect(parted('24.00', '8.02')).toEqual(['high-fell gets 24.0 g of G, and 27.0 g of it are theirs']);
  });

  test('is told where one gets more than theirs', () => {
    expect(told('weight', '  out D1 29.00 g, owner high-fell\n  out D2 11.00 g, owner beck-side\n')).toHaveLength(1);
    expect(told('weight', '  out D2 12.00 g, owner beck-side\n  out D1 28.00 g\n')).toEqual([
      'beck-side gets 12.00 g of C, and 10.00 g of it are theirs',
    ]);
  });

  test('part by part is in order: what is left is shared by what is left to each', () => {
    const first = '  out D1 20.00 g, owner high-fell\n  out D2 20.00 g\n';
    const rest = 'split Y2\n  in D2\n  out E1 10.00 g, owner high-fell\n  out E2 10.00 g, owner beck-side\n';
    expect(told('weight', first)).toEqual([]);
    expect(told('weight', first + rest)).toEqual([]);
    expect(told('weight', first + rest.replace('E1 10.00', 'E1 14.00').replace('E2 10.00', 'E2 6.00'))).toEqual([
      'high-fell gets 14.00 g of D2, and 10.00 g of it are theirs',
    ]);
  });

  test('says nothing of parts whose owner is not said, nor of one that is no owner of the pool', () => {
    expect(told('weight', '  out D1 20.00 g\n  out D2 20.00 g\n')).toEqual([]);
    expect(told('weight', '  out D1 30.00 g, owner high-fell\n  out D2 10.00 g, owner far-end\n')).toEqual([]);
  });
});

test('what is shared out adds up to the whole, and no part is a step off', () => {
  const sizes = fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: 1, maxLength: 8 });
  fc.assert(
    fc.property(sizes, fc.integer({ min: 0, max: 1_000_000 }), (parts, steps) => {
      const all = parts.reduce((sum, one) => sum + one, 0);
      const shares = new Map(parts.map((one, at) => [`owner-${at}`, one / all]));
      const out = sharedOut(steps / 1000, shares, 3);
      expect([...out.values()].reduce((sum, one) => sum + Math.round(one * 1000), 0)).toBe(steps);
      for (const [owner, share] of shares) expect(Math.abs(out.get(owner)! * 1000 - steps * share)).toBeLessThan(1.001);
    }),
  );
});

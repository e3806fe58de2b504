/** Silver lent for parting: it is not the customer's in whose metal it stands, and what repays it is the lender's. */
import { describe, expect, test } from 'vitest';
import { stockList } from '../../../server/reports/stock';
import { accountsOf } from '../../../server/workspace/accounts';
import { tollsOf } from '../../../server/workspace/selling/tolls';
import type { Workspace } from '../../../server/workspace/workspace';
import { pageWorkspace, said } from '../../support/workspace';

const WORKSHOP = 'parties:\n  ann: customer\n  bob: customer\n  lowland-supply: supplier\n';

const ANN = `2026-03-01
receive A from ann
  100.00 g
assay A by fire
  Au 60.0 %, Ag 15.0 %, Cu 25.0 %
`;

/** 15 g of silver are hers, and 150 g are lent. */
const page = (lent = ', lent', repays = ', repays'): string => `${ANN}melt Q1
  in A 100.00 g
  add silver 150.00 g${lent}
  out Q1g 250.00 g shot dry
part P1
  in Q1g 250.00 g
  add nitric-acid 400 mL, add water 400 mL
  out P1au 60.00 g sponge annealed
  out P1L 2.0 L solution
drop R1
  in P1L
  add copper, before 300.0 g, after 251.0 g
  out R1d 165.00 g sponge dry
  out R1L 2.2 L solution
assay R1L by salt
  Ag none
cast R2
  in R1d 165.00 g
  out R2r 150.00 g shot${repays}
  out R2o 15.00 g shot
`;

/** Fine silver that each owner's totals come to, to the gram. */
const silver = (workspace: Workspace, owner?: string): Readonly<Record<string, number>> =>
  Object.fromEntries(
    stockList(workspace, undefined, owner).owners.map(({ owner: name, totals }) => {
      const { sure, guessed } = totals.find(({ metal }) => metal === 'Ag') ?? {};
      return [name, Math.round((sure?.value ?? 0) + (guessed?.value ?? 0))];
    }),
  );

const tollSilver = (workspace: Workspace, customer: string): number =>
  Math.round(tollsOf(workspace, customer)[0]!.metals.find(({ metal }) => metal === 'Ag')!.owed.value);

describe('lent silver', () => {
  test('stands in the lots of a customer, and is not among what is theirs', () => {
    const workspace = pageWorkspace(page(', lent', ''), WORKSHOP);
    expect(silver(workspace)).toEqual({ ann: 15, 'lent, to come back': 150 });
    expect(silver(workspace, 'ann')).toEqual({ ann: 15, 'lent, to come back': 150 });
    expect(tollSilver(workspace, 'ann')).toBe(15);
  });

  test('is theirs where nobody said that it was lent', () => {
    expect(silver(pageWorkspace(page('', ''), WORKSHOP))).toEqual({ ann: 165 });
  });

  test('is known as the weight that was lent, however well what holds it is known', () => {
    const { owners } = stockList(pageWorkspace(page(', lent', ''), WORKSHOP));
    const lent = owners.at(-1)!.totals[0]!.sure;
    expect(lent.value).toBeCloseTo(150, 2);
    expect(Math.hypot(...lent.sizes)).toBeLessThan(0.05);
  });

  test('that was repaid is on the shelf of the shop; what repays it falls short of stands open', () => {
    const workspace = pageWorkspace(page(), WORKSHOP);
    // The shot weighs what was melted, the sponge keeps 0 to 1 % of its 165 g silver, and none is left in the solution: 150/165 of 164.2 g are 149.2 g.
    expect(silver(workspace)).toEqual({ 'the shop': 149, ann: 15, 'lent, to come back': 1 });
    expect(tollSilver(workspace, 'ann')).toBe(15);
    expect(said(workspace)).toEqual([]);
  });

  test('that names its lender is that one’s again', () => {
    const workspace = pageWorkspace(page(', lent lowland-supply', ', repays lowland-supply'), WORKSHOP);
    expect(silver(workspace)['lowland-supply']).toBe(149);
  });

  test('is given back to whom the line that lent it names, through every step between', () => {
    expect(silver(pageWorkspace(page(', lent lowland-supply'), WORKSHOP))).toEqual({
      ann: 15,
      'lent, to come back': 1,
      'lowland-supply': 149,
    });
    // The one that gives it back has the last word.
    expect(silver(pageWorkspace(page(', lent bob', ', repays lowland-supply'), WORKSHOP))['lowland-supply']).toBe(149);
  });

  test('that two lent goes to none of them unsaid', () => {
    const two = page(', lent lowland-supply').replace(
      'add silver 150.00 g',
      'add silver 50.00 g, lent bob\n  add silver 100.00 g',
    );
    expect(silver(pageWorkspace(two, WORKSHOP))['the shop']).toBe(149);
  });

  test('goes through a solution that nobody measured', () => {
    const unmeasured = page().replace('2.0 L ', '').replace('2.2 L ', '');
    expect(silver(pageWorkspace(unmeasured, WORKSHOP))).toEqual({ 'the shop': 149, ann: 15, 'lent, to come back': 1 });
  });

  test('as a lot of the shop makes nobody an owner of the heat', () => {
    const shelf = page()
      .replace('melt Q1', 'receive S from lowland-supply 150.00 g\nassay S by fire\n  Ag 99.9 %\nmelt Q1')
      .replace('add silver 150.00 g, lent', 'in S 150.00 g, lent');
    const workspace = pageWorkspace(shelf, WORKSHOP);
    expect(said(workspace)).toEqual([]);
    expect(silver(workspace)).toEqual({ 'the shop': 149, ann: 15, 'lent, to come back': 1 });
  });

  test('in heats of the shop alone is told by the account of what is lent, and stock is as it was', () => {
    const own = page(', lent', '').replace('from ann', 'from tarn-end');
    expect(silver(pageWorkspace(own, WORKSHOP))).toEqual({ 'the shop': 165 });
  });
});

describe('in a pool', () => {
  const pool = (by: 'weight' | 'assay'): string => `${ANN}receive B from bob
  100.00 g
assay B by fire
  Au 20.0 %, Ag 45.0 %, Cu 35.0 %
melt Q1, pooled by ${by}
  in A 100.00 g
  in B 100.00 g
  add silver 100.00 g, lent
  out Q1g 300.00 g shot dry
`;

  test('lent silver is shared out to nobody', () => {
    // 15 and 45 g of their own: half and half by weight, a quarter and three quarters by assay.
    for (const [by, ann, bob] of [
      ['weight', 30, 30],
      ['assay', 15, 45],
    ] as const) {
      const workspace = pageWorkspace(pool(by), WORKSHOP);
      expect([tollSilver(workspace, 'ann'), tollSilver(workspace, 'bob')]).toEqual([ann, bob]);
      const { shares } = stockList(workspace).owners[0]!.rows[0]!;
      const parts = shares.map(({ fine }) => Math.round(fine.find(({ metal }) => metal === 'Ag')!.grams));
      expect(parts).toEqual([ann, bob]);
    }
  });

  test('one owner’s heat that holds lent silver brings in what is theirs', () => {
    const lentFirst = `${ANN}receive B from bob
  100.00 g
assay B by fire
  Au 60.0 %, Ag 15.0 %, Cu 25.0 %
melt Q1
  in A 100.00 g
  add silver 100.00 g, lent
  out Q1g 200.00 g shot dry
melt Q2, pooled by weight
  in Q1g 200.00 g
  in B 100.00 g
  out Q2g 300.00 g shot dry
`;
    const { shares, stock } = accountsOf(pageWorkspace(lentFirst, WORKSHOP));
    const of = shares(stock()[0]!.segment)!.ofLot;
    // 200 g less the 100 g that are lent, and 100 g.
    expect(of.get('ann')).toBeCloseTo(0.5, 2);
    expect(tollSilver(pageWorkspace(lentFirst, WORKSHOP), 'bob')).toBe(15);
  });
});

/** Metal of several customers that was pooled: what each of them is owed, and what of it is here as theirs. */
import { describe, expect, test } from 'vitest';
import { tollSays } from '../../server/reports/selling/toll';
import { stockList } from '../../server/reports/stock';
import { findingsOf } from '../../server/rules/findings';
import { accountsOf } from '../../server/workspace/accounts';
import { billOf } from '../../server/workspace/selling/bills';
import { proceedsOf } from '../../server/workspace/selling/proceeds';
import { tollOf, tollsOf } from '../../server/workspace/selling/tolls';
import type { Workspace } from '../../server/workspace/workspace';
import { made } from '../support/documents';
import { pageWorkspace } from '../support/workspace';

const WORKSHOP = `shop: { currency: USD }
parties:
  ann: customer
  bob: customer
  quay-refiner: refiner
`;

/** 18 g and 63 g of gold: 81 g in all, in a bar of 100 g. */
const pooled = (by: 'weight' | 'assay', more = ''): string => `2026-04-01
receive A 30.00 g from ann
assay A by fire
  Au 60.0 %, Ag 40.0 %
receive B 70.00 g from bob
assay B by fire
  Au 90.0 %, Ag 10.0 %
melt M, pooled by ${by}
  in A 30.00 g
  in B 70.00 g
  out M1 100.00 g bar
${more}`;

const DIVIDED = `split D
  in M1 100.00 g
  out D1 30.00 g bar, owner ann
  out D2 70.00 g bar, owner bob
ship V1 to ann
  in D1 30.00 g
`;

const goldOf = (workspace: Workspace, customer: string) => {
  const [toll] = tollsOf(workspace, customer);
  const { received, due, returned, onHand, owed } = toll!.metals.find(({ metal }) => metal === 'Au')!;
  return [received, due, returned, onHand, owed].map((grams) => Number(grams!.value.toFixed(1)));
};

describe('a pool', () => {
  test('by weight owes each their share of all its gold, whatever gold they brought', () => {
    const workspace = pageWorkspace(pooled('weight'), WORKSHOP);
    // 30 % and 70 % of 81 g: the bar weighs as much as was charged.
    expect(goldOf(workspace, 'ann')).toEqual([18, 24.3, 0, 24.3, 24.3]);
    expect(goldOf(workspace, 'bob')).toEqual([63, 56.7, 0, 56.7, 56.7]);
  });

  test('by assay owes each the gold that they brought', () => {
    const workspace = pageWorkspace(pooled('assay'), WORKSHOP);
    expect(goldOf(workspace, 'ann')).toEqual([18, 18, 0, 18, 18]);
    expect(goldOf(workspace, 'bob')).toEqual([63, 63, 0, 63, 63]);
  });

  test('by assay makes a piece theirs by the metal that it holds', () => {
    const [toll] = tollsOf(pageWorkspace(pooled('assay'), WORKSHOP), 'ann');
    // 18 g of gold and 12 g of silver are hers, of 81 and 19 g: 30 of 100 g.
    expect(toll!.pieces.map(({ lot, isPart, grams }) => [lot, isPart, Math.round(grams!.value)])).toEqual([
      ['M1', true, 30],
    ]);
  });

  test('that is divided between its owners owes the one who got their bar nothing, and the other theirs', () => {
    const workspace = pageWorkspace(pooled('weight', DIVIDED), WORKSHOP);
    expect(goldOf(workspace, 'ann')).toEqual([18, 24.3, 24.3, 0, 0]);
    expect(goldOf(workspace, 'bob')).toEqual([63, 56.7, 0, 56.7, 56.7]);
    expect(tollSays(tollsOf(workspace, 'ann')[0]!)).toContain(
      'No metal is owed beyond what weighing and assay explain.',
    );
    expect(tollSays(tollsOf(workspace, 'bob')[0]!)[1]).toMatch(
      /^56\.7\d* g ±[\d.]+ of Au is still to be given back\.$/,
    );
  });

  test('that is divided unevenly owes the one what the other got too much', () => {
    const more = DIVIDED.replaceAll('D1 30.00', 'D1 40.00').replace('D2 70.00', 'D2 60.00');
    const workspace = pageWorkspace(pooled('weight', more), WORKSHOP);
    // 40 g of the bar instead of 30 g: 8.09 g of gold.
    expect(goldOf(workspace, 'ann').at(-1)).toBe(-8.1);
    expect(goldOf(workspace, 'bob').slice(3)).toEqual([48.6, 56.7]);
  });

  test('of which one owner gets a piece as it is leaves the rest to the other', () => {
    const workspace = pageWorkspace(pooled('weight', 'ship V1 to ann\n  in 30.00 g of M1\n'), WORKSHOP);
    expect(goldOf(workspace, 'ann')).toEqual([18, 24.3, 24.3, 0, 0]);
    expect(goldOf(workspace, 'bob')).toEqual([63, 56.7, 0, 56.7, 56.7]);
    expect(tollOf(workspace, 'V1')!.customer).toBe('ann');
  });

  test('is asked for by a shipment to any of its owners', () => {
    const more = `${DIVIDED}ship V2 to bob\n  in D2 70.00 g\n`;
    expect(tollOf(pageWorkspace(pooled('weight', more), WORKSHOP), 'V2')!.customer).toBe('bob');
    const whole = 'ship V2 to bob\n  in 70.00 g of M1\n';
    expect(tollOf(pageWorkspace(pooled('weight', whole), WORKSHOP), 'V2')!.customer).toBe('bob');
  });

  test('of which nothing tells the shares is left out, and that is said', () => {
    const workspace = pageWorkspace(pooled('assay').replace(/assay B[\s\S]*?10\.0 %\n/, ''), WORKSHOP);
    const says = tollSays(tollsOf(workspace, 'ann')[0]!);
    expect(says).toContain('How much of M1 is theirs is not known: it is left out.');
    expect(says.join()).not.toContain('No metal is owed');
  });

  test('that was sold as one brings each their part of the money, by the gold and silver that is theirs', () => {
    const workspace = pageWorkspace(
      pooled('weight', 'ship V1 to quay-refiner\n  in M1\nsettle V1\n  received 100.00 g\n  total 7000.00 USD\n'),
      WORKSHOP,
    );
    const moneyOf = (customer: string) =>
      proceedsOf(workspace, tollsOf(workspace, customer)[0]!).map(({ money, isPart }) => [
        money.amount.toString(),
        isPart,
      ]);
    expect(moneyOf('ann')).toEqual([['2100', true]]);
    expect(moneyOf('bob')).toEqual([['4900', true]]);
  });
});

describe('terms', () => {
  const TERMS = `shop: { currency: USD }
parties:
  ann:
    role: customer
    terms: { 2026-01-01: { pays: { Au: 100 %, Ag: 100 % } } }
  bob:
    role: customer
    terms: { 2026-01-01: { pays: { Au: 98 %, Ag: 90 % } } }
`;

  test('are of the share of the pool', () => {
    const workspace = pageWorkspace(pooled('weight', DIVIDED), TERMS);
    // 98 % of 70 % of 81 g.
    expect(goldOf(workspace, 'bob').slice(0, 2)).toEqual([63, 55.6]);
    const codes = (more: string) =>
      findingsOf(pageWorkspace(pooled('weight', more), TERMS), 'page.melt').map(({ code }) => code);
    // Her 30 g of the bar are neither too much nor too little for what she brought, 18 g of gold.
    expect(codes(DIVIDED)).toEqual([]);
    const short = DIVIDED.replaceAll('D1 30.00', 'D1 20.00').replace('D2 70.00', 'D2 80.00');
    // It is told where the pool was divided, and not once more where that part is given back.
    expect(codes(short)).toEqual(['parts-against-shares']);
    const much = DIVIDED.replaceAll('D1 30.00', 'D1 40.00').replace('D2 70.00', 'D2 60.00');
    expect(codes(much)).toEqual(['parts-against-shares']);
    expect(codes('ship V1 to ann\n  in 40.00 g of M1\n')).toEqual(['given-back-too-much']);
  });

  test('and a bill tells the part of what was melted together', () => {
    const workspace = pageWorkspace(
      pooled('weight', `${DIVIDED}settle V1 with ann\n  received 30.00 g, melted 30.00 g\n  Au 80.9 %, Ag 18.9 %\n`),
      TERMS,
    );
    const entry = [...workspace.pages.values()].flatMap(({ entries }) => entries).at(-1)!;
    expect(billOf(workspace, entry)!.lines.filter(({ verdict }) => verdict === 'differs')).toEqual([]);
  });
});

describe('a bill of one owner of a pool', () => {
  const quoted = (more: string) =>
    pageWorkspace(`2026-04-01\nquote Au 3110.34768 USD/ozt\n${pooled('weight', `${DIVIDED}${more}`)}`, WORKSHOP);
  const entryOf = (workspace: Workspace) => [...workspace.pages.values()].flatMap(({ entries }) => entries).at(-1)!;

  test('is theirs by the name of their piece, and of the pool', () => {
    const workspace = quoted('settle D2 with bob\n  received 70.00 g\n  charge assay 35.00 USD\n');
    expect(billOf(workspace, entryOf(workspace))!.toll.customer).toBe('bob');
    const whole = quoted('settle M1 with bob\n  received 70.00 g\n  charge assay 35.00 USD\n');
    expect(billOf(whole, entryOf(whole))!.toll.customer).toBe('bob');
  });

  test('buys their metal, and none of the others’', () => {
    for (const head of ['settle D2 with bob', 'settle D2']) {
      const workspace = quoted(`${head}\n  pays Au 98 %, price Au 3110.34768 USD/ozt\n`);
      expect(accountsOf(workspace).purchases.all.map(({ owner }) => owner)).toEqual(['bob']);
      const bought = (customer: string) => tollsOf(workspace, customer)[0]!.metals.map((one) => one.bought);
      expect([bought('ann'), bought('bob')]).toEqual([
        [false, false],
        [true, false],
      ]);
    }
  });
});

describe('reports of one owner', () => {
  test('count the part of a pool in stock, and no other part', () => {
    const of = (owner: string | undefined) => {
      const { owners } = stockList(pageWorkspace(pooled('weight'), WORKSHOP), undefined, owner);
      return owners.map(({ owner: group, partOf, totals }) => [
        group,
        partOf,
        Number(totals[0]!.sure.value.toFixed(1)),
      ]);
    };
    expect(of('ann')).toEqual([['ann + bob', 'ann', 24.3]]);
    expect(of('bob')).toEqual([['ann + bob', 'bob', 56.7]]);
    expect(of(undefined)).toEqual([['ann + bob', undefined, 81]]);
  });

  test('have the slag of a pool as the one’s who keeps theirs, and the shop’s for the other', () => {
    const terms = 'role: customer, terms: { 2026-01-01: { residues: shop } }';
    const workspace = pageWorkspace(
      pooled('weight').replace(
        'out M1 100.00 g bar',
        'add borax-glass 5 g\n  out M1 99.00 g bar\n  out M1s 6.00 g slag',
      ),
      WORKSHOP.replace('bob: customer', `bob: { ${terms} }`),
    );
    const { owners } = stockList(workspace);
    const [slag] = owners.find(({ owner }) => owner === 'the shop + ann')!.rows;
    expect(slag!.shares.map(({ owner, percent }) => [owner, percent])).toEqual([
      ['ann', 30],
      ['the shop', 70],
    ]);
    expect(owners.map(({ owner }) => owner)).toEqual(['ann + bob', 'the shop + ann']);
  });

  test('count what is left of a pool after a piece of it went to one of its owners as the rest of their shares', () => {
    const shipped = pooled('weight', '2026-04-02\nship V1 to ann\n  in 20.00 g of M1\n');
    const percents = (date?: string) => {
      const { owners } = stockList(pageWorkspace(shipped, WORKSHOP), date);
      return owners.flatMap(({ rows }) => rows.flatMap(({ shares }) => shares.map(({ percent }) => percent)));
    };
    expect(percents('2026-04-01')).toEqual([30, 70]);
    // Of the 30 g that are hers 10 g of 80 g are here still.
    expect(percents()).toEqual([12.5, 87.5]);
  });

  test('the toll statement closes, and calls no bar of another a by-product', () => {
    const { sections } = made(pageWorkspace(pooled('weight', DIVIDED), WORKSHOP), 'toll-statement', { party: 'ann' });
    expect(sections.map(({ title }) => title)).not.toContain('By-products that are not theirs');
    const fine = sections.find(({ title }) => title === 'Fine metal')!.blocks[0]!;
    const gold = fine.form === 'table' ? fine.rows[0]!.cells.map(({ text }) => text) : [];
    // 18 g, and 6.3 g more by weight; 24.30 g went back.
    expect(gold.map((text) => text.replace(/ ±.*/, ''))).toEqual([
      'gold',
      '18.00 g',
      '6.30 g',
      '24.30 g',
      '0 g',
      '0.001 g',
      'weighing and assays explain it',
    ]);
  });
});

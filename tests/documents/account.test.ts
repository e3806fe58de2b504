/** The metal account of a month agrees with the stock, whatever was asked before it. */
import { describe, expect, it } from 'vitest';
import { grams } from '../../server/documents/cells';
import { inexact } from '../../server/engine/accounts/inexact';
import { stockList } from '../../server/reports/stock';
import { lastDateOf, monthsBetween } from '../../server/text/calendar';
import { accountsOf } from '../../server/workspace/accounts';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { formed, made, ofPage, sampleWorkspace } from '../support/documents';
import { makeJournal, WORKSHOP } from '../support/journal';

const closingOf = (workspace: Workspace, month: string, line: string, metal: 'gold' | 'silver'): number => {
  const document = made(workspace, 'metal-account', { from: `${month}-01`, to: lastDateOf(month) });
  const [block] = document.sections.find(({ title }) => title === `Account of ${metal}`)!.blocks;
  const row = block?.form === 'table' ? block.rows.find(({ cells }) => cells[0]!.text === line) : undefined;
  return Number(row!.cells[1]!.figure!.value);
};

/** Lots alone: used cupels stand on a line of their own. */
const onHand = (workspace: Workspace, date: string, metal: 'Au' | 'Ag'): number =>
  accountsOf(workspace)
    .stock(date)
    .reduce((so, { fine }) => so + (fine.find((one) => one.metal === metal)?.grams?.value ?? 0), 0);

const tenYears = (): Workspace =>
  withTexts(emptyWorkspace('made'), new Map([...makeJournal(1500, 24), ['made/workshop.yaml', WORKSHOP]]));

describe.each([
  ['the sample shop', sampleWorkspace, '2026-05-04', '2026-06-30'],
  ['a made journal', tenYears, '2016-01-01', '2017-12-31'],
] as const)('of %s', (_, workspaceOf, first, last) => {
  it('what is on hand at the closing is the stock of that day, and the opening of the next month', () => {
    const workspace = workspaceOf();
    const months = monthsBetween(first, last);
    for (const [metal, symbol] of [
      ['gold', 'Au'],
      ['silver', 'Ag'],
    ] as const) {
      const closings = months.map((month) => closingOf(workspace, month, 'on hand at the closing', metal));
      const openings = months.map((month) => closingOf(workspace, month, 'on hand at the opening', metal));
      expect(openings.slice(1)).toEqual(closings.slice(0, -1));
      for (const [at, month] of months.entries())
        expect(closings[at]).toBeCloseTo(onHand(workspace, lastDateOf(month), symbol), 5);
    }
  });

  it('the stock of a day is the same, whatever days were asked for before', () => {
    const asked = workspaceOf();
    const months = monthsBetween(first, last);
    const days = [
      ...months.map(lastDateOf),
      ...months.map((month) => `${month}-11`).reverse(),
      ...months.map(lastDateOf),
    ];
    for (const day of days) stockList(asked, day);
    const shown = (workspace: Workspace, day: string): unknown =>
      stockList(workspace, day).owners.map(({ owner, rows, cupels, totals }) => [
        owner,
        [...rows, ...cupels].map(({ lot, amount, at, since }) => [lot, amount?.value.toString(), at, since]),
        totals.map(({ metal, sure, guessed, unknown }) => [
          metal,
          sure.value.toFixed(9),
          guessed.value.toFixed(9),
          unknown,
        ]),
      ]);
    for (const day of days.slice(0, 8)) expect(shown(asked, day), day).toEqual(shown(workspaceOf(), day));
  });
});

it('of a metal that no entry tells of it says so, and not that none is missing', () => {
  const workspace = ofPage('2026-05-04\nreceive A 20.00 g\ncast C1\n  in A 20.00 g\n  out B 19.98 g bar\n');
  const { facts, sections } = made(workspace, 'metal-account', { metal: 'Hg' });
  expect(facts.map(({ label, cell }) => `${label}: ${cell.text}`)).toEqual([
    'mercury left over: not known: no entry tells of it',
  ]);
  expect(sections.map(({ title }) => title)).not.toContain('Account of mercury');
});

it('finds the same on hand on a day, whatever day was asked for before it', () => {
  const days = [
    '2026-05-08',
    undefined,
    '2026-05-31',
    '2026-05-20',
    '2026-06-30',
    undefined,
    '2026-05-04',
    '2026-05-31',
  ];
  const { stock } = accountsOf(sampleWorkspace());
  for (const day of days) {
    // Nobody has asked these accounts for a day before.
    const fresh = accountsOf(sampleWorkspace()).stock(day);
    expect(stock(day).map(({ lot, since, amount }) => [lot, since, amount?.value.toString()])).toEqual(
      fresh.map(({ lot, since, amount }) => [lot, since, amount?.value.toString()]),
    );
  }
});

// 20.00 g of 90.0 % are 18.00 g of gold.
it('says grams once where the shop writes grams', () => {
  const page = '2026-05-04\nreceive A 20.00 g\nassay A by fire\n  Au 90.0 %\n';
  const text = formed('md', 'metal-account', {}, ofPage(page, 'reports:\n  unit: g\n'));
  expect(text).toMatch(/\| \*\*should be there\*\* \| \*\*18.00 g ±0.0\d\*\* \|/);
});

// Half a milligram is the least that anybody sells or owes: 0.1 mg ±0.2 may be nothing, 0.18 mg ±0.06 is something, 10 mg ±20 may be 30 mg.
it.each([
  [0.0001, 0.0002, '0 g'],
  [0.00018, 0.00006, '0.00018 g ±0.00006'],
  [0.01, 0.02, '0.01 g ±0.02'],
])('a sum of %d g ±%d is shown as %s', (value, reach, shown) => {
  expect(grams(inexact(value, reach / 2, { label: 'sum' })).text).toBe(shown);
});

it('a count is held against what the record said, not against what the count leaves in doubt', () => {
  const workspace = ofPage(`2026-07-08
receive A 100.00 g
split Y
  in A
  out B 48.20 g
  out C 51.79 g
count safe
  found B 48.15 g
  found C 51.80 g
`);
  const list = formed('md', 'stock-take', {}, workspace);
  expect(list).toContain('## Last count of safe, 2026-07-08');
  expect(list).toContain('| B | 48.20 g ±0.01 | 48.15 g ±0.01 | 0.05 g less than it left with |');
});

const soldBesideUnknown = (made: string): Workspace =>
  ofPage(
    `2026-07-08
quote Au 100.00 EUR/g
receive A 100.00 g${made}
receive B 40.00 g
assay B by fire
  Au 90.0 %
melt M1
  in A
  in B
  out M1b 139.80 g button
receive D 30.00 g
assay D by fire
  Au 90.0 %
sell D to refinery for 2600.00 EUR
`,
    'shop: { currency: EUR, labour: 30.00 EUR/h }\nparties: { refinery: refiner }',
  );

it('what may be in lots that nobody knows of is no cost', () => {
  const workspace = soldBesideUnknown('');
  expect(formed('md', 'metal-account', {}, workspace)).toContain('may be in what is not known');
  const costs = formed('md', 'trading-account', {}, workspace);
  expect(costs).toContain('or as it may be in lots and steps of which it is not known what they hold');
  expect(costs).not.toContain('| metal unaccounted for |');
});

it('a line says how much of it is guessed, and that all is', () => {
  const lines = (made: string): string => formed('md', 'metal-account', {}, soldBesideUnknown(made));
  expect(lines('\n  stamp Au 18 k')).toMatch(/\| and came in \|[^|]*\| 3 entries, 7\d g of it guessed \|/);
  const guessed = ofPage('2026-07-08\nreceive A 100.00 g\n  stamp Au 18 k\nreceive B 10.00 g\n  stamp Au 18 k\n');
  expect(formed('md', 'metal-account', {}, guessed)).toMatch(/\| and came in \|[^|]*\| 2 entries, all guessed \|/);
});

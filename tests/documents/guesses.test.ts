/** What rests on a guess has its mark wherever it is told: in grams, in a grade, in money, in sums, and in every form. */
import { describe, expect, it } from 'vitest';
import type { Choice } from '../../server/documents/choice';
import type { Cell } from '../../server/documents/model';
import { formed, made, ofPage } from '../support/documents';

const WORKSHOP = `shop: { name: Test bench, currency: USD, labour: 30.00 USD/h }
parties:
  rill: { role: customer, terms: { 2026-01-01: { pays: { Au: 98 % }, charges: { toll: 1.10 USD/g of received }, residues: shop } } }
  refinery: { role: refiner, terms: { 2026-01-01: { pays: { Au: 98 % }, charges: { melting: 45.00 USD }, days: 14 days } } }
`;
/** A is weighed roughly and assayed, B and C are stamped, D is expected; E alone is weighed and assayed. */
const PAGE = `2026-06-01
quote Au 2500.00 USD/ozt
quote Ag 30.00 USD/ozt
receive A ~60 g from beck, bought 2000.00 USD
assay A by fire
  Au 60 %, Ag 30 %
receive B 40.00 g from beck, bought 1000.00 USD
  stamp Au 14 k
receive C 50.00 g from rill, owner rill
  stamp Au 14 k
receive D 100.00 g from beck, material black-sand
  expect Au 20..30 %
receive E 30.00 g from beck, bought 900.00 USD
assay E by fire
  Au 58 %, Ag 20 %
melt M1
  in D
  add borax-glass 100 g
  out D1 26.00 g button
  out D1s 170 g slag
melt M2
  in C
  add borax-glass 5 g
  out C1 49.90 g button
  out 5 g slag
2026-06-05
discard M2.slag
ship V1 to refinery
  in B 40.00 g
  in E 30.00 g
ship V2 to refinery, insured 500 USD
  in A
2026-06-20
settle V1 with refinery
  received 70.00 g, Au 58.0 %
  pays Au 98 %, price Au 2500.00 USD/ozt
  charge melting 45.00 USD
  total 3153.03 USD
`;
const workspace = ofPage(PAGE, WORKSHOP);

/** Of all rows with that first word, or facts of that label, the cells by their heads. */
const cellsOf = (kind: string, choice: Choice, of: string): ReadonlyMap<string, Cell> => {
  const { facts, sections } = made(workspace, kind, choice);
  const found = new Map(facts.filter(({ label }) => label === of).map(({ cell }) => ['', cell]));
  for (const { blocks } of sections)
    for (const block of blocks)
      if (block.form === 'table')
        for (const { cells } of block.rows)
          if (cells[0]!.text === of)
            for (const [at, cell] of cells.entries())
              if (cell.figure && !found.has(block.columns[at]!.head)) found.set(block.columns[at]!.head, cell);
  return found;
};

const marks = (kind: string, choice: Choice, of: string, ...heads: readonly string[]): readonly string[] => {
  const cells = cellsOf(kind, choice, of);
  return heads.map((head) => `${head}: ${cells.get(head)!.text.startsWith('~')} ${cells.get(head)!.ground}`);
};

describe('has the mark of a guess', () => {
  it('the grade and the worth of slag whose metal is guessed, as its grams have', () => {
    expect(marks('trading-account', {}, 'D1s', 'gold', 'gold a tonne', 'worth at most')).toEqual([
      'gold: true guessed',
      'gold a tonne: true guessed',
      'worth at most: true guessed',
    ]);
  });

  it('the sum of what is sure and what is not, which says that it is so in part', () => {
    expect(marks('shipment', { entry: 'V1' }, 'together', 'gold')).toEqual(['gold: true guessed in part']);
    expect(marks('shipment', { entry: 'V1' }, 'worth in full', '')).toEqual([': true guessed in part']);
  });

  it('the metal of a lot that was weighed roughly, however it was assayed', () => {
    expect(marks('shipment', { entry: 'V2' }, 'A', 'gold', 'silver')).toEqual([
      'gold: true guessed',
      'silver: true guessed',
    ]);
    expect(marks('under-way', {}, 'V2', 'gold', 'worth in full', 'not covered')).toEqual([
      'gold: true guessed',
      'worth in full: true guessed',
      'not covered: true guessed',
    ]);
  });

  it("a customer's metal by a stamp, here and still to be given back", () => {
    const { sections } = made(workspace, 'toll-statement', { party: 'rill' });
    const row = sections.flatMap(({ blocks }) => blocks.flatMap((one) => (one.form === 'table' ? one.rows : [])));
    const account = row.find(({ cells }) => cells[0]!.text === 'Au')!.cells.filter(({ figure }) => figure);
    expect(account.filter(({ figure }) => Number(figure!.value) > 0).map(({ text }) => text[0])).toEqual(
      account.filter(({ figure }) => Number(figure!.value) > 0).map(() => '~'),
    );
    expect(formed('md', 'toll-statement', { party: 'rill' }, workspace)).toContain(
      '- \\~27.6 g ±1.0 of Au is still to be given back.',
    );
  });

  it('what a part of a sale brought that is told apart by a guess, and what is left of it', () => {
    expect(marks('trading-account', {}, 'B', 'brought so far', 'left over', 'of what was paid')).toEqual([
      'brought so far: true guessed',
      'left over: true guessed',
      'of what was paid: true guessed',
    ]);
  });

  it('what was thrown away, and what is left over of an account', () => {
    expect(marks('metal-account', {}, 'less thrown away', 'fine weight')).toEqual(['fine weight: true guessed']);
    expect(marks('loss-report', {}, 'thrown away: gone', 'fine weight')).toEqual(['fine weight: true guessed']);
    expect(cellsOf('metal-account', {}, 'gold left over').get('')!.text).toMatch(/^~/);
  });

  it('in every form', () => {
    expect(formed('md', 'trading-account', {}, workspace)).toMatch(/D1s.*\\~4000 g\/t _guessed_/);
    expect(formed('html', 'trading-account', {}, workspace)).toMatch(/~4000 g\/t <small>guessed<\/small>/);
    expect(formed('csv', 'trading-account', {}, workspace)).toMatch(/gold a tonne,~4000 g\/t,[0-9.]+,g\/t,,guessed/);
    expect(formed('json', 'trading-account', {}, workspace)).toMatch(
      /"text": "~4000 g\/t",\s+"value": [0-9.]+,\s+"unit": "g\/t",\s+"ground": "guessed"/,
    );
  });
});

describe('has none', () => {
  it('what is weighed and assayed', () => {
    expect(marks('shipment', { entry: 'V1' }, 'E', 'gold', 'silver')).toEqual([
      'gold: false assayed',
      'silver: false assayed',
    ]);
    expect(marks('shipment', { entry: 'V1' }, 'together', 'silver')).toEqual(['silver: false undefined']);
  });
});

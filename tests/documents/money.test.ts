/** Money in documents: a settlement in the shipment list, a customer's account in the toll statement. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Choice } from '../../server/documents/choice';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import { formed, made, ofPage } from '../support/documents';

const FOLDER = resolve(__dirname, '../../samples/selling');
const selling = withTexts(
  emptyWorkspace('selling'),
  new Map(readdirSync(FOLDER).map((name) => [name, readFileSync(join(FOLDER, name), 'utf8')])),
);

type Workspace = typeof selling;

const sectionOf = (workspace: Workspace, kind: string, choice: Choice, title: string) =>
  made(workspace, kind, choice).sections.find((one) => one.title.startsWith(title));

const rowsOf = (workspace: Workspace, kind: string, choice: Choice, title: string): string[] =>
  (sectionOf(workspace, kind, choice, title)?.blocks ?? []).flatMap((block) =>
    block.form === 'table' ? block.rows.map(({ cells }) => cells.map(({ text }) => text).join(' | ')) : [],
  );

const saysOf = (workspace: Workspace, kind: string, choice: Choice, title: string): string[] =>
  (sectionOf(workspace, kind, choice, title)?.blocks ?? []).flatMap((block) =>
    block.form === 'sentences' ? block.sentences.map(({ text }) => text) : [],
  );

describe('a shipment list', () => {
  it('holds each line of the settlement against the journal, with what it costs', () => {
    const lines = rowsOf(selling, 'shipment', { entry: 'S4' }, 'Settlement of S4');
    expect(lines.filter((line) => line.includes('differs'))).toEqual([
      'Au paid share | 98 % | 98.75 % | differs | 52.14 USD',
      'Au price | 2530.00 USD/ozt | 2572.00 USD/ozt | differs | 113.10 USD',
      // Their lines come to 6717.50; with both put right to 6883.61.
      'total | 6177.50 USD | 6883.61 USD | differs | 540.00 USD',
    ]);
    expect(lines.filter((line) => line.includes('agrees'))).toHaveLength(10);
    expect(saysOf(selling, 'shipment', { entry: 'S4' }, 'Settlement of S4')[1]).toBe(
      '3 lines differ from the journal: 706.11 USD owed.',
    );
  });

  it('works their figures through, to the total', () => {
    expect(rowsOf(selling, 'shipment', { entry: 'S1' }, 'Their figures').at(-1)).toBe('total | 8209.76 USD');
    const csv = formed('csv', 'shipment', { entry: 'S4' }, selling);
    expect(csv).toContain('540.00');
  });

  it('of what is not settled yet, or has no deal, says nothing of money', () => {
    const page = (settle: string): Workspace =>
      ofPage(
        `2026-05-04\nreceive A 20.00 g\nship V1 to quay\n  in A 20.00 g\n${settle}`,
        'parties:\n  quay: refiner\n',
      );
    const titles = (settle: string): string[] =>
      made(page(settle), 'shipment', { entry: 'V1' }).sections.map(({ title }) => title);
    expect(titles('').slice(0, 2)).toEqual(['What goes', 'Handed over']);
    expect(titles('settle V1\n  received 19.99 g\n').some((title) => title.startsWith('What they said'))).toBe(true);
    expect(titles('settle V1\n  received 19.99 g\n').some((title) => title.startsWith('Settlement'))).toBe(false);
  });
});

const TOLL = `2026-05-04
receive H1 20.00 g
  owner moor
receive H2 30.00 g
  owner moor
receive H3 5.00 g
  owner moor
melt M1
  in H1
  in H2
  out B 49.90 g bar
assay B by fire
  Au 60 %, Ag 20 %
`;
const MOOR = `parties:
  moor:
    role: customer
    terms:
      2026-01-01:
        pays: { Au: 98 %, Ag: 95 % }
        charges:
          toll: 1.00 USD/g of received at least 60.00 USD
        residues: shop
`;

describe('a toll statement', () => {
  it('says what is to go back, what went, and what the work comes to', () => {
    const [gold, silver, toll, assay, fee] = rowsOf(
      selling,
      'toll-statement',
      { party: 'hall-bench' },
      'Account of HB-3',
    );
    expect(gold).toBe(
      'Au | 52.86 g ±0.10 | 51.81 g ±0.10 (98 %) | 51.24 g ±0.04 | 0.805 g ±0.011 | ~0.08 g ±0.09 | 0.57 g ±0.09',
    );
    expect(silver).toContain('(95 %)');
    expect([toll, assay, fee]).toEqual([
      'charge toll 1.10 USD/g of received, at least 60.00 USD | 79.64 USD',
      'charge assay 35.00 USD | 35.00 USD',
      'to pay | 114.64 USD',
    ]);
    expect(saysOf(selling, 'toll-statement', { party: 'hall-bench' }, 'Account of HB-3')).toContain(
      '0.57 g ±0.09 of Au is still to be given back.',
    );
  });

  it('of a metal that nobody knows how much came in of says so, and no more', () => {
    const page = `2026-05-04
receive H from moor, 100.00 g
  claim Au 40 %
cast C1
  in H
  out B 99.90 g bar
assay B by xrf
  Au 40.0 %
ship V1 to moor
  in B
receive H2 from moor, 50.00 g
  claim Au 40 %
`;
    const rows = rowsOf(ofPage(page, MOOR), 'toll-statement', { party: 'moor' }, 'Fine metal');
    expect(rows.map((row) => row.split(' | ')[0])).toEqual(['gold']);
    const silver = page.replace('  Au 40.0 %\n', '  Au 40.0 %, Ag 50.0 %\n');
    const [gold, found] = rowsOf(ofPage(silver, MOOR), 'toll-statement', { party: 'moor' }, 'Fine metal');
    expect(gold).toContain('explain it');
    expect(found).toMatch(/^silver \| 50.0 g .* \| {2}\| what came in is not known of 1 lot$/);
  });

  it('makes one account of lots that were worked together, and another of the rest', () => {
    const statement = made(ofPage(TOLL, MOOR), 'toll-statement', { party: 'moor' });
    const titles = statement.sections.map(({ title }) => title).filter((title) => title.startsWith('Account'));
    expect(titles).toEqual(['Account of H1, H2', 'Account of H3']);
    const rows = rowsOf(ofPage(TOLL, MOOR), 'toll-statement', { party: 'moor' }, 'Account of H1, H2');
    // 49.90 g at 60 % are 29.94 g; what went in is a little more by a guess, of which 98 % go back. 50.00 g came in, and 60.00 is the least.
    expect(rows[0]).toBe('Au | ~30.0 g ±0.3 | ~29.4 g ±0.3 (98 %) | 0 g | 29.9 g ±0.3 | 0 g | ~29.4 g ±0.3');
    expect(rows.at(-1)).toBe('to pay | 60.00 USD');
  });
});

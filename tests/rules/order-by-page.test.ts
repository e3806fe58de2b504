/** Two pages, one day, one lot: told where only the names of the pages say which of two weights is the last, and where that matters. */
import { describe, expect, it } from 'vitest';
import { recordOf } from '../../server/record/breaks';
import { draftOf, draftText } from '../../server/record/draft';
import { findingsOf } from '../../server/rules/findings';
import { withTexts } from '../../server/workspace/update';
import { workspaceOf } from '../support/workspace';

const BEFORE = '2026-05-03\nreceive A 20.00 g on bench\nmelt M1\n  in A\n  out B ~20 g bar\n\n';

/** What two hands wrote on one day, after a bar was made whose weight is a guess. */
const told = (bench: string, yard: string, more: Readonly<Record<string, string>> = {}): string[] => {
  const workspace = workspaceOf({
    'bench.melt': `${BEFORE}2026-05-04\n${bench}\n`,
    'yard.melt': `2026-05-04\n${yard}\n`,
    ...more,
  });
  return [...workspace.pages.keys()].flatMap((file) =>
    findingsOf(workspace, file).map(({ code, says }) => (code === 'order-by-page' ? says : code)),
  );
};

const asks = (other: string, what: string): string =>
  `Only the names of the pages put this behind ${other} on the other page. The other way round ${what}. Write a time under each, such as \`08:10\`.`;

describe('told', () => {
  it('where two weights differ a little, and the last one stands', () => {
    expect(told('weigh B 19.95 g', 'weigh B 19.954 g')).toEqual([
      asks('weigh B', '19.95 g of B is left instead of 19.954 g'),
    ]);
  });

  it('where a part was weighed out before or after', () => {
    expect(told('sample B\n  out B-s 0.004 g', 'weigh B 19.95 g')).toEqual([
      asks('sample B', '19.946 g of B is left instead of 19.95 g'),
    ]);
  });

  it('where it was put away twice', () => {
    expect(told('weigh B 19.95 g, at safe', 'weigh B 19.95 g, at counter')).toEqual([
      asks('weigh B', 'B is in another place'),
    ]);
  });

  it('where it was assayed before or after it was worked on', () => {
    expect(told('assay B by xrf\n  Au 60 %', 'melt M2\n  in B\n  out B ~20 g bar')).toEqual([
      asks('assay B', 'assay B speaks of what B was at another time'),
    ]);
  });
});

it('is told of two lots of one name by that alone', () => {
  expect(told('receive C 5.00 g', 'receive C 7.00 g')).toEqual(['name-used-twice']);
});

it('says why a lot seems to be made too late', () => {
  expect(told('cast C1\n  in C 5.00 g\n  out D 4.99 g bar', 'receive C 5.00 g')).toEqual([
    'lot-before-made',
    asks('cast C1', 'nothing of C is left instead of 5.00 g'),
  ]);
});

describe('nothing is told', () => {
  const CASES: Readonly<Record<string, readonly [string, string]>> = {
    'where both weigh the same': ['weigh B 19.95 g', 'weigh B 19.95 g'],
    'where a time says which is first': ['weigh B 19.95 g\n  08:10', 'weigh B 19.954 g\n  16:30'],
    'where one has a time': ['weigh B 19.95 g', 'weigh B 19.954 g\n  16:30'],
    'of other lots': ['weigh B 19.95 g', 'receive C 19.954 g'],
    'where each took a part': [
      'cast C1\n  in 5.00 g of B\n  out D 4.99 g bar',
      'cast C2\n  in 6.00 g of B\n  out E 5.99 g bar',
    ],
    'of an assay and a weighing': ['assay B by xrf\n  Au 60 %', 'weigh B 19.95 g'],
    'where the other order could not be': ['receive H 5.00 g', 'cast C3\n  in H 5.00 g\n  out I 4.99 g bar'],
    'where it is accepted': ['weigh B 19.95 g', 'weigh B 19.954 g\n  # accepted order-by-page: the yard weighs last'],
  };
  for (const [name, [bench, yard]] of Object.entries(CASES)) it(name, () => expect(told(bench, yard)).toEqual([]));
});

describe('once the day is sealed', () => {
  const open = {
    'bench.melt': `${BEFORE}2026-05-04\nweigh B 19.95 g\n`,
    'yard.melt': '2026-05-04\nweigh B 19.954 g\n',
  };
  const draft = draftOf(workspaceOf(open), '2026-05-31');
  const seal = `2026-05-31\n${draft.kind === 'ready' ? draftText('2026-05-31', draft) : ''}\n`;
  const saidOf = (pages: Readonly<Record<string, string>>): string[] => {
    const workspace = workspaceOf({ ...pages, 'seal.melt': seal });
    return [...workspace.pages.keys()].flatMap((file) => findingsOf(workspace, file).map(({ says }) => says));
  };

  it('nothing is asked for that can no longer be written', () => expect(saidOf(open)).toEqual([]));

  it('the order is what was sealed: a page that is called otherwise and turns it round is an error', () => {
    expect(saidOf({ 'bench.melt': open['bench.melt'], 'attic.melt': open['yard.melt'] })).toEqual([
      'This stood before weigh B on the other page when the record was sealed up to 2026-05-31; what the pages are called now puts it behind. So 19.95 g of B is left instead of 19.954 g. Give the pages their names back.',
    ]);
  });

  it('a page may be called otherwise where the order stays, or decides nothing', () => {
    expect(saidOf({ 'may.melt': open['bench.melt'], 'yard.melt': open['yard.melt'] })).toEqual([]);
    const same = { 'bench.melt': open['bench.melt'], 'yard.melt': '2026-05-04\nnote swept\n' };
    const other = draftOf(workspaceOf(same), '2026-05-31');
    const workspace = workspaceOf({
      'bench.melt': same['bench.melt'],
      'attic.melt': same['yard.melt'],
      'seal.melt': `2026-05-31\n${other.kind === 'ready' ? draftText('2026-05-31', other) : ''}\n`,
    });
    expect(recordOf(workspace).breaks.size).toBe(0);
  });

  it('what an edit elsewhere does not touch is the same finding', () => {
    const pages = { 'bench.melt': open['bench.melt'], 'attic.melt': open['yard.melt'], 'seal.melt': seal };
    const workspace = workspaceOf(pages);
    const [first] = [...recordOf(workspace).breaks.values()].flat();
    expect(first?.kind).toBe('turned');
    const later = withTexts(workspace, new Map([['june.melt', '2026-06-02\nreceive Z 3.00 g\n']]));
    expect([...recordOf(later).breaks.values()].flat()[0]).toBe(first);
  });
});

describe('two prices of one day', () => {
  const both = (bench: string, yard: string): string[] => told(bench, yard);

  it('is told where only the names of the pages say which is the last', () => {
    expect(both('quote Au 2480.00 USD/ozt', 'quote Au 2512.00 USD/ozt')).toEqual([
      'Two prices of Au stand on this day: 2480.00 USD/ozt and 2512.00 USD/ozt. Only the names of the pages make this the last, which counts. Write a time under each, such as `08:10`.',
    ]);
    expect(both('quote EUR 1.08 USD', 'quote EUR 1.09 USD')).toEqual([
      expect.stringContaining('Two prices of EUR stand on this day: 1.08 USD and 1.09 USD.'),
    ]);
  });

  it('is not where times say it, where both are the same, of another metal or currency, or where a third is the last', () => {
    expect(both('quote Au 2480.00 USD/ozt\n  08:10', 'quote Au 2512.00 USD/ozt\n  16:00')).toEqual([]);
    expect(both('quote Au 2480.00 USD/ozt', 'quote Au 2480.00 USD/ozt')).toEqual([]);
    expect(both('quote Au 2480.00 USD/ozt', 'quote Ag 29.00 USD/ozt')).toEqual([]);
    expect(both('quote Au 2480.00 USD/ozt', 'quote Au 2310.00 EUR/ozt')).toEqual([]);
    expect(both('quote Au 2480.00 USD/ozt', 'quote Au 2490.00 USD/ozt\nquote Au 2512.00 USD/ozt\n  16:00')).toEqual([]);
  });
});

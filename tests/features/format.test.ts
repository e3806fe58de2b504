/** White space and case put in order, and nothing else. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatEdits } from '../../server/features/format';
import { makeJournal } from '../support/journal';
import { pageWorkspace, said, workspaceOf } from '../support/workspace';

const formatted = (text: string): string => {
  const edits = formatEdits(pageWorkspace(text).pages.get('page.melt')!);
  return [...edits].reverse().reduce((so, { start, end, text: put }) => so.slice(0, start) + put + so.slice(end), text);
};

describe('formatting', () => {
  test('indents by two, parts words by one, days and entries by an empty line', () => {
    expect(
      formatted(
        '2026-05-04    dry   and windy\nReceive  A   20.00 g\n\tON bench\nmelt M1 ,crucible C5,furnace F1\n      in   A\n   out B  19.9 g   button   # hot\n\n\n\nnote  x  y',
      ),
    ).toBe(`2026-05-04  dry   and windy

receive A 20.00 g
  on bench

melt M1, crucible C5, furnace F1
  in A
  out B 19.9 g button  # hot

note x  y
`);
  });

  test('keeps remarks, quotes, clock lines and comments as they are written', () => {
    const page = `2026-05-04

receive "old  ring" 20.00 g
  note two   blanks,  kept
  # a  comment

assay "old  ring" by xrf
  Au 91.2 %  Ag 8.4 %
  because  he said  so

cast C1
  in "old  ring"
  10:53 poured  1170 °C   into cone-1
`;
    expect(formatted(page)).toBe(page.replace('because  he', 'because he'));
  });

  test('one-line entries may stand together', () => {
    const page = '2026-05-04\n\ncheck-scale bench 200 g, reads 200.00 g\nquote Au 2512.00 USD/ozt\n';
    expect(formatted(page)).toBe(page);
  });

  test('the samples are in order', () => {
    const folder = resolve(__dirname, '../../samples/tarn-end');
    for (const name of readdirSync(folder).filter((one) => one.endsWith('.melt'))) {
      const text = readFileSync(join(folder, name), 'utf8');
      expect(formatted(text), name).toBe(text);
    }
  });

  test('a range alone is put in order', () => {
    const text = '2026-05-04\n\nnote   one\nnote   two\nnote   three\n';
    const page = pageWorkspace(text).pages.get('page.melt')!;
    const at = text.indexOf('two');
    expect(formatEdits(page, { start: at, end: at }).length).toBe(1);
  });

  test('a made journal and the lines of a merge stay as they are', () => {
    for (const text of makeJournal(300, 1).values()) expect(formatted(formatted(text))).toBe(formatted(text));
    const merge = '<<<<<<< here\nmelt   M2\n=======\nmelt   M3\n>>>>>>> there\n';
    expect(formatted(merge)).toBe(merge);
  });

  test('changes no meaning, no letter, no figure, and is done at once', () => {
    const word = fc.constantFrom(
      'melt',
      'Melt',
      'in',
      'out',
      'add',
      'A1',
      'B-2',
      '20.00',
      'g',
      'on',
      'bench',
      'note',
      ',',
      'was',
      '~',
      '"x  y"',
      '#',
      '09:30',
      'Au',
      '%',
      '2026-05-04',
      '\t',
      '  ',
      '?',
      'borax-glass',
      'button',
      'lost',
      'IN',
    );
    const line = fc
      .tuple(fc.constantFrom('', ' ', '  ', '\t'), fc.array(word, { maxLength: 7 }), fc.constantFrom(' ', '   '))
      .map(([indent, words, gap]) => indent + words.join(gap));
    const page = fc.array(line, { maxLength: 12 }).map((lines) => lines.join('\n'));
    fc.assert(
      fc.property(page, (text) => {
        const once = formatted(text);
        const bare = (of: string): string => of.replace(/\s+/g, '').toLowerCase();
        expect(bare(once)).toBe(bare(text));
        expect(formatted(once)).toBe(once);
        const meaning = (of: string): string[] => {
          const workspace = workspaceOf({ 'page.melt': of });
          const entries = workspace.pages.get('page.melt')!.entries;
          const flows = entries.map(
            ({ verb, name, flows: own }) =>
              `${verb} ${name?.name} ${own.map(({ word: w, lot, amount }) => `${w} ${lot?.name} ${amount?.figure?.form}`)}`,
          );
          return [...flows, ...new Set(said(workspace).map((one) => one.split(' ', 1)[0]!))];
        };
        expect(meaning(once)).toEqual(meaning(text));
      }),
      { numRuns: 400 },
    );
  });
});

/** White space and case put in order, and nothing else. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatEdits, lineEdits } from '../../server/features/format';
import { makeJournal } from '../support/journal';
import { pageWorkspace, said, workspaceOf } from '../support/workspace';

const formatted = (text: string, pointAt?: number): string => {
  const edits = formatEdits(pageWorkspace(text).pages.get('page.melt')!, undefined, pointAt);
  return [...edits].reverse().reduce((so, { start, end, text: put }) => so.slice(0, start) + put + so.slice(end), text);
};

describe('formatting', () => {
  test('a comment below does not make an entry of one line a long one', () => {
    const page = `2026-05-04

quote Au 2540.00 USD/ozt
quote Ag 30.10 USD/ozt

# What follows is the second lot.
receive A1 61.37 g
`;
    expect(formatted(page)).toBe(page);
  });

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

  test('a hidden character at the end of a line, or alone on one, is left to the finding that tells of it', () => {
    for (const page of ['2026-05-04\n\nreceive A 20.00 g\u2028\n', '2026-05-04\n\n\u2028\n\nnote rain\n'])
      expect(formatted(page)).toBe(page);
  });

  test('a day behind a byte order mark in mid page stays a day', () => {
    const page = '2026-05-04\n\nassay A1 by xrf\n  Au 55.8 %\n\n\ufeff2026-05-06  rain\n\nnote x\n';
    expect(formatted(page)).toBe(page);
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

  test('puts the points of weights at a column, where one is named', () => {
    const page = `2026-05-04

receive A1
  61.37 g on bench
  expect Au 60 %

melt M1, crucible C5
  in A1 61.37 g on bench
  in "old ring" 104.2 g on bench  # his
  add borax-glass 20 g
  add silica 500 mg + 7.25 g
  out B1 ~58.16 g button on bench
  out a-very-long-name-of-slag 4.1 g slag
  furnace F1, 1080 °C
`;
    const lined = `2026-05-04

receive A1
  61.37 g on bench
  expect Au 60 %

melt M1, crucible C5
  in A1            61.37 g on bench
  in "old ring"   104.2 g on bench  # his
  add borax-glass  20 g
  add silica      500 mg + 7.25 g
  out B1          ~58.16 g button on bench
  out a-very-long-name-of-slag 4.1 g slag
  furnace F1, 1080 °C
`;
    expect(formatted(page, 22)).toBe(lined);
    expect(formatted(lined)).toBe(page);
    // The column is counted from the margin that the line gets, not from the one that it had.
    for (const margin of [' ', '      ', '\t'])
      expect(formatted(page.replaceAll('\n  ', `\n${margin}`), 22)).toBe(lined);
    // A figure that grows a digit moves no other line.
    const grown = formatted(lined.replace('~58.16', '~158.16'), 22).split('\n');
    expect(grown.filter((line, at) => line !== lined.split('\n')[at])).toEqual([
      '  out B1         ~158.16 g button on bench',
    ]);
  });

  test('of the line that Enter has left, that line alone', () => {
    const text = '2026-05-04\nmelt   M1\n    in   A1  20.0 g\n\n\n\n  out   B1';
    const page = pageWorkspace(text).pages.get('page.melt')!;
    expect(
      lineEdits(page, text.indexOf('A1')).map(({ start, end, text: put }) => [text.slice(start, end), put]),
    ).toEqual([
      ['    ', '  '],
      ['   ', ' '],
      ['  ', ' '],
    ]);
    expect(lineEdits(page, text.indexOf('M1')).map(({ start }) => start)).toEqual([text.indexOf('   M1')]);
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
      fc.property(page, fc.constantFrom(undefined, 1, 12, 24), (text, pointAt) => {
        const once = formatted(text, pointAt);
        const bare = (of: string): string => of.replace(/\s+/g, '').toLowerCase();
        expect(bare(once)).toBe(bare(text));
        expect(formatted(once, pointAt)).toBe(once);
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

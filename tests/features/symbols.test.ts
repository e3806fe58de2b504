/** The outline, as indented lines: name, then detail in brackets. */
import { describe, expect, test } from 'vitest';
import { type SymbolNode, symbolsOf } from '../../server/features/symbols';
import { makeJournal } from '../support/journal';
import { pageWorkspace } from '../support/workspace';

const FILE = 'page.melt';

const outline = (nodes: readonly SymbolNode[], indent = ''): string[] =>
  nodes.flatMap(({ name, detail, children }) => [
    `${indent}${name}${detail ? ` (${detail})` : ''}`,
    ...outline(children, `${indent}  `),
  ]);

const check = (page: string, expected: string): void =>
  expect(`\n${outline(symbolsOf(pageWorkspace(page), FILE)).join('\n')}`).toBe(expected);

describe('the outline', () => {
  test('days, entries with their balance or weight, what they made', () => {
    check(
      `receive Z 5.00 g
2026-05-04  dry and windy
# a remark
receive A 20.00 g
plan cast C9
  in A
cast C1
  in A
  out B 19.07 g bar
  out 0.91 g slag
  out none prills
2026-05-05
split Y1
  in B
  out C 10.00 g
  out D ?
note lid relined
`,
      `
receive Z (5.00 g)
2026-05-04 (dry and windy)
  receive A (20.00 g)
  plan cast C9
  cast C1 (0.02 g lost (0.10 %), usual)
    B (19.07 g bar)
    C1.slag (0.91 g)
2026-05-05
  split Y1
    C (10.00 g)
    D (9.07 g)
  note`,
    );
  });
  test('what is not understood keeps its place', () => {
    check(
      '2026-05-04\nmelf M1\n  in A\n<<<<<<< here\nmelt M2\n=======\nmelt M3\n>>>>>>> there',
      '\n2026-05-04\n  melf',
    );
  });
  test('a file that there is not', () => {
    expect(symbolsOf(pageWorkspace(''), 'other.melt')).toEqual([]);
  });
});

const isWithin = (inner: SymbolNode['range'], outer: SymbolNode['range']): boolean =>
  outer.start <= inner.start && inner.start <= inner.end && inner.end <= outer.end;

const checkNesting = (node: SymbolNode): void => {
  expect(isWithin(node.selection, node.range)).toBe(true);
  for (const child of node.children) {
    expect(isWithin(child.range, node.range)).toBe(true);
    checkNesting(child);
  }
};

test('a selection lies in its range, a child in its parent', () => {
  const pages = [
    ...makeJournal(300, 1, 2).values(),
    '\ufeff2026-05-04\r\nreceive A\r\n  20.00 g\r\n',
    'melt',
    '  in A',
    '2026-13-45',
  ];
  for (const page of pages) for (const node of symbolsOf(pageWorkspace(page), FILE)) checkNesting(node);
});

test('a day in words, with what is said of it', () => {
  check('4 May 2026 dry and windy\nnote rain\n', '\n2026-05-04 (dry and windy)\n  note');
});

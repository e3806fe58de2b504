/** The numbers that the server writes are the protocol's, as its authors' library has them. */
import { expect, test } from 'vitest';
import * as names from 'vscode-languageserver';
import * as protocol from '../../server/lsp/protocol';
import { tokenData, tokenEdits } from '../../server/lsp/token-data';

const library = new Map<string, unknown>(Object.entries(names));

test.each(Object.entries(protocol))('%s', (name, own) => {
  const theirs = library.get(name) as Record<string, unknown>;
  for (const [word, value] of Object.entries(own)) expect(theirs[word], word).toBe(value);
});

const token = (line: number, character: number) => ({ line, character, length: 2, type: 0, modifiers: 1 });

test('a token is placed from the one before', () => {
  expect(tokenData([token(1, 4), token(1, 9), token(3, 2)])).toEqual([1, 4, 2, 0, 1, 0, 5, 2, 0, 1, 2, 2, 2, 0, 1]);
});

test.each([
  ['the same', [1, 2, 3], [1, 2, 3], []],
  ['some more at the end', [1, 2], [1, 2, 3], [{ start: 2, deleteCount: 0, data: [3] }]],
  ['some less before the end', [1, 2, 2, 3], [1, 2, 3], [{ start: 2, deleteCount: 1, data: [] }]],
  ['another in the middle', [1, 2, 3], [1, 9, 3], [{ start: 1, deleteCount: 1, data: [9] }]],
  ['all anew', [1], [2, 3], [{ start: 0, deleteCount: 1, data: [2, 3] }]],
])('a difference: %s', (_, before, after, edits) => {
  expect(tokenEdits(before, after)).toEqual(edits);
});

/** Tokens as the protocol writes them: five numbers each, the place told from the token before; and how one such list differs from another. */
import type { SemanticTokensEdit } from 'vscode-languageserver';

/** On one line; `type` and the bits of `modifiers` count in the legend. */
export interface PlacedToken {
  readonly line: number;
  readonly character: number;
  readonly length: number;
  readonly type: number;
  readonly modifiers: number;
}

/** `tokens` in the order of the text. */
export const tokenData = (tokens: readonly PlacedToken[]): number[] =>
  tokens.flatMap(({ line, character, length, type, modifiers }, index) => {
    const before = tokens[index - 1] ?? { line: 0, character: 0 };
    const down = line - before.line;
    return [down, down === 0 ? character - before.character : character, length, type, modifiers];
  });

/** One edit from where two lists begin to differ to where they are the same again; none where they are the same. */
export const tokenEdits = (before: readonly number[], after: readonly number[]): SemanticTokensEdit[] => {
  const shorter = Math.min(before.length, after.length);
  let start = 0;
  while (start < shorter && before[start] === after[start]) start++;
  let same = 0;
  while (same < shorter - start && before.at(-1 - same) === after.at(-1 - same)) same++;
  const deleteCount = before.length - start - same;
  const data = after.slice(start, after.length - same);
  return deleteCount === 0 && data.length === 0 ? [] : [{ start, deleteCount, data }];
};

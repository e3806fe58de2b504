/** A walk over the tokens of one piece, and the list of what was found wrong on the way. */
import { firstWhere } from '../text/lists';
import type { Span } from '../text/span';
import type { Token } from './scan';
import type { Problem, ProblemCode, WordNode } from './tree';

export interface Cursor {
  readonly tokens: readonly Token[];
  at: number;
  readonly end: number;
  readonly problems: Problem[];
}

export const peek = (cursor: Cursor, ahead = 0): Token | undefined =>
  cursor.at + ahead < cursor.end ? cursor.tokens[cursor.at + ahead] : undefined;

export const take = (cursor: Cursor): Token => cursor.tokens[cursor.at++]!;

export const isMark = (token: Token | undefined, text: string): boolean =>
  token?.kind === 'mark' && token.text === text;
export const isWord = (token: Token | undefined, text: string): boolean =>
  token?.kind === 'word' && token.text.toLowerCase() === text;

export const report = (
  problems: Problem[],
  code: ProblemCode,
  at: { start: number; end: number },
  found: string,
  more: Pick<Problem, 'wanted' | 'mend'> = {},
): void => {
  problems.push({ code, start: at.start, end: at.end, found, ...more });
};

/** What phones and word processors put in place of a plain character. */
const LOOKALIKES = new Map([
  ...['“', '”', '„', '‟', '«', '»'].map((mark) => [mark, '"'] as const),
  ...['–', '—', '−', '‐', '‑'].map((mark) => [mark, '-'] as const),
  ...['，', '、', '‚'].map((mark) => [mark, ','] as const),
  ['…', '..'] as const,
]);

/** A character that means nothing where it stands. */
export const reportOdd = (problems: Problem[], token: Token, plain = LOOKALIKES.get(token.text)): void => {
  const mend = plain ? { mend: { start: token.start, end: token.end, text: plain } } : {};
  report(problems, 'odd-character', token, token.text, mend);
};

export const wordNode = (token: Token): WordNode => {
  const quoted = token.kind === 'quoted';
  const closed = quoted && token.text.length > 1 && token.text.endsWith('"');
  const text = quoted ? token.text.slice(1, closed ? -1 : undefined) : token.text;
  return { start: token.start, end: token.end, text, quoted };
};

/** The tokens of a range, with one blank where there were any. */
export const writtenAs = (tokens: readonly Token[], range: Span): string => {
  let written = '';
  let end = range.start;
  for (let at = tokenAt(tokens, range.start); (tokens[at]?.end ?? Infinity) <= range.end; at++) {
    const token = tokens[at]!;
    written += `${token.start > end ? ' ' : ''}${token.text}`;
    end = token.end;
  }
  return written;
};

/** Index of the first token that starts at or behind an offset. */
export const tokenAt = (tokens: readonly Token[], offset: number): number =>
  firstWhere(tokens, ({ start }) => start >= offset);

/** The tokens of a line, without what is not seen. */
import { unit as unitRow } from '../quantity/units';
import type { Span } from '../text/span';
import { report } from './cursor';
import { startsText } from './piece';
import { isHidden, isTurning, scanLine, type Token } from './scan';
import type { Problem } from './tree';

export const scan = (text: string, line: Span): Token[] =>
  scanLine(text, line.start, line.end, (word) => unitRow(word) !== undefined);

export const tokensOf = (
  text: string,
  line: Span,
  problems: Problem[],
): { tokens: Token[]; comment: Span | undefined } => {
  const tokens = scanClean(text, line, problems);
  const last = tokens.at(-1);
  if (last?.kind !== 'comment') return { tokens, comment: undefined };
  tokens.pop();
  return { tokens, comment: { start: last.start, end: last.end } };
};

/** Tokens without what is not seen: it is reported, and a name is read as if it were not there. Running text may hold anything. */
const scanClean = (text: string, line: Span, problems: Problem[]): Token[] => {
  const clean: Token[] = [];
  let running = false;
  for (const token of scan(text, line)) {
    running ||= startsText(token) || (clean.length === 0 && token.kind === 'time');
    if (running) reportTurning(token, problems);
    if (running || !reportHidden(token, problems)) clean.push(token);
    else if (token.kind === 'word') clean.push({ ...token, text: seenOf(token.text) });
  }
  return clean;
};

/** Text may hold what joins letters; what turns it round, or acts on a screen, makes it read as what it is not. */
const reportTurning = (token: Token, problems: Problem[]): void => {
  for (let at = 0; at < token.text.length; at++) {
    if (!isTurning(token.text.charCodeAt(at))) continue;
    const place = { start: token.start + at, end: token.start + at + 1 };
    report(problems, 'hidden-in-text', place, token.text[at]!, { mend: { ...place, text: '' } });
  }
};

const reportHidden = (token: Token, problems: Problem[]): boolean => {
  if (token.kind !== 'word' && token.kind !== 'hidden') return false;
  let found = false;
  for (let at = 0; at < token.text.length; at++) {
    if (!isHidden(token.text.charCodeAt(at))) continue;
    found = true;
    const place = { start: token.start + at, end: token.start + at + 1 };
    report(problems, 'hidden-character', place, token.text[at]!, { mend: { ...place, text: '' } });
  }
  return found;
};

const seenOf = (text: string): string => {
  let seen = '';
  for (let at = 0; at < text.length; at++) if (!isHidden(text.charCodeAt(at))) seen += text[at];
  return seen;
};

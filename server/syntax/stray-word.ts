/** A word at the head of a piece that is none of the language: what was likely meant. */
import { nearest } from '../text/nearest';
import { DETAILS, detailsOf, REMARKS } from '../vocabulary/details';
import { element } from '../vocabulary/elements';
import { material } from '../vocabulary/materials';
import type { VerbRow } from '../vocabulary/verbs';
import { EVENT_WORDS, KIND_WORDS } from '../vocabulary/words';
import { type Cursor, isMark, report, tokenAt } from './cursor';
import { isLanguageWord } from './fill';
import type { Token } from './scan';
import { symbolOf } from './stray';
import type { PieceNode, Problem } from './tree';

/** Each begins a list that commas do not carry on. */
export const LIST_WORDS: ReadonlySet<string> = new Set(['in', 'out', 'add']);

export const DEAL_LIST_WORDS: ReadonlySet<string> = new Set(['pays', 'less']);

export const reportStrayWord = (
  cursor: Cursor,
  token: Token,
  before: PieceNode | undefined,
  of: VerbRow | undefined,
): void => {
  const known = [...(of ? detailsOf(of) : DETAILS), ...REMARKS].map(({ word }) => word);
  const event = eventMeant(cursor, token, of);
  if (event) {
    report(cursor.problems, 'unknown-word', token, token.text, event);
    return;
  }
  const near = token.kind === 'word' ? nearest(token.text, known) : undefined;
  const listWord = before?.word?.text.toLowerCase();
  const inList =
    listWord !== undefined &&
    (LIST_WORDS.has(listWord) || DEAL_LIST_WORDS.has(listWord)) &&
    !(near && isLanguageWord(near) && token.text.length > 2);
  if (inList) {
    const plus = cursor.tokens[tokenAt(cursor.tokens, token.start) - 1];
    const start = isMark(plus, '+') ? cursor.tokens[tokenAt(cursor.tokens, plus!.start) - 1]!.end : token.start;
    const mend = { start, end: token.start, text: start < token.start ? `, ${listWord} ` : `${listWord} ` };
    report(cursor.problems, 'comma-list', token, token.text, { wanted: listWord, mend });
    return;
  }
  const wanted = metalMeant(cursor, token, of) ?? flowMeant(token.text.toLowerCase(), of) ?? near;
  const mend = wanted ? { mend: { start: token.start, end: token.end, text: wanted } } : {};
  report(cursor.problems, 'unknown-word', token, token.text, { wanted, ...mend });
};

/** `slag 41 g`, `borax 10 g`: what came out, or was added, without its word. */
const flowMeant = (word: string, of: VerbRow | undefined): string | undefined => {
  if (of && !of.takes.includes('flows')) return undefined;
  if (of && KIND_WORDS.has(word)) return `out ${word}`;
  return material(word) ? `add ${word}` : undefined;
};

/** `au 91.2 %`, `gold 91.2 %` where a metal is read. */
const metalMeant = ({ tokens }: Cursor, token: Token, of: VerbRow | undefined): string | undefined => {
  if (of && !of.takes.includes('lab') && !of.takes.includes('deal')) return undefined;
  if (tokens[tokenAt(tokens, token.start) + 1]?.kind !== 'number') return undefined;
  const symbol = `${token.text.slice(0, 1).toUpperCase()}${token.text.slice(1).toLowerCase()}`;
  return symbolOf(token.text.toLowerCase()) ?? (element(symbol) ? symbol : undefined);
};

/** `poured 10:53 into cone-1`: what happened at a time, behind the time. */
const eventMeant = (
  { tokens }: Cursor,
  token: Token,
  of: VerbRow | undefined,
): Pick<Problem, 'wanted' | 'mend'> | undefined => {
  if ((of && !of.takes.includes('flows')) || !EVENT_WORDS.has(token.text.toLowerCase())) return undefined;
  const time = tokens[tokenAt(tokens, token.start) + 1];
  if (time?.kind !== 'time') return {};
  const wanted = `${time.text} ${token.text.toLowerCase()}`;
  return { wanted, mend: { start: token.start, end: time.end, text: wanted } };
};

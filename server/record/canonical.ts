/**
 * The canonical form of an entry and of a day: its words and figures one blank apart, without comments, line by line. White space, line ends
 * and the capitals of the language's own words do not show in it; everything else does. LANGUAGE.md states it for other programs: what is
 * changed here needs a new number there and in `FORM`.
 */
import { isOfLanguage, wordsWithoutCase } from '../syntax/case';
import type { Token } from '../syntax/scan';
import { scan } from '../syntax/tokens';
import type { Section } from '../syntax/tree';
import { sha256 } from './sha256';

/** The number of this form, as digests bear it. */
export const FORM = 's1';

/** A word as it is sealed, and where it stands in its section. */
export interface CanonicalWord {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

export interface CanonicalLine {
  readonly lead: '' | '  ';
  readonly words: readonly CanonicalWord[];
}

export const lineText = ({ lead, words }: CanonicalLine): string => `${lead}${words.map(({ text }) => text).join(' ')}`;

/** The lines of an entry, its details behind two blanks; of a day, its text and what stands loose under it. Empty where nothing is said. */
export const canonicalLines = (section: Section): readonly string[] => wordLines(section).map(lineText);

/** The same, word by word. */
export const wordLines = (section: Section): readonly CanonicalLine[] => {
  const lines: CanonicalLine[] = [];
  let isFirst = true;
  let start = 0;
  for (const line of rawLines(section.text)) {
    const end = start + line.length;
    const tokens = scan(section.text, { start, end }).filter(({ kind }) => kind !== 'comment');
    const said = isFirst && section.kind === 'day' ? tokens.slice(1) : tokens;
    const words = wordsOf(section, said);
    if (words.length > 0) lines.push({ lead: isFirst && section.kind !== 'day' ? '' : '  ', words });
    isFirst = false;
    start = end + endLength(section.text, end);
  }
  return lines;
};

const rawLines = (text: string): readonly string[] => {
  const lines = text.split(/\r\n|\r|\n/);
  if (lines.at(-1) === '') lines.pop();
  return lines;
};

const endLength = (text: string, at: number): number => (text[at] === '\r' && text[at + 1] === '\n' ? 2 : 1);

/** As written, but for the language's own words, which are understood in capitals too. */
const wordsOf = (section: Section, tokens: readonly Token[]): readonly CanonicalWord[] => {
  if (section.kind !== 'entry' || !tokens.some(mayBeLowered)) return tokens;
  const first = tokens[0]!.start;
  const line = section.lines.find(({ start, end }) => start <= first && first < end);
  const lowered = new Set(line ? wordsWithoutCase(section, line).map(({ start }) => start) : []);
  return tokens.map((token) =>
    lowered.has(token.start) && !token.text.startsWith('"') ? { ...token, text: token.text.toLowerCase() } : token,
  );
};

/** Never false where a word would be lowered, and asked without parsing the line. */
const mayBeLowered = ({ kind, text }: Token): boolean => {
  const lower = text.toLowerCase();
  return kind === 'word' && text !== lower && isOfLanguage(lower);
};

const marks = new WeakMap<Section, string>();

/** The first eight figures of a section's digest, kept with the section, which is another object once its text is another. */
export const markOf = (section: Section): string => {
  const known = marks.get(section);
  if (known !== undefined) return known;
  const made = markOfLines(canonicalLines(section));
  marks.set(section, made);
  return made;
};

export const MARK_LENGTH = 8;

export const markOfLines = (lines: readonly string[]): string =>
  sha256(lines.map((line) => `${line}\n`).join('')).slice(0, MARK_LENGTH);

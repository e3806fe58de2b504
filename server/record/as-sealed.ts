/**
 * How an entry read when it was sealed, where one slip is all that changed. A seal keeps no text, but its mark of the entry tells when a text is
 * the right one: each thing that a slip of the pen or of the keys does is undone in turn, until the mark fits. Of a million texts tried wrongly
 * one in four thousand such searches would fit by chance: a mark has 32 bits.
 */
import { UNITS } from '../quantity/units';
import type { Section } from '../syntax/tree';
import type { Span } from '../text/span';
import { type CanonicalLine, type CanonicalWord, lineText, markOfLines, wordLines } from './canonical';

export type AsSealed =
  /** The line read otherwise; `word` is what to write back, where one word is all. */
  | {
      readonly kind: 'read';
      readonly line: Span;
      readonly text: string;
      readonly word: (Span & { text: string }) | undefined;
    }
  /** The line was not there. */
  | { readonly kind: 'added'; readonly line: Span }
  /** The line stood below the next. */
  | { readonly kind: 'swapped'; readonly line: Span };

/** Beyond so many characters to hash the search ends: an entry is looked at while it is typed. */
const MOST_CHARACTERS = 1_500_000;

const known = new WeakMap<Section, { readonly mark: string; readonly found: AsSealed | undefined }>();

/** None where more than one slip was made, or one that leaves no trace, such as a word that was taken out. */
export const asSealed = (section: Section, mark: string): AsSealed | undefined => {
  const kept = known.get(section);
  if (kept?.mark === mark) return kept.found;
  const found = search(section, mark);
  known.set(section, { mark, found });
  return found;
};

const search = (section: Section, mark: string): AsSealed | undefined => {
  const lines = wordLines(section);
  const texts = lines.map(lineText);
  const length = texts.reduce((sum, text) => sum + text.length + 1, 0);
  let left = Math.floor(MOST_CHARACTERS / Math.max(length, 64));
  for (const [tried, found] of undone(lines, texts)) {
    if (markOfLines(tried) === mark) return found();
    if (--left <= 0) return undefined;
  }
  return undefined;
};

type Try = readonly [lines: readonly string[], found: () => AsSealed];

function* undone(lines: readonly CanonicalLine[], texts: readonly string[]): Generator<Try> {
  for (const [at, line] of lines.entries()) {
    const span = spanOf(line);
    // An entry's first line names it: without it there would be no entry.
    if (at > 0 || line.lead !== '') yield [texts.toSpliced(at, 1), () => ({ kind: 'added', line: span })];
    if (at > 0 && at + 1 < lines.length)
      yield [texts.toSpliced(at, 2, texts[at + 1]!, texts[at]!), () => ({ kind: 'swapped', line: span })];
    for (const index of line.words.keys()) {
      const text = lineText({ ...line, words: line.words.toSpliced(index, 1) });
      yield [texts.with(at, text), () => ({ kind: 'read', line: span, text, word: undefined })];
    }
  }
  for (const [at, line] of lines.entries()) {
    for (const [index, word] of line.words.entries()) {
      for (const other of othersOf(word)) {
        const text = lineText({ ...line, words: line.words.with(index, { ...word, text: other }) });
        const { start, end } = word;
        yield [
          texts.with(at, text),
          () => ({ kind: 'read', line: spanOf(line), text, word: { start, end, text: other } }),
        ];
      }
    }
  }
}

const spanOf = ({ words }: CanonicalLine): Span => ({ start: words[0]!.start, end: words.at(-1)!.end });

const MASSES = UNITS.filter(({ kind }) => kind === 'mass').map(({ symbol }) => symbol);
const DIGITS = [...'0123456789'];

/** Other units of mass for a unit; for what holds figures one of them written otherwise, too many, too few, two swapped, the point elsewhere. */
const othersOf = ({ text }: CanonicalWord): readonly string[] => {
  if (MASSES.includes(text)) return MASSES.filter((unit) => unit !== text);
  if (!/\d/.test(text) || text.startsWith('"')) return [];
  const others = new Set<string>();
  for (let at = 0; at <= text.length; at++) {
    const [before, one = '', behind] = [text.slice(0, at), text[at], text.slice(at + 1)];
    const isDigit = /\d/.test(one);
    if (isDigit || /\d/.test(before.slice(-1))) for (const digit of DIGITS) others.add(before + digit + one + behind);
    if (!isDigit) continue;
    others.add(before + behind);
    for (const digit of DIGITS) others.add(before + digit + behind);
    const next = /\d/.test(behind[0] ?? '') ? 0 : 1;
    if (/\d/.test(behind[next] ?? ''))
      others.add(before + behind[next] + behind.slice(0, next) + one + behind.slice(next + 1));
  }
  if (/^\d+(?:\.\d+)?$/.test(text)) {
    const plain = text.replace('.', '');
    others.add(plain);
    for (let at = 1; at < plain.length; at++) others.add(`${plain.slice(0, at)}.${plain.slice(at)}`);
  }
  others.delete(text);
  others.delete('');
  return [...others];
};

/**
 * The words of a page without reading it: to tell which pages cannot speak of a name, at a small part of what parsing costs. A page may be
 * taken to hold a name that it does not; never the other way round.
 */
import { isDigit, isHidden, letterLength, nameEnd } from './scan';

/** Every run of name characters that holds a letter, figures before it off and on. What is not seen is left out, as the parser does. */
export const wordsIn = (text: string): ReadonlySet<string> => {
  const words = new Set<string>();
  let at = 0;
  let lineEnd = 0;
  while (at < text.length) {
    if (at >= lineEnd) lineEnd = endOfLine(text, at + 1);
    const code = text.charCodeAt(at);
    if (!isDigit(code) && letterLength(text, at) === 0) {
      at++;
      continue;
    }
    const end = Math.max(at + 1, nameEnd(text, at, lineEnd));
    const letter = isDigit(code) ? firstLetter(text, at, end) : at;
    if (letter < end) words.add(seen(text.slice(at, end)));
    // A figure may end where letters begin: `14k` is 14 and k.
    if (letter > at && letter < end) words.add(seen(text.slice(letter, end)));
    if (letter < end && isInsideFigure(text, at)) addTails(words, text, at, letter, end);
    at = end;
  }
  return words;
};

/** Behind `08:` and `61,` figures go on, and where they end a name begins anew: `08:10-05-04in`, `61,37-05-04in`. */
const isInsideFigure = (text: string, at: number): boolean => text[at - 1] === ':' || text[at - 1] === ',';

/** What stands behind each mark that joins figures, up to the first letter. */
const addTails = (words: Set<string>, text: string, start: number, letter: number, end: number): void => {
  for (let at = start; at < letter; at++) if (!isDigit(text.charCodeAt(at))) words.add(seen(text.slice(at + 1, end)));
};

/** A name as a page may speak of it: in one of these ways, all words of which must be there. */
export type Sought = readonly (readonly string[])[];

/**
 * What to look for in place of a name. One in quotes may be of several words; one without a letter is in no page's words, and may be in any;
 * `M57.slag` may be there under the words of M57 alone, as its unnamed product.
 */
export const soughtFor = (name: string): Sought => {
  const point = name.lastIndexOf('.');
  const whole = [...wordsIn(name)];
  return point > 0 ? [whole, [...wordsIn(name.slice(0, point))]] : [whole];
};

/** Whether a page of these words may speak of the name. */
export const mayHold = (words: ReadonlySet<string>, sought: Sought): boolean =>
  sought.some((way) => way.every((word) => words.has(word)));

const endOfLine = (text: string, from: number): number => {
  let at = from;
  while (at < text.length && text.charCodeAt(at) !== 10 && text.charCodeAt(at) !== 13) at++;
  return at;
};

const firstLetter = (text: string, from: number, end: number): number => {
  let at = from;
  while (at < end && letterLength(text, at) === 0) at++;
  return at;
};

const seen = (word: string): string => {
  let at = 0;
  while (at < word.length && !isHidden(word.charCodeAt(at))) at++;
  return at === word.length ? word : [...word].filter((char) => !isHidden(char.charCodeAt(0))).join('');
};

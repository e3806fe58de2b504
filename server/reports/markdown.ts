/** Journal text in Markdown: it is shown as written, and none of it becomes a link, an emphasis or a heading. */
import { visible } from '../text/visible';

const SPECIAL: ReadonlySet<string> = new Set('\\`*_[]<>|~&@'.split(''));
/** These mean something at the start of a line only. */
const SPECIAL_FIRST: ReadonlySet<string> = new Set('#+-=.!'.split(''));

/** Text of a journal or a workshop file, safe within a line of Markdown. */
export const escapeMarkdown = (text: string): string => {
  const characters = [...visible(text).replaceAll('\t', ' ')];
  const isAddress = text.toLowerCase().includes('www.');
  const first = characters.findIndex((character) => character !== ' ');
  return characters
    .map((character, index) => {
      const special =
        SPECIAL.has(character) ||
        (character === ':' && characters[index + 1] === '/') ||
        (character === '.' && (isAddress || isNumbered(characters, first, index))) ||
        (index === first && SPECIAL_FIRST.has(character));
      return special ? `\\${character}` : character;
    })
    .join('');
};

/** The point of `1. ` would begin a list. */
const isNumbered = (characters: readonly string[], first: number, point: number): boolean =>
  characters.slice(first, point).every((character) => character >= '0' && character <= '9') &&
  (characters[point + 1] ?? ' ') === ' ';

/** Lines as they stand, in letters of one width. The fence is longer than any run of backticks within. */
export const fenced = (lines: readonly string[]): string => {
  const text = lines.map(visible).join('\n');
  const fence = '`'.repeat(Math.max(3, longestRun(text) + 1));
  return `${fence}text\n${text}\n${fence}`;
};

const longestRun = (text: string): number => {
  let longest = 0;
  let run = 0;
  for (const character of text) {
    run = character === '`' ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return longest;
};

/** Paragraphs, the empty ones left out. */
export const paragraphs = (...parts: readonly (string | undefined)[]): string =>
  parts.filter((part) => part !== undefined && part !== '').join('\n\n');

/** Lines that stay lines. */
export const brokenLines = (lines: readonly (string | undefined)[]): string =>
  lines.filter((line) => line !== undefined && line !== '').join('  \n');

/**
 * What such Markdown says, for a client that shows plain text: fences, marks of emphasis, code and quoting go, every word and line stays.
 * Within code nothing is quoted, so nothing is taken away there.
 */
export const plainOf = (markdown: string): string => {
  let fence: string | undefined;
  const lines: string[] = [];
  for (const line of markdown.split('\n')) {
    const mark = /^`{3,}/.exec(line)?.[0];
    if (fence === undefined && mark !== undefined) fence = mark;
    else if (fence !== undefined && line === fence) fence = undefined;
    else lines.push(fence === undefined ? plainLine(line) : line);
  }
  return lines.join('\n');
};

const plainLine = (line: string): string =>
  line
    .replace(/ {2}$/, '')
    .replace(/\\(.)|`([^`]*)`|\*\*/gu, (_, quoted?: string, code?: string) => quoted ?? code ?? '');

/**
 * The text of a workshop file as a plain tree with places. Nothing in it is resolved: no anchor, no alias, no tag, and every
 * value is the text that stands there. Size and depth are counted before anything is composed, since deep nesting can end the process.
 */
import {
  Composer,
  type Document,
  isMap,
  isScalar,
  isSeq,
  Lexer,
  type ParsedNode,
  Parser,
  visit,
  type YAMLError,
} from 'yaml';
import type { Span } from '../text/span';
import type { Report } from './problem';
import { firstSide } from './sides';

export interface TextItem extends Span {
  readonly kind: 'text';
  readonly text: string;
  /** In quotes, or a block of lines: not a plain value. */
  readonly quoted: boolean;
}

export interface Pair {
  readonly key: string;
  readonly quoted: boolean;
  readonly at: Span;
  /** None where nothing stands after the colon. */
  readonly value: Item | undefined;
}

export interface MapItem extends Span {
  readonly kind: 'map';
  readonly pairs: readonly Pair[];
}

export interface ListItem extends Span {
  readonly kind: 'list';
}

export type Item = TextItem | MapItem | ListItem;

/** Characters of a workshop file at the most: 256 KiB, some fifty times a large one. */
export const LARGEST = 256 * 1024;
/** Levels of nesting; a workshop file needs six. */
export const DEEPEST = 64;

/** The outermost list of keys; undefined when there is none to read. An empty file has no keys. */
export const readTree = (written: string, report: Report): MapItem | undefined => {
  if (written.length > LARGEST) {
    unreadable(report, { start: 0, end: 0 }, 'The workshop file is larger than 256 KiB: it is not read.');
    return undefined;
  }
  const text = firstSide(written, report);
  const tokens = tokensOf(text, report);
  if (!tokens) return undefined;
  const options = { schema: 'failsafe', uniqueKeys: false, prettyErrors: false, logLevel: 'silent' } as const;
  const [document, second] = [
    ...new Composer({ ...options, resolveKnownTags: false }).compose(tokens, true, text.length),
  ];
  if (document) reportErrors(document, text, report);
  if (second) unreadable(report, lineAt(text, second.range[0]), '`---` begins a second part: a workshop file is one.');
  const contents = document?.contents;
  if (!contents) return { kind: 'map', start: 0, end: 0, pairs: [] };
  const item = itemOf(contents, text, report);
  if (!item || item.kind === 'map') return item;
  unreadable(report, lineAt(text, item.start), 'A workshop file holds sections, each a name and a colon: `scales:`.');
  return undefined;
};

/** One finding for a line: of several the last says most. */
const reportErrors = (document: Document.Parsed, text: string, report: Report): void => {
  const lines = new Map<number, { readonly at: Span; readonly says: string }>();
  for (const error of document.errors.slice(0, MOST_ERRORS)) {
    const at = spanOf(error, document, text);
    lines.set(lineAt(text, at.start).start, { at, says: sentence(error) });
  }
  for (const { at, says } of lines.values()) unreadable(report, at, says);
};

const MOST_ERRORS = 50;

type Tokens = Parameters<Composer['next']>[0][];

const tokensOf = (text: string, report: Report): Tokens | undefined => {
  const parser = new Parser();
  const tokens: Tokens = [];
  for (const lexeme of new Lexer().lex(text)) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    if (parser.stack.length <= DEEPEST) continue;
    unreadable(report, lineAt(text, parser.offset), 'Nested more than 64 levels deep: the workshop file is not read.');
    return undefined;
  }
  for (const token of parser.end()) tokens.push(token);
  return tokens;
};

const itemOf = (node: ParsedNode, text: string, report: Report): Item | undefined => {
  const [start, end] = node.range;
  const at = { start, end: trimmedEnd(text, start, end) };
  if ('source' in node && !isScalar(node)) {
    unreadable(report, at, `\`*${node.source}\` points elsewhere: write the value itself.`);
    return undefined;
  }
  if (node.anchor)
    unreadable(report, at, `\`&${node.anchor}\` is not for a workshop file: write each value where it belongs.`);
  if (node.tag && !node.tag.startsWith(PLAIN_TAGS))
    unreadable(report, at, `\`${node.tag}\` is not for a workshop file: write the plain value.`);
  if (isMap(node)) return { kind: 'map', ...at, pairs: pairsOf(node.items as ParsedPair[], text, report) };
  if (isSeq(node)) return { kind: 'list', ...at };
  const value = String(node.value ?? '');
  const quoted = node.type !== 'PLAIN';
  return value === '' && !quoted ? undefined : { kind: 'text', ...at, text: value, quoted };
};

const PLAIN_TAGS = 'tag:yaml.org,2002:';

interface ParsedPair {
  readonly key: ParsedNode | null;
  readonly value: ParsedNode | null;
}

/** Each key once: of several the first counts. */
const pairsOf = (items: readonly ParsedPair[], text: string, report: Report): readonly Pair[] => {
  const pairs = new Map<string, Pair>();
  for (const { key: keyNode, value } of items) {
    const key = keyNode ? itemOf(keyNode, text, report) : undefined;
    if (key?.kind !== 'text') {
      const at = key ?? emptyAt(value ?? keyNode);
      unreadable(report, at, 'A key is one word or a few, before the colon.');
      continue;
    }
    const at = { start: key.start, end: key.end };
    const first = pairs.get(key.text);
    if (first) reportTwice(report, first, at);
    else
      pairs.set(key.text, {
        key: key.text,
        quoted: key.quoted,
        at,
        value: value ? itemOf(value, text, report) : undefined,
      });
  }
  return [...pairs.values()];
};

const reportTwice = (report: Report, first: Pair, at: Span): void =>
  report.add('workshop-name-twice', at, () => ({
    says: `\`${shown(first.key)}\` stands here twice: only the first counts. Take one away, or give it another name.`,
    related: { at: first.at, says: `The first \`${shown(first.key)}\`.` },
  }));

const emptyAt = (node: ParsedNode | null): Span => ({ start: node?.range[0] ?? 0, end: node?.range[0] ?? 0 });

const unreadable = (report: Report, at: Span, says: string): void =>
  report.add('workshop-unreadable', at, () => ({ says }));

const trimmedEnd = (text: string, start: number, end: number): number => {
  let at = end;
  while (at > start && ' \t\r\n'.includes(text[at - 1]!)) at--;
  return at;
};

/** The line that an offset stands in, without the blanks around it. */
const lineAt = (text: string, offset: number): Span => {
  let start = Math.min(offset, text.length);
  while (start > 0 && text[start - 1] !== '\n') start--;
  let end = start;
  while (end < text.length && text[end] !== '\n' && text[end] !== '\r') end++;
  while (start < end && ' \t'.includes(text[start]!)) start++;
  return { start, end: Math.min(trimmedEnd(text, start, end), start + LONGEST_MARK) };
};

/** A hostile line is marked by its beginning only. */
const LONGEST_MARK = 200;

const spanOf = (error: YAMLError, document: Document.Parsed, text: string): Span => {
  const [start, end] = error.pos;
  // A quote that is never closed is found at the end of the file; the hand mends it where it opens.
  if (isOpenQuote(error)) return lineFrom(text, startOfScalar(document, start) ?? start);
  if (error.code === 'BAD_INDENT' && !isOpenBrace(error)) return lineAt(text, start);
  const blank = start >= text.length || text[start] === '\n' || text[start] === '\r';
  if (blank) return lineAt(text, trimmedEnd(text, 0, start));
  return { start, end: Math.min(Math.max(end, start + 1), lineFrom(text, start).end, text.length) };
};

const isOpenBrace = (error: YAMLError): boolean => error.code === 'BAD_INDENT' && error.message.startsWith('Flow');

const isOpenQuote = (error: YAMLError): boolean => error.code === 'MISSING_CHAR' && error.message.includes('quote');

/** From an offset to the end of its line. */
const lineFrom = (text: string, start: number): Span => {
  let end = start;
  while (end < text.length && end < start + LONGEST_MARK && text[end] !== '\n' && text[end] !== '\r') end++;
  return { start, end: trimmedEnd(text, start, end) };
};

const startOfScalar = (document: Document.Parsed, end: number): number | undefined => {
  let start: number | undefined;
  visit(document, {
    Scalar: (_, node) => {
      if (node.range?.[1] === end && node.type !== 'PLAIN') start = node.range[0];
    },
  });
  return start;
};

/** A name as a message shows it: cut, and nothing hidden in it. */
export const shown = (text: string): string => {
  const cut = text.length > 40 ? `${text.slice(0, 39)}…` : text;
  return [...cut]
    .map((char) => (HIDDEN.test(char) ? `\\u${char.charCodeAt(0).toString(16).padStart(4, '0')}` : char))
    .join('');
};

/** Control, zero-width and direction characters. */
export const HIDDEN = /[\p{Cc}\p{Cf}\u2028\u2029]/u;

const SENTENCES: ReadonlyMap<string, string> = new Map([
  ['BAD_INDENT', 'This stands too far left or right: lines that belong together begin in one column.'],
  ['TAB_AS_INDENT', 'A tab begins this line: indent with spaces.'],
  [
    'BLOCK_AS_IMPLICIT_KEY',
    'Two keys in one line: put what follows the first colon on lines of its own, or the value in quotes.',
  ],
  ['MULTILINE_IMPLICIT_KEY', 'A colon is missing in this line, or the next one is indented too far.'],
  ['BAD_SCALAR_START', 'A value cannot begin with this character: put it in quotes.'],
  ['BAD_DQ_ESCAPE', 'A backslash in double quotes means something else: use single quotes.'],
  ['BLOCK_IN_FLOW', 'Inside braces stand pairs with commas between them, not lines with indents.'],
  ['KEY_OVER_1024_CHARS', 'This key is too long.'],
  ['RESOURCE_EXHAUSTION', 'Nested too deep to be read.'],
  ['MULTIPLE_DOCS', '`---` begins a second part: a workshop file is one.'],
  ['BAD_DIRECTIVE', 'A line that begins with `%` is not for a workshop file.'],
]);

const sentence = (error: YAMLError): string => {
  if (isOpenQuote(error)) return 'A quote is opened and never closed.';
  if (isOpenBrace(error)) return 'A brace or bracket is opened and never closed.';
  if (error.code === 'MISSING_CHAR') {
    if (error.message.includes('map values')) return 'A colon is missing after this key.';
    return 'A comma, colon, bracket or blank is missing here.';
  }
  return (
    SENTENCES.get(error.code) ??
    'This cannot stand here. A line is a key, a colon, a blank and a value: `bench: 0.01 g`.'
  );
};

/**
 * A page to its sections: each day line, each entry with the indented lines below it, each block of merge markers. A section is parsed
 * alone, so an unchanged one is the same object after an edit elsewhere.
 */
import { dayInWords, looksLikeDate } from '../text/calendar';
import type { Span } from '../text/span';
import { detail, remark } from '../vocabulary/details';
import { element } from '../vocabulary/elements';
import { verb } from '../vocabulary/verbs';
import { PREFIX_WORDS } from '../vocabulary/words';
import { isOfLanguage } from './case';
import { report } from './cursor';
import { parseDay } from './day';
import { type Head, parseDetails, parseHead } from './line';
import { firstOf, isBlank, runAt } from './scan';
import { scan } from './tokens';
import type { LineNode, Page, Problem, Section, SectionKind } from './tree';
import { wordsIn } from './words';

/** A line of the whole text: `end` is before its line end, `next` behind it. */
interface RawLine {
  readonly start: number;
  readonly end: number;
  readonly next: number;
}

interface RawSection {
  readonly kind: SectionKind;
  readonly start: number;
  end: number;
  cut: boolean;
}

/** Parses a page. What stands unchanged in `before` is taken over as the same objects. Never throws; loses nothing. */
export const parsePage = (file: string, text: string, before?: Page): Page => {
  const raw = divide(text);
  const kept = before && before.file === file ? stockOf(before) : undefined;
  const sections = raw.map((section) => {
    const body = text.slice(section.start, section.end);
    const same = takeKept(kept, section, body);
    return same ?? new ParsedSection(file, section.kind, kept ? ownCopy(body) : body, section.cut);
  });
  return { file, text, sections, starts: new Map(sections.map((section, index) => [section, raw[index]!.start])) };
};

/**
 * A slice holds on to the whole text that it was cut from. Of the page as first read that is one text for all its sections; but each keystroke
 * brings a new text, and one section of it that stays.
 */
const ownCopy = (slice: string): string => slice.split('').join('');

type Stock = Map<string, Section[]>;

const stockOf = (page: Page): Stock => {
  const stock: Stock = new Map();
  for (const section of page.sections) {
    const same = stock.get(section.text);
    if (same) same.push(section);
    else stock.set(section.text, [section]);
  }
  return stock;
};

const takeKept = (stock: Stock | undefined, raw: RawSection, body: string): Section | undefined => {
  const same = stock?.get(body);
  const index = same?.findIndex((section) => section.kind === raw.kind && section.cut === raw.cut) ?? -1;
  return index >= 0 ? same!.splice(index, 1)[0] : undefined;
};

const NEWLINE = 10;
const RETURN = 13;

const lineAt = (text: string, start: number): RawLine => {
  let end = start;
  while (end < text.length && text.charCodeAt(end) !== NEWLINE && text.charCodeAt(end) !== RETURN) end++;
  const both = text.charCodeAt(end) === RETURN && text.charCodeAt(end + 1) === NEWLINE;
  return { start, end, next: Math.min(text.length, end + (both ? 2 : 1)) };
};

const divide = (text: string): RawSection[] => {
  const sections: RawSection[] = [];
  let at = 0;
  while (at < text.length) {
    const line = lineAt(text, at);
    const kind = kindOfLine(text, line, sections.at(-1));
    if (kind === 'conflict') at = takeConflict(text, line, sections);
    else {
      const last = sections.at(-1);
      if (kind === undefined && last) last.end = line.next;
      else sections.push({ kind: kind ?? 'preamble', start: line.start, end: line.next, cut: false });
      at = line.next;
    }
  }
  return sections;
};

/** The kind of section that a line opens; none if it belongs to the one above. */
const kindOfLine = (text: string, line: RawLine, above: RawSection | undefined): SectionKind | undefined => {
  const first = firstOf(text, line);
  if (first === line.end) return undefined;
  const code = text.charCodeAt(first);
  const margin = first === line.start || (first === line.start + 1 && text.charCodeAt(line.start) === 0xfeff);
  if (!margin) return undefined;
  if (isMarker(text, line)) return 'conflict';
  if (code === 35 && (first + 1 >= line.end || isBlank(text.charCodeAt(first + 1)))) return undefined;
  const isFigure = code >= 48 && code <= 57;
  if (isFigure && (text.charCodeAt(first + 4) === 45 || looksLikeDate(runAt(text, first, line.end)))) return 'day';
  if (dayInWords(text.slice(first, line.end))) return 'day';
  return above?.kind === 'entry' && belongsAbove(text, first, line.end) ? undefined : 'entry';
};

/** A detail, a remark, a reading, or a time at the margin lost its indent. */
const belongsAbove = (text: string, start: number, end: number): boolean => {
  const word = runAt(text, start, end);
  const lower = word.toLowerCase();
  if (verb(lower) || PREFIX_WORDS.has(lower)) return false;
  if (detail(lower) || remark(lower) || element(word) || lower === 'gross') return true;
  const [token] = scan(text, { start, end: start + word.length });
  return token?.kind === 'time' || token?.kind === 'number';
};

const MARKERS = ['<<<<<<<', '|||||||', '=======', '>>>>>>>'];

const isMarker = (text: string, line: RawLine): boolean => {
  const mark = MARKERS.find((candidate) => text.startsWith(candidate, line.start));
  if (!mark) return false;
  const behind = line.start + mark.length;
  return behind >= line.end || isBlank(text.charCodeAt(behind));
};

/** Takes a whole block of merge markers, or the marker alone where its end is missing. */
const takeConflict = (text: string, line: RawLine, sections: RawSection[]): number => {
  const close = text.startsWith('<<<<<<<', line.start) ? closingMarker(text, line.next) : undefined;
  const end = close?.next ?? line.next;
  const last = sections.at(-1);
  if (last?.kind === 'entry' && cutsAbove(text, line, close?.start ?? end)) last.cut = true;
  sections.push({ kind: 'conflict', start: line.start, end, cut: true });
  return end;
};

/** Whether a side of the block, or what follows it, goes on with the entry above: its first line of any matter is indented. */
const cutsAbove = (text: string, block: RawLine, to: number): boolean => {
  for (let at = block.start; at <= to && at < text.length; ) {
    const line = lineAt(text, at);
    if (isMarker(text, line) && isIndented(text, line.next)) return true;
    at = line.next;
  }
  return false;
};

const isIndented = (text: string, from: number): boolean => {
  for (let at = from; at < text.length; ) {
    const line = lineAt(text, at);
    const first = firstOf(text, line);
    if (first < line.end) return first > line.start;
    at = line.next;
  }
  return false;
};

const closingMarker = (text: string, from: number): RawLine | undefined => {
  let at = from;
  while (at < text.length) {
    const line = lineAt(text, at);
    if (isMarker(text, line) && text[line.start] === '>') return line;
    if (isMarker(text, line) && text[line.start] === '<') return undefined;
    at = line.next;
  }
  return undefined;
};

/**
 * A section keeps its text, its problems and what its head says. The tree of its lines is worked out when it is asked for, and kept for the
 * sections asked about last: the trees of ten years would fill the memory, and one takes microseconds to make again.
 */
class ParsedSection implements Section {
  readonly problems: readonly Problem[];
  readonly prefix: Section['prefix'];
  readonly verb: Section['verb'];
  readonly date: string | undefined;
  readonly mentions: ReadonlySet<string>;

  constructor(
    readonly file: string,
    readonly kind: SectionKind,
    readonly text: string,
    readonly cut: boolean,
  ) {
    const { lines, problems, head, date } = readLines(kind, text);
    this.problems = problems.length > 0 ? problems : NO_PROBLEMS;
    this.prefix = head?.prefix;
    this.verb = head?.verb;
    this.date = date;
    const isUnread = kind === 'conflict' || (kind === 'entry' && !this.verb);
    this.mentions = isUnread ? mentionsIn(text) : NOTHING;
    remember(this, lines);
  }

  get lines(): readonly LineNode[] {
    return recent.get(this) ?? remember(this, readLines(this.kind, this.text).lines);
  }
}

const NO_PROBLEMS: readonly Problem[] = [];
const MOST_RECENT = 400;
const recent = new Map<Section, readonly LineNode[]>();

const remember = (section: Section, lines: readonly LineNode[]): readonly LineNode[] => {
  if (recent.size >= MOST_RECENT) recent.delete(recent.keys().next().value!);
  recent.set(section, lines);
  return lines;
};

interface ReadLines {
  readonly lines: readonly LineNode[];
  readonly problems: Problem[];
  readonly head: Head | undefined;
  readonly date: string | undefined;
}

const readLines = (kind: SectionKind, text: string): ReadLines => {
  const problems: Problem[] = [];
  const lines: LineNode[] = [];
  let head: Head | undefined;
  let date: string | undefined;
  let at = 0;
  while (at < text.length) {
    const line = lineAt(text, at);
    const first = lines.length === 0;
    at = line.next;
    if (kind === 'conflict') lines.push(plainLine('marker', line));
    else if (first && kind === 'entry') {
      const parsed = parseHead(text, line, problems);
      head = parsed.head;
      lines.push(parsed.line);
    } else if (first && kind === 'day') {
      date = parseDay(text, line, problems);
      lines.push(plainLine('day', line, commentOf(text, line)));
    } else {
      const details = parseDetails(text, line, head?.verb?.row, problems);
      checkIndent(kind, details, problems, text);
      lines.push(details);
    }
  }
  if (kind === 'conflict') report(problems, 'merge-marker', { start: 0, end: lines[0]?.end ?? 0 }, text.slice(0, 7));
  return { lines, problems, head, date };
};

const NOTHING: ReadonlySet<string> = new Set();

const commentOf = (text: string, line: RawLine): Span | undefined => {
  const last = scan(text, line).at(-1);
  return last?.kind === 'comment' ? { start: last.start, end: last.end } : undefined;
};

const plainLine = (kind: LineNode['kind'], line: RawLine, comment?: Span): LineNode => ({
  kind,
  start: line.start,
  end: line.end,
  indent: 0,
  pieces: [],
  clock: undefined,
  comment,
});

/** Details at the margin, and details that stand under no entry. */
const checkIndent = (kind: SectionKind, line: LineNode, problems: Problem[], text: string): void => {
  if (line.kind === 'blank') return;
  const found = text.slice(line.start, line.end).trim();
  if (kind !== 'entry') report(problems, 'loose-line', { start: line.start + line.indent, end: line.end }, found);
  else if (line.indent === 0) {
    const word = { start: line.start, end: line.pieces[0]?.word?.end ?? line.clock?.time?.end ?? line.end };
    report(problems, 'missing-indent', word, text.slice(word.start, word.end), {
      mend: { start: line.start, end: line.start, text: '  ' },
    });
  }
};

/** Every word but the language's own, and every quoted name, inside a block of merge markers or an entry whose verb is not known. */
const mentionsIn = (text: string): ReadonlySet<string> => {
  const names = new Set([...wordsIn(text)].filter((word) => !isOfLanguage(word.toLowerCase())));
  let at = 0;
  while (at < text.length) {
    const line = lineAt(text, at);
    for (const token of scan(text, line)) if (token.kind === 'quoted') names.add(token.text.replaceAll('"', ''));
    at = line.next;
  }
  return names;
};

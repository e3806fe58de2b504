/**
 * A page to its sections: each day line, each entry with the indented lines below it, each block of merge markers. A section is parsed
 * alone, so an unchanged one is the same object after an edit elsewhere.
 */
import type { Span } from '../text/span';
import { isOfLanguage } from './case';
import { report } from './cursor';
import { parseDay } from './day';
import { divided, lineAt, type RawLine, type RawSection } from './divide';
import { type Head, parseDetails, parseHead } from './line';
import { scan } from './tokens';
import type { LineNode, Page, Problem, Section, SectionKind } from './tree';
import { wordsIn } from './words';

/** Parses a page. What stands unchanged in `before` is taken over as the same objects. Never throws; loses nothing. */
export const parsePage = (file: string, text: string, before?: Page): Page => {
  const known = before && before.file === file ? before.sections : undefined;
  const { head, raw, tail } = divided(text, known);
  const stock = known && stockOf(known.slice(head, known.length - tail));
  const sections = known ? known.slice(0, head) : [];
  for (const section of raw) {
    const body = text.slice(section.start, section.end);
    const same = takeKept(stock, section, body);
    sections.push(same ?? new ParsedSection(file, section.kind, known ? ownCopy(body) : body, section.cut));
  }
  if (known) for (let at = known.length - tail; at < known.length; at++) sections.push(known[at]!);
  const starts = new Map<Section, number>();
  let start = 0;
  for (const section of sections) {
    starts.set(section, start);
    start += section.text.length;
  }
  return { file, text, sections, starts };
};

/**
 * A slice holds on to the whole text that it was cut from. Of the page as first read that is one text for all its sections; but each keystroke
 * brings a new text, and one section of it that stays.
 */
const ownCopy = (slice: string): string => slice.split('').join('');

type Stock = Map<string, Section[]>;

const stockOf = (sections: readonly Section[]): Stock => {
  const stock: Stock = new Map();
  for (const section of sections) {
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

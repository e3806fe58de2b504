/** The text of a page divided into its sections, before any of them is read. */
import { dayInWords, looksLikeDate } from '../text/calendar';
import { detail, remark } from '../vocabulary/details';
import { element } from '../vocabulary/elements';
import { verb } from '../vocabulary/verbs';
import { PREFIX_WORDS } from '../vocabulary/words';
import { firstOf, isBlank, runAt } from './scan';
import { scan } from './tokens';
import type { Section, SectionKind } from './tree';

/** A line of the whole text: `end` is before its line end, `next` behind it. */
export interface RawLine {
  readonly start: number;
  readonly end: number;
  readonly next: number;
}

export interface RawSection {
  readonly kind: SectionKind;
  readonly start: number;
  end: number;
  cut: boolean;
}

/** Of the sections that were there before, so many at the head and at the tail stand as they stood; between them stands `raw`. */
interface Divided {
  readonly head: number;
  readonly raw: readonly RawSection[];
  readonly tail: number;
}

/**
 * Divides a text that mostly is that of `before`. What opens a section, and how far it goes, hangs on its own lines, on the kind of the section
 * above, and on what comes next: so of the sections that stand at the head the last is divided again, below the one above it; and at the tail one
 * stands as it was as soon as its first line opens a section of its kind. A block of merge markers looks farther ahead: none stands at the head, and
 * the tail begins with none.
 */
export const divided = (text: string, before: readonly Section[] = []): Divided => {
  let [head, from] = [0, 0];
  while (head < before.length && before[head]!.kind !== 'conflict' && text.startsWith(before[head]!.text, from)) {
    from += before[head++]!.text.length;
  }
  for (let above = 0; above < 2 && head > 0; above++) from -= before[--head]!.text.length;
  let [first, start] = [before.length, text.length];
  while (first > head && text.endsWith(before[first - 1]!.text, start)) {
    const above = start - before[first - 1]!.text.length;
    if (above < from) break;
    [first, start] = [first - 1, above];
  }
  const raw = divideFrom(text, from, (at, kind) => {
    while (first < before.length && start < at) start += before[first++]!.text.length;
    return start === at && before[first]?.kind === kind;
  });
  const end = raw.at(-1)?.end ?? from;
  while (first < before.length && start < end) start += before[first++]!.text.length;
  return { head, raw, tail: before.length - first };
};

const NEWLINE = 10;
const RETURN = 13;

export const lineAt = (text: string, start: number): RawLine => {
  let end = start;
  while (end < text.length && text.charCodeAt(end) !== NEWLINE && text.charCodeAt(end) !== RETURN) end++;
  const both = text.charCodeAt(end) === RETURN && text.charCodeAt(end + 1) === NEWLINE;
  return { start, end, next: Math.min(text.length, end + (both ? 2 : 1)) };
};

/** Divides a text from where a section begins up to where `isKnown` knows the section that begins there; it must be of the kind given. */
const divideFrom = (text: string, from: number, isKnown: (at: number, kind: SectionKind) => boolean): RawSection[] => {
  const sections: RawSection[] = [];
  let at = from;
  while (at < text.length) {
    const line = lineAt(text, at);
    const kind = kindOfLine(text, line, sections.at(-1));
    if (kind && kind !== 'conflict' && isKnown(at, kind)) break;
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

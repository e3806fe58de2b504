/**
 * White space and the case of words put in order; nothing else is touched. Two blanks of indent, one between words, two before a comment and
 * between readings, an empty line before a day and around an entry of several lines. Points are lined up where that is asked for, at a fixed
 * column: else a figure that changes would move its neighbours.
 */

import type { JournalPage } from '../journal/page';
import { wordsWithoutCase } from '../syntax/case';
import { writtenDate } from '../syntax/day';
import { isBlank } from '../syntax/scan';
import type { LineNode, PieceNode, Section, Value } from '../syntax/tree';
import { firstWhere } from '../text/lists';
import type { Span } from '../text/span';
import { linedUp, type TextEdit } from './line-up';

/**
 * Edits of the lines that a range touches, or of all; offsets in the page's text. Applied twice they change nothing more. `pointAt` is the column
 * of the decimal points, counted from 1; none where they are not lined up.
 */
export const formatEdits = ({ page }: JournalPage, range?: Span, pointAt?: number): readonly TextEdit[] => {
  const edits: TextEdit[] = [];
  for (const section of page.sections) {
    const start = page.starts.get(section)!;
    if (section.kind === 'conflict') continue;
    if (range && (start > range.end || start + section.text.length < range.start)) continue;
    for (const edit of sectionEdits(section, pointAt))
      edits.push({ ...edit, start: edit.start + start, end: edit.end + start });
  }
  const gaps = gapEdits(page);
  const wide = gaps.filter(({ start, end }) => start < end).sort((a, b) => a.start - b.start);
  const isWithinGap = (edit: TextEdit): boolean => {
    const gap = wide[firstWhere(wide, ({ end }) => edit.end <= end)];
    return gap !== undefined && gap.start <= edit.start;
  };
  const isChange = ({ start, end, text }: TextEdit): boolean => page.text.slice(start, end) !== text;
  const all = [...edits.filter((edit) => isChange(edit) && !isWithinGap(edit)), ...gaps.filter(isChange)];
  const touched = range ? all.filter(({ start, end }) => start <= range.end && range.start <= end) : all;
  // What is put in at a place stands before what is changed there.
  return touched.sort((a, b) => a.start - b.start || a.end - b.end);
};

/** Edits of the one line that holds an offset, and of nothing beside it: no line comes or goes. */
export const lineEdits = (page: JournalPage, at: number, pointAt?: number): readonly TextEdit[] => {
  const { text } = page.page;
  const start = text.lastIndexOf('\n', at - 1) + 1;
  const next = text.indexOf('\n', at);
  const line = { start, end: next < 0 ? text.length : next };
  return formatEdits(page, line, pointAt).filter(
    (edit) => line.start <= edit.start && edit.end <= line.end && !/[\n\r]/.test(edit.text),
  );
};

const INDENT = '  ';

/** Line by line, within one day line, entry or preamble. */
const sectionEdits = (section: Section, pointAt: number | undefined): TextEdit[] => {
  const edits: TextEdit[] = [];
  for (const line of section.lines) {
    if (line.kind === 'blank' && !line.comment) {
      edits.push({ start: line.start, end: line.end, text: '' });
      continue;
    }
    const from = line.start;
    const content = section.text.slice(line.start + line.indent, line.end);
    const isComment = line.comment !== undefined && line.comment.start === line.start + line.indent;
    const indent = line.indent === 0 ? '' : INDENT;
    const margin = line.indent > 0 ? [{ start: from, end: from + line.indent, text: indent }] : [];
    // What is not understood may be parted by its blanks: it is left alone.
    const isClear = !section.problems.some(({ start, end }) => start <= line.end && line.start <= end);
    const gaps = isComment || !isClear ? [] : gapsIn(section.text, line);
    const spaced = [...margin, ...gaps];
    edits.push(...(gaps.length > 0 && pointAt !== undefined ? linedUp(section.text, line, spaced, pointAt) : spaced));
    edits.push(...caseEdits(section, line));
    const length = withoutEnd(content);
    if (length < content.length) edits.push({ start: from + line.indent + length, end: line.end, text: '' });
  }
  return edits;
};

/** Runs of blanks between the words of a line; free text and what stands in quotes keep theirs. */
const gapsIn = (text: string, line: LineNode): TextEdit[] => {
  const kept = keptSpans(line);
  const start = line.start + line.indent;
  const end = line.comment?.start ?? line.end;
  const edits: TextEdit[] = [];
  const readings = new Set(line.pieces.flatMap((piece) => piece.readings.slice(1).map((reading) => reading.start)));
  for (const match of text.slice(start, end).matchAll(/[^\S\n\r]+/g)) {
    const from = start + match.index;
    const to = from + match[0].length;
    if (to >= end && line.comment === undefined) continue;
    // A byte order mark in mid page is a finding of its own: with blanks in its place the line would be another.
    if (from === start) continue;
    if (kept.some((span) => span.start < to && from < span.end)) continue;
    const isBeforeComment = to === line.comment?.start;
    // Behind the date of a day all is free text.
    const isDay = line.kind === 'day';
    if (isDay && !isBeforeComment && from > writtenDate(text, line).end) continue;
    const wide = isBeforeComment || readings.has(to) || isDay;
    edits.push({ start: from, end: to, text: text[to] === ',' && !isDay ? '' : wide ? '  ' : ' ' });
  }
  return [...edits, ...commaEdits(text, line, kept, end)];
};

/** One blank behind a comma that parts two pieces. */
const commaEdits = (text: string, line: LineNode, kept: readonly Span[], end: number): TextEdit[] => {
  const edits: TextEdit[] = [];
  for (const [index, piece] of line.pieces.entries()) {
    const next = line.pieces[index + 1];
    if (!next) continue;
    const comma = text.indexOf(',', piece.end);
    const behind = comma + 1;
    if (comma < 0 || comma >= next.start || behind >= end || behind !== next.start) continue;
    if (!kept.some((span) => span.start < behind && behind < span.end))
      edits.push({ start: behind, end: behind, text: ' ' });
  }
  return edits;
};

/** What is kept as it is written: remarks, names in quotes, the words of a clock line and of a day. */
const keptSpans = (line: LineNode): readonly Span[] => {
  const texts: Span[] = [];
  const ofValue = (value: Value): void => {
    if (value.shape === 'text' || (value.shape === 'word' && value.word.quoted)) texts.push(value);
    if (value.was) ofValue(value.was);
  };
  for (const piece of line.pieces) {
    for (const value of piece.values) ofValue(value);
    if (piece.kind === 'stray' || isUnread(piece)) texts.push({ start: piece.start, end: piece.end });
  }
  if (line.clock) texts.push(line.clock.text);
  if (line.kind === 'marker') texts.push(line);
  return texts;
};

/** A piece whose word is not known may be anything. */
const isUnread = ({ kind, row, word }: PieceNode): boolean =>
  kind !== 'reading' && kind !== 'amount' && !row && word !== undefined;

/** Words of the language in lower case. */
const caseEdits = (section: Section, line: LineNode): TextEdit[] =>
  wordsWithoutCase(section, line).flatMap(({ start, end }) => {
    const written = section.text.slice(start, end);
    const lower = written.toLowerCase();
    return written === lower || written.startsWith('"') ? [] : [{ start, end, text: lower }];
  });

/** Runs of blank lines, each from the start of its first to the end of its last. */
function* blankRuns(text: string): Generator<Span & { readonly lines: number }> {
  let [from, lines] = [0, 0];
  for (let start = 0; start < text.length; ) {
    const end = text.indexOf('\n', start) + 1 || text.length;
    const isBlank =
      text[end - 1] === '\n' && isAllBlank(text.slice(start, end).replace('\r\n', '').replaceAll('\r', '.'));
    if (isBlank) lines++;
    else {
      if (lines > 0) yield { start: from, end: start, lines };
      [from, lines] = [end, 0];
    }
    start = end;
  }
  if (lines > 0) yield { start: from, end: text.length, lines };
}

/** Empty lines: one before a day and around an entry of several lines, never two, none at the ends of the page. */
const gapEdits = (page: JournalPage['page']): TextEdit[] => {
  const { text, sections, starts } = page;
  const newline = text.includes('\r\n') ? '\r\n' : '\n';
  const edits: TextEdit[] = [];
  for (const { start, end, lines } of blankRuns(text)) {
    if (start === 0 && lines > 2) edits.push({ start, end, text: '' });
    if (start > 0 && lines > 1) edits.push({ start, end, text: newline });
  }
  for (const [index, section] of sections.entries()) {
    const before = sections[index - 1];
    if (!before || section.kind === 'conflict' || before.kind === 'conflict') continue;
    const start = starts.get(section)!;
    const wantsGap = section.kind === 'day' || isLong(section) || isLong(before) || before.kind === 'day';
    // Of what stands above, its white end alone is read: a long page has thousands of entries.
    const above = text.slice(withoutEnd(text.slice(0, start), isWhite), start);
    const hasGap = above.length === start || /(?:\r\n|\n|\r)[^\S\n\r]*(?:\r\n|\n|\r)$/.test(above);
    // A comment above belongs to what it stands above.
    if (wantsGap && !hasGap && !endsInComment(before.text))
      edits.push({ start, end: start, text: endingOf(above) ?? newline });
  }
  const last = withoutEnd(text, isWhite);
  const end = { start: last, end: text.length, text: last === 0 ? '' : newline };
  return [...edits.filter((edit) => edit.start < last), end];
};

/** How the line above ends: in a page of mixed endings, another one could join with it into one. */
const endingOf = (above: string): string | undefined => /(?:\r\n|\n|\r)$/.exec(above)?.[0];

/** Of more lines than one; comments behind it, at the edge of the page, are no part of it. */
const isLong = ({ kind, lines }: Section): boolean =>
  kind === 'entry' &&
  lines.slice(1).some((line) => line.kind !== 'blank' || (line.comment !== undefined && line.indent > 0));

/** Without blanks at its end; a hidden character is none, it is told of. */
const withoutEnd = (text: string, isSo = isBlank): number => {
  let length = text.length;
  while (length > 0 && isSo(text.charCodeAt(length - 1))) length--;
  return length;
};

/** A blank, or of a line end. */
const isWhite = (code: number): boolean => isBlank(code) || code === 10 || code === 13;

const isAllBlank = (text: string): boolean => withoutEnd(text.replace(/[\n\r]/g, '')) === 0;

const endsInComment = (text: string): boolean => text.trimEnd().split('\n').at(-1)!.trimStart().startsWith('#');

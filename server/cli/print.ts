/** Findings as text: where, how grave, what, and the line itself with a mark below it. */
import type { Finding, Severity } from '../rules/rule';
import type { Lines } from '../text/lines';
import type { Place } from '../text/place';
import type { Span } from '../text/span';
import { visible } from '../text/visible';
import { linesOf } from '../workspace/lines';
import { locate, type Workspace } from '../workspace/workspace';
import { shortPath } from './journals';
import { type Paint, SEVERITY_COLOUR } from './paint';

/** The file as seen from here, and the line. */
export const whereIs = (workspace: Workspace, place: Place): { readonly file: string; readonly line: number } => {
  const { file, start } = locate(workspace, place);
  return { file: shortPath(file), line: linesOf(workspace, file).positionOf(start).line };
};

/** `2026-05.melt:34`. */
export const whereWords = (workspace: Workspace, place: Place): string => {
  const { file, line } = whereIs(workspace, place);
  return `${file}:${line}`;
};

export const findingText = (workspace: Workspace, finding: Finding, paint: Paint): string => {
  const { file, ...range } = locate(workspace, finding.place);
  const lines = linesOf(workspace, file);
  const { line, column } = lines.positionOf(range.start);
  const severity = paint(SEVERITY_COLOUR[finding.severity], finding.severity);
  const where = `${visible(shortPath(file))}:${line}:${column}`;
  const says = visible(finding.says);
  const related = (finding.related ?? []).map((other) => {
    const place = locate(workspace, other.place);
    const at = linesOf(workspace, place.file).positionOf(place.start);
    return `    ${visible(shortPath(place.file))}:${at.line}:${at.column}: ${visible(other.says)}`;
  });
  return [
    `${paint('bold', where)}: ${severity}: ${says} ${paint('dim', `[${finding.code}]`)}`,
    ...markedLines(lines, range, SEVERITY_COLOUR[finding.severity], paint),
    ...related,
  ].join('\n');
};

/** No more of a long line than that is shown. */
const WIDEST = 120;
const BEFORE_MARK = 40;

/** The source line and a row of carets below the range; of a range over several lines, the first. */
export const markedLines = (
  lines: Lines,
  { start, end }: Span,
  colour: Parameters<Paint>[0],
  paint: Paint,
): string[] => {
  const { line, column } = lines.positionOf(start);
  const text = lines.lineAt(line);
  const from = Math.min(column - 1, text.length);
  const to = Math.max(from, Math.min(text.length, from + end - start));
  const first = text.length > WIDEST ? Math.max(0, from - BEFORE_MARK) : 0;
  const last = Math.min(text.length, first + WIDEST);
  const lead = first > 0 ? '…' : '';
  const before = visible(text.slice(first, from));
  const marks = '^'.repeat(Math.max(1, widthOf(visible(text.slice(from, Math.min(to, last))))));
  const number = `${line}`.padStart(5);
  return [
    `${paint('dim', `${number} | `)}${lead}${before}${visible(text.slice(from, last))}${last < text.length ? '…' : ''}`,
    `${paint('dim', `${' '.repeat(number.length)} | `)}${' '.repeat(lead.length)}${blankLike(before)}${paint(colour, marks)}`,
  ];
};

/** As wide as the text, its tabs kept. */
const blankLike = (text: string): string =>
  [...text].map((character) => (character === '\t' ? '\t' : ' '.repeat(widthOf(character)))).join('');

/** Columns of a terminal: two for the wide letters of East Asia, none for marks that join the letter before. */
export const widthOf = (text: string): number => {
  let width = 0;
  for (const character of text) {
    const code = character.codePointAt(0)!;
    if ((code >= 0x300 && code <= 0x36f) || (code >= 0xfe00 && code <= 0xfe0f)) continue;
    const isWide =
      (code >= 0x1100 && code <= 0x115f) ||
      (code >= 0x2e80 && code <= 0xa4cf) ||
      (code >= 0xac00 && code <= 0xd7a3) ||
      (code >= 0xf900 && code <= 0xfaff) ||
      (code >= 0xfe30 && code <= 0xfe6f) ||
      (code >= 0xff00 && code <= 0xff60) ||
      (code >= 0x1f300 && code <= 0x1faff);
    width += isWide ? 2 : 1;
  }
  return width;
};

export const terminalWidth = widthOf;

const SEVERITIES: readonly Severity[] = ['error', 'warning', 'hint'];

export type Counts = Readonly<Record<Severity, number>>;

export const countsOf = (findings: readonly Finding[]): Counts => {
  const counts = { error: 0, warning: 0, hint: 0 };
  for (const { severity } of findings) counts[severity]++;
  return counts;
};

/** `3 findings in 2 pages: 1 error, 2 warnings.` A run that could not read all says so. */
export const summary = (counts: Counts, pages: number, isPartial: boolean): string => {
  const of = counted(pages, 'page');
  const total = counts.error + counts.warning + counts.hint;
  const rest = isPartial ? ' Not everything could be read.' : '';
  if (total === 0) return `${of} checked: nothing found.${rest}`;
  const parts = SEVERITIES.filter((severity) => counts[severity] > 0).map((severity) =>
    counted(counts[severity], severity),
  );
  return `${counted(total, 'finding')} in ${of}: ${parts.join(', ')}.${rest}`;
};

export const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`;

/** Figures stand in one column where the lines leave room for it: so far, a 40-character figure ends within 100 columns. */
const WIDEST_COLUMN = 57;
const MARK = '│';

/** Lines of text with a figure at the end of some; `labels` by line, from 1. */
export const besideLines = (
  texts: readonly string[],
  labels: ReadonlyMap<number, string>,
  paint: Paint,
): readonly string[] => {
  const hinted = texts.filter((_, index) => labels.has(index + 1)).map(terminalWidth);
  const column = Math.max(0, ...hinted.filter((width) => width <= WIDEST_COLUMN));
  return texts.map((text, index) => {
    const label = labels.get(index + 1);
    if (label === undefined) return text;
    const room = ' '.repeat(Math.max(0, column - terminalWidth(text)));
    return `${text}${room} ${paint('dim', `${MARK} `)}${paint('cyan', visible(label))}`;
  });
};

/**
 * Pages of the journal as test cases: what is expected stands in the text, as a comment of the language below the line that it speaks of.
 *
 * ```
 * melt M57
 *   in TE-31d 203.88
 * #           ^^^^^^ missing-unit
 * ```
 *
 * A mark that begins at the margin is `<`: `# <^^^ unknown-verb` reaches from the margin to its last `^`, `# < missing-indent` to the `<`.
 */
import { type JournalPage, readPage } from '../../server/journal/page';
import { parsePage } from '../../server/syntax/parse';
import type { Problem } from '../../server/syntax/tree';

export const PAGE = 'page.melt';

/** A text as a page of a journal; what is unchanged in `before` is taken over. */
export const pageOf = (text: string, before?: JournalPage, file = PAGE): JournalPage =>
  readPage(parsePage(file, text, before?.page), before);

export interface Found {
  readonly code: string;
  /** Offsets in the page's text. */
  readonly start: number;
  readonly end: number;
}

/** What the form of the page shows to be wrong, in the order of the text. */
export const problemsOf = ({ page }: JournalPage): (Found & Problem)[] =>
  page.sections
    .flatMap((section) => {
      const from = page.starts.get(section)!;
      return section.problems.map((problem) => ({ ...problem, start: from + problem.start, end: from + problem.end }));
    })
    .sort((a, b) => a.start - b.start || a.end - b.end);

/** The page with one mend made. */
export const mended = (journal: JournalPage, problem: Found & Problem): string => {
  const { page } = journal;
  const section = page.sections.findLast((candidate) => page.starts.get(candidate)! <= problem.start)!;
  const from = page.starts.get(section)!;
  const mend = problem.mend!;
  return page.text.slice(0, from + mend.start) + mend.text + page.text.slice(from + mend.end);
};

/** The findings that the marks in a text ask for. */
export const marksOf = (text: string): Found[] => {
  const marks: Found[] = [];
  let above = 0;
  let at = 0;
  for (const line of text.split('\n')) {
    const mark = markIn(line);
    if (!mark) above = at;
    else marks.push({ code: mark.code, start: above + mark.start, end: above + mark.end });
    at += line.length + 1;
  }
  return marks.sort((a, b) => a.start - b.start || a.end - b.end);
};

const MARK = /^#( +)(<?)(\^*) ([a-z][a-z-]*)$/;

const markIn = (line: string): Found | undefined => {
  const [, blanks, margin, carets, code] = MARK.exec(line) ?? [];
  if (blanks === undefined || code === undefined || (!margin && !carets)) return undefined;
  const first = 1 + blanks.length;
  const length = margin && carets ? carets.length + 1 : carets!.length;
  return { code, start: margin ? 0 : first, end: first + length };
};

/** Findings as lines to compare: line number, what is marked, and the code. An empty place is shown as the character behind it. */
export const described = (text: string, found: readonly Found[]): string[] =>
  found.map(({ code, start, end }) => {
    const line = text.slice(0, start).split('\n').length;
    const column = start - (text.lastIndexOf('\n', start - 1) + 1);
    return `${line}:${column} "${text.slice(start, Math.max(end, start + 1))}" ${code}`;
  });

/** Several files in one text: each begins with a line `#== NAME`. Without any it is all one page. */
export const filesOf = (text: string): ReadonlyMap<string, string> => {
  const files = new Map<string, string>();
  let name = PAGE;
  let lines: string[] = [];
  const close = (): void => {
    if (lines.length > 0) files.set(name, lines.join('\n'));
  };
  for (const line of text.split('\n')) {
    if (!line.startsWith('#== ')) lines.push(line);
    else {
      close();
      name = line.slice(4).trim();
      lines = [];
    }
  }
  close();
  return files;
};

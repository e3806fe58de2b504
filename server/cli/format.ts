/**
 * `fineweight format`: what putting pages in form would change, as a patch that git takes (`fineweight format | git apply`). It writes no page
 * itself: whoever applies the patch has seen it, and can undo it.
 */
import { closeSync, openSync, readSync } from 'node:fs';
import { relative, sep } from 'node:path';
import { createTwoFilesPatch, FILE_HEADERS_ONLY } from 'diff';
import { formatEdits } from '../features/format';
import type { TextEdit } from '../features/line-up';
import { isPage } from '../files/names';
import { visible } from '../text/visible';
import type { Outcome } from './check';
import type { Opened } from './journals';
import { counted } from './print';

export interface FormatOptions {
  /** Names the pages alone. */
  readonly check: boolean;
  /** Column of the decimal points, counted from 1; undefined where they are not lined up. */
  readonly pointAt: number | undefined;
}

export const format = (opened: Opened, { check, pointAt }: FormatOptions): Outcome => {
  const pages = opened.journals.flatMap(({ workspace, asked }) =>
    asked.filter(isPage).map((file) => ({ workspace, file })),
  );
  const changed = pages.flatMap(({ workspace, file }) => {
    const page = workspace.pages.get(file);
    const edits = page ? formatEdits(page, undefined, pointAt) : [];
    return edits.length > 0 ? [{ file, text: page!.page.text, edits }] : [];
  });
  const exit = opened.failures.length > 0 ? 2 : changed.length > 0 ? 1 : 0;
  if (check) {
    const names = changed.map(({ file }) => `${visible(shown(file))}\n`).join('');
    return { text: `${names}${summaryOf(changed.length, pages.length)}\n`, exit };
  }
  return { text: changed.map(({ file, text, edits }) => patchOf(file, text, edits)).join(''), exit };
};

const summaryOf = (changed: number, pages: number): string =>
  changed === 0
    ? `${counted(pages, 'page')} in form.`
    : `${changed} of ${counted(pages, 'page')} not in form: \`fineweight format\` shows what would change.`;

const patchOf = (file: string, text: string, edits: readonly TextEdit[]): string => {
  // The mark before the first character is no part of the text that is read, but of the first line that git compares.
  const mark = startsWithMark(file) ? '\uFEFF' : '';
  const [before, after] = [mark + text, mark + applied(text, edits)];
  const name = shown(file);
  return createTwoFilesPatch(`a/${name}`, `b/${name}`, before, after, undefined, undefined, {
    context: 3,
    headerOptions: FILE_HEADERS_ONLY,
  });
};

const applied = (text: string, edits: readonly TextEdit[]): string => {
  let [made, from] = ['', 0];
  for (const edit of edits) {
    made += text.slice(from, edit.start) + edit.text;
    from = Math.max(from, edit.end);
  }
  return made + text.slice(from);
};

const startsWithMark = (file: string): boolean => {
  const bytes = Buffer.alloc(3);
  const from = openSync(file, 'r');
  try {
    readSync(from, bytes);
  } finally {
    closeSync(from);
  }
  return bytes.equals(Buffer.from('\uFEFF'));
};

/** As git names it from here. */
const shown = (file: string): string => relative(process.cwd(), file).split(sep).join('/');

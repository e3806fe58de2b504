/** What can be folded: days, entries of more than one line, blocks of comments. */
import type { JournalPage } from '../journal/page';
import type { Span } from '../text/span';

export interface Fold extends Span {
  readonly kind: 'region' | 'comment';
}

/** Offsets in the page's text, from the first line that stays to the end of the last that is folded. */
export const foldsOf = ({ page }: JournalPage): readonly Fold[] => {
  const folds: Fold[] = [];
  let day: number | undefined;
  let end = 0;
  const closeDay = (): void => {
    if (day !== undefined && end > day) folds.push({ start: day, end, kind: 'region' });
  };
  for (const section of page.sections) {
    const start = page.starts.get(section)!;
    const last = start + trimmedLength(section.text);
    if (section.kind === 'day') {
      closeDay();
      day = start;
    }
    if (section.kind === 'entry' && section.text.slice(0, last - start).includes('\n'))
      folds.push({ start, end: last, kind: 'region' });
    if (last > start) end = last;
  }
  closeDay();
  return [...folds, ...commentBlocks(page.text)].sort((a, b) => a.start - b.start || b.end - a.end);
};

const trimmedLength = (text: string): number => text.trimEnd().length;

/** Two or more lines that are comments and nothing else. */
const commentBlocks = (text: string): readonly Fold[] => {
  const blocks: Fold[] = [];
  let block: { start: number; end: number; lines: number } | undefined;
  let at = 0;
  for (const line of text.split('\n')) {
    const isComment = /^\s*#(\s|$)/.test(line);
    if (isComment && block) block = { start: block.start, end: at + line.trimEnd().length, lines: block.lines + 1 };
    else if (isComment) block = { start: at, end: at + line.trimEnd().length, lines: 1 };
    if (!isComment || at + line.length >= text.length) {
      if (block && block.lines > 1) blocks.push({ start: block.start, end: block.end, kind: 'comment' });
      block = undefined;
    }
    at += line.length + 1;
  }
  return blocks;
};

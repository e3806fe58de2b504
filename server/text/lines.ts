/** Lines of a text, counted from 0; whatever the line ending. */

/** The line that an offset lies in. */
export const lineAt = (text: string, offset: number): number => text.slice(0, offset).split('\n').length - 1;

/** Where a line begins. */
export const lineStart = (text: string, line: number): number =>
  text
    .split('\n')
    .slice(0, line)
    .reduce((at, one) => at + one.length + 1, 0);

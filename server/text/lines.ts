/** Lines of a text, counted from 0; whatever the line ending. */
import { firstWhere } from './lists';
/** The line that an offset lies in. */
export const lineAt = (text: string, offset: number): number => text.slice(0, offset).split('\n').length - 1;

/** Where a line begins. */
export const lineStart = (text: string, line: number): number =>
  text
    .split('\n')
    .slice(0, line)
    .reduce((at, one) => at + one.length + 1, 0);

/** Lines and columns from 1; columns in UTF-16 units, as editors count. */
export interface Position {
  readonly line: number;
  readonly column: number;
}

/** Where the lines of a text begin, so that many offsets can be told. */
export class Lines {
  readonly text: string;
  private readonly starts: readonly number[];

  constructor(text: string) {
    this.text = text;
    const starts = [0];
    for (let at = 0; at < text.length; at++) {
      const isReturn = text[at] === '\r';
      if (text[at] !== '\n' && !isReturn) continue;
      if (isReturn && text[at + 1] === '\n') at++;
      starts.push(at + 1);
    }
    this.starts = starts;
  }

  positionOf(offset: number): Position {
    const line = Math.max(
      1,
      firstWhere(this.starts, (start) => start > offset),
    );
    return { line, column: offset - this.starts[line - 1]! + 1 };
  }

  /** A line without its end; lines from 1. */
  lineAt(line: number): string {
    const text = this.text.slice(this.starts[line - 1], this.starts[line]);
    let end = text.length;
    while (end > 0 && (text[end - 1] === '\n' || text[end - 1] === '\r')) end--;
    return text.slice(0, end);
  }
}

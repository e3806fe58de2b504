/** Places in a text, as half-open ranges of UTF-16 offsets. What they count from is said by whoever holds them. */

export interface Span {
  readonly start: number;
  readonly end: number;
}

export const span = (start: number, end: number): Span => ({ start, end });
export const shift = (range: Span, by: number): Span => ({ start: range.start + by, end: range.end + by });
export const cover = (first: Span, last: Span): Span => ({ start: first.start, end: last.end });
export const contains = (range: Span, offset: number): boolean => range.start <= offset && offset <= range.end;
export const overlaps = (a: Span, b: Span): boolean => a.start <= b.end && b.start <= a.end;
export const textAt = (text: string, range: Span): string => text.slice(range.start, range.end);

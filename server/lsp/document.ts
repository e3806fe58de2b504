/** An open buffer: its text, and where the last change fell. Positions are UTF-16, as the protocol counts. */
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Span } from '../text/span';

export interface OpenDocument {
  readonly id: string;
  /** The address as the client spells it. */
  readonly uri: string;
  readonly lines: TextDocument;
}

/** A change as the protocol sends it; without a range it is the whole text. */
export interface TextChange {
  readonly range?: { readonly start: Point; readonly end: Point };
  readonly text: string;
}

interface Point {
  readonly line: number;
  readonly character: number;
}

/** What a batch of changes touched, in the new text. */
export interface Touched extends Span {
  /** Where the last change ended: the caret, as far as a server can tell. */
  readonly caret: number;
}

export const openDocument = (id: string, uri: string, version: number, text: string): OpenDocument => ({
  id,
  uri,
  lines: TextDocument.create(uri, 'melt', version, text),
});

/** Applies changes one after another, in place, and tells what they touched together. */
export const applyChanges = (document: OpenDocument, version: number, changes: readonly TextChange[]): Touched => {
  let touched: Touched | undefined;
  for (const change of changes) {
    const one = applyChange(document.lines, version, change);
    touched = touched ? join(touched, one) : one.touched;
  }
  return touched ?? { start: 0, end: 0, caret: 0 };
};

interface Applied {
  readonly touched: Touched;
  readonly removed: number;
}

const applyChange = (lines: TextDocument, version: number, change: TextChange): Applied => {
  if (!change.range) return replaceAll(lines, version, change.text);
  const { start, end } = change.range;
  const [from, to] = [lines.offsetAt(start), lines.offsetAt(end)].sort((a, b) => a - b) as [number, number];
  TextDocument.update(lines, [{ range: change.range, text: change.text }], version);
  const stop = from + change.text.length;
  return { touched: { start: from, end: stop, caret: stop }, removed: to - from };
};

const replaceAll = (lines: TextDocument, version: number, text: string): Applied => {
  const before = lines.getText();
  TextDocument.update(lines, [{ text }], version);
  const shorter = Math.min(before.length, text.length);
  let head = 0;
  while (head < shorter && before.charCodeAt(head) === text.charCodeAt(head)) head++;
  let tail = 0;
  while (
    tail < shorter - head &&
    before.charCodeAt(before.length - 1 - tail) === text.charCodeAt(text.length - 1 - tail)
  )
    tail++;
  const end = text.length - tail;
  return { touched: { start: head, end, caret: end }, removed: before.length - tail - head };
};

const join = (before: Touched, { touched, removed }: Applied): Touched => {
  const grown = touched.end - touched.start - removed;
  const moved = (offset: number): number => {
    if (offset <= touched.start) return offset;
    return offset >= touched.start + removed ? offset + grown : touched.end;
  };
  return {
    start: Math.min(moved(before.start), touched.start),
    end: Math.max(moved(before.end), touched.end),
    caret: touched.caret,
  };
};

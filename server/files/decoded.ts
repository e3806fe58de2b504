/** What a file holds, or a plain sentence on why it cannot be taken. */
import { lastSegment } from './names';
import { decodeUtf8 } from './utf8';

export const MEGABYTE = 1024 * 1024;
/** Editors show no larger file to an extension. */
export const REFUSED_OVER_BYTES = 50 * MEGABYTE;
/** Above this a page is read, but slowly: it wants splitting by month. */
export const LARGE_OVER_BYTES = 5 * MEGABYTE;

export type FailureKind =
  | 'missing'
  | 'directory'
  | 'no-permission'
  | 'not-utf8'
  | 'too-large'
  | 'not-a-journal'
  | 'unreadable';

export interface FileText {
  readonly ok: true;
  readonly path: string;
  readonly text: string;
  /** A sentence for the reader, where the file is larger than is good. */
  readonly note: string | undefined;
}

export interface FileFailure {
  readonly ok: false;
  readonly path: string;
  readonly kind: FailureKind;
  /** A plain sentence that begins with the file's name. */
  readonly says: string;
  /** Of a file that is not UTF-8: the line and column (from 1) of its first bad byte. */
  readonly at: { readonly line: number; readonly column: number } | undefined;
}

export type FileResult = FileText | FileFailure;

/** The text of a file's bytes. */
export const decoded = (path: string, bytes: Uint8Array): FileResult => {
  const result = decodeUtf8(bytes);
  if (result.ok) return { ok: true, path, text: result.text, note: largeNote(path, bytes.length) };
  if ('utf16' in result) return failure(path, 'not-utf8', 'is UTF-16; save it as UTF-8', { line: 1, column: 1 });
  const { line, column, byte } = result;
  const hex = byte.toString(16).toUpperCase().padStart(2, '0');
  const says = `is not UTF-8: byte ${hex} at line ${line}, column ${column}; save it as UTF-8`;
  return failure(path, 'not-utf8', says, { line, column });
};

const largeNote = (path: string, bytes: number): string | undefined =>
  bytes > LARGE_OVER_BYTES
    ? `${lastSegment(path)} is ${megabytes(bytes)} MB; one page a month keeps a journal quick.`
    : undefined;

export const tooLarge = (path: string, bytes: number): FileFailure =>
  failure(path, 'too-large', `is ${megabytes(bytes)} MB and is not read; split it into pages of at most 50 MB`);

const megabytes = (bytes: number): number => Math.round(bytes / MEGABYTE);

export const failure = (path: string, kind: FailureKind, says: string, at?: FileFailure['at']): FileFailure => ({
  ok: false,
  path,
  kind,
  says: `${lastSegment(path)} ${says}.`,
  at,
});

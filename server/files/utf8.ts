/** Bytes to text. Strict: what is not UTF-8 is refused with its first bad byte's place, never patched up. */

export type Decoded =
  | { readonly ok: true; readonly text: string }
  /** The first bad byte: its value, its place in the file from 0, and its line and column from 1. */
  | {
      readonly ok: false;
      readonly byte: number;
      readonly offset: number;
      readonly line: number;
      readonly column: number;
    }
  | { readonly ok: false; readonly utf16: true };

const strict = new TextDecoder('utf-8', { fatal: true });

/** Decodes a file's bytes; a byte order mark at its start is dropped, as editors do. */
export const decodeUtf8 = (bytes: Uint8Array): Decoded => {
  if (startsAsUtf16(bytes)) return { ok: false, utf16: true };
  try {
    return { ok: true, text: strict.decode(bytes) };
  } catch {
    return firstBadByte(bytes);
  }
};

const startsAsUtf16 = (bytes: Uint8Array): boolean =>
  (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);

const firstBadByte = (bytes: Uint8Array): Decoded => {
  let offset = 0;
  for (let length = sequenceAt(bytes, offset); length > 0; length = sequenceAt(bytes, offset)) offset += length;
  const lines = strict.decode(bytes.subarray(0, offset)).split(/\r\n|\r|\n/);
  return { ok: false, byte: bytes[offset]!, offset, line: lines.length, column: lines.at(-1)!.length + 1 };
};

/** Length in bytes of the well-formed character at an offset; 0 where there is none. The ranges are table 3-7 of the Unicode Standard. */
const sequenceAt = (bytes: Uint8Array, offset: number): number => {
  const first = bytes[offset] ?? 0xff;
  if (first < 0x80) return 1;
  const length = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
  if (first < 0xc2 || first > 0xf4) return 0;
  const second = bytes[offset + 1] ?? 0;
  if (second < leastSecond(first) || second > greatestSecond(first)) return 0;
  for (let place = 2; place < length; place++) {
    if (((bytes[offset + place] ?? 0) & 0xc0) !== 0x80) return 0;
  }
  return length;
};

const leastSecond = (first: number): number => (first === 0xe0 ? 0xa0 : first === 0xf0 ? 0x90 : 0x80);
const greatestSecond = (first: number): number => (first === 0xed ? 0x9f : first === 0xf4 ? 0x8f : 0xbf);

/** Reading journal files: bytes that are no text, links that lead astray, sizes, and the sentences that say so. */
import { chmodSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readJournalFile } from '../../server/files/read';
import { decodeUtf8 } from '../../server/files/utf8';
import { DEPTH_LIMIT, isReachable, walkJournal } from '../../server/files/walk';

let root = '';

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'fineweight-'));
});

afterEach(() => rmSync(root, { recursive: true, force: true }));

const write = (name: string, content: string | Uint8Array = 'note x\n'): string => {
  const path = join(root, name);
  mkdirSync(join(path, '..'), { recursive: true });
  writeFileSync(path, content);
  return path;
};

const found = (folder = root): string[] => walkJournal(folder).files.map(({ path }) => path.slice(root.length + 1));

describe('decoding', () => {
  test('takes UTF-8 of every length, and drops a byte order mark', () => {
    expect(decodeUtf8(Buffer.from('\uFEFFa é ‰ 𝔐'))).toEqual({ ok: true, text: 'a é ‰ 𝔐' });
  });

  test('tells the first bad byte: Latin-1 in the third line', () => {
    const bytes = Buffer.concat([Buffer.from('a\r\n‰ b\nc 𝔐'), Buffer.from([0xe9, 0x20])]);
    expect(decodeUtf8(bytes)).toEqual({ ok: false, byte: 0xe9, offset: 15, line: 3, column: 5 });
  });

  // The Unicode Standard, table 3-7: overlong forms, surrogates, and what is above U+10FFFF are ill-formed.
  test.each([
    [[0xc0, 0xaf]],
    [[0xe0, 0x9f, 0xbf]],
    [[0xed, 0xa0, 0x80]],
    [[0xf0, 0x8f, 0xbf, 0xbf]],
    [[0xf4, 0x90, 0x80, 0x80]],
    [[0xf5, 0x80, 0x80, 0x80]],
    [[0x80]],
    [[0xe2, 0x82]],
  ])('refuses %j at its first byte', (bad) => {
    expect(decodeUtf8(Uint8Array.from([0x61, ...bad]))).toMatchObject({ ok: false, offset: 1, line: 1, column: 2 });
  });

  test('places the first bad byte where the platform decoder first refuses', () => {
    const accepts = (bytes: Uint8Array): boolean => {
      try {
        new TextDecoder('utf-8', { fatal: true }).decode(bytes);
        return true;
      } catch {
        return false;
      }
    };
    const wrong: string[] = [];
    for (let first = 0x80; first < 0x100; first++) {
      for (let second = 0; second < 0x100; second++) {
        for (const tail of [[], [0x80], [0x80, 0x80], [0x41]]) {
          const bytes = Uint8Array.from([0x61, first, second, ...tail]);
          const result = decodeUtf8(bytes);
          if (result.ok || 'utf16' in result) continue;
          const isFirst = result.offset < bytes.length && accepts(bytes.subarray(0, result.offset));
          if (!isFirst) wrong.push(bytes.join(' '));
        }
      }
    }
    expect(wrong).toEqual([]);
  });
});

describe('reading', () => {
  test('gives the text', () => {
    expect(readJournalFile(write('may.melt', 'note ‰\n'))).toMatchObject({
      ok: true,
      text: 'note ‰\n',
      note: undefined,
    });
  });

  test('says in a sentence why not', () => {
    const says = (path: string): string => {
      const result = readJournalFile(path);
      return result.ok ? 'read' : result.says;
    };
    mkdirSync(join(root, 'folder.melt'));
    expect(says(join(root, 'none.melt'))).toBe('none.melt is not there.');
    expect(says(join(root, 'folder.melt'))).toBe('folder.melt is a folder.');
    expect(says(write('list.txt'))).toBe('list.txt is neither a .melt page nor a workshop.yaml.');
    expect(says(write('old.melt', Uint8Array.from([0x61, 0x0a, 0x62, 0xe9])))).toBe(
      'old.melt is not UTF-8: byte E9 at line 2, column 2; save it as UTF-8.',
    );
    expect(says(write('wide.melt', Uint8Array.from([0xff, 0xfe, 0x61, 0])))).toBe(
      'wide.melt is UTF-16; save it as UTF-8.',
    );
  });

  test.skipIf(process.getuid?.() === 0)('says that there is no permission', () => {
    const path = write('shut.melt');
    chmodSync(path, 0);
    expect(readJournalFile(path)).toMatchObject({ ok: false, kind: 'no-permission' });
  });

  test('refuses above 50 MB, and notes above 5 MB', () => {
    const path = write('long.melt', '');
    truncateSync(path, 50 * 1024 * 1024 + 1);
    expect(readJournalFile(path)).toMatchObject({ ok: false, kind: 'too-large' });
    truncateSync(path, 6 * 1024 * 1024);
    expect(readJournalFile(path)).toMatchObject({
      ok: true,
      note: 'long.melt is 6 MB; one page a month keeps a journal quick.',
    });
  });
});

describe('walking', () => {
  test('finds pages and workshop files, in order, and nothing else', () => {
    for (const name of ['b.melt', 'a/x.MELT', 'a/workshop.yaml', 'c.txt', '.git/d.melt', 'node_modules/e.melt'])
      write(name);
    expect(found()).toEqual(['a/workshop.yaml', 'a/x.MELT', 'b.melt']);
  });

  test('comes upon a real file once, whatever links lead to it', () => {
    write('a/x.melt');
    symlinkSync(join(root, 'a'), join(root, 'b'));
    symlinkSync(root, join(root, 'a/round'));
    symlinkSync(join(root, 'a/x.melt'), join(root, 'z.melt'));
    symlinkSync(join(root, 'self'), join(root, 'self'));
    expect(found()).toEqual(['a/x.melt']);
  });

  test('does not leave the root by a link', () => {
    write('outside/x.melt');
    write('outside/secret.txt');
    write('in/y.melt');
    symlinkSync(join(root, 'outside'), join(root, 'in/out'));
    symlinkSync(join(root, 'outside/x.melt'), join(root, 'in/x.melt'));
    symlinkSync(join(root, 'outside/secret.txt'), join(root, 'in/secret.melt'));
    expect(found(join(root, 'in'))).toEqual(['in/y.melt']);
    expect(isReachable(join(root, 'in'), join(root, 'in/x.melt'))).toBe(false);
    expect(isReachable(join(root, 'in'), join(root, 'in/y.melt'))).toBe(true);
    expect(isReachable(join(root, 'in'), join(root, 'in/../outside/x.melt'))).toBe(false);
  });

  test('reads a root that is itself a link', () => {
    write('real/x.melt');
    symlinkSync(join(root, 'real'), join(root, 'link'));
    expect(found(join(root, 'link'))).toEqual(['link/x.melt']);
    expect(isReachable(join(root, 'link'), join(root, 'link/x.melt'))).toBe(true);
  });

  test('stops at its depth, and says so', () => {
    const deep = Array.from({ length: DEPTH_LIMIT }, (_, index) => `d${index}`).join('/');
    write(`${deep}/last.melt`);
    write(`${deep}/more/never.melt`);
    const { files, notes } = walkJournal(root);
    expect(files.map(({ path }) => path)).toEqual([join(root, deep, 'last.melt')]);
    expect(notes).toEqual([`${join(root, deep, 'more')} is more than 16 folders deep and is not read.`]);
  });

  test('of a folder that is not there says so', () => {
    expect(walkJournal(join(root, 'none'))).toEqual({ files: [], notes: [`${join(root, 'none')} is not there.`] });
  });
});

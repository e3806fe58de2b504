/** Folders that somebody made to do harm, or that came about so: what `check` says of each. Nothing is followed, run, or hidden. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { visible } from '../../server/text/visible';
import { folderOf, removeFolders } from './run';

afterAll(removeFolders);

const PAGE = '2026-05-04\nreceive A1 from own-dredge\n  gross 10.00 g\n';
const CLI = resolve(__dirname, '../../server/dist/cli.js');

interface Case {
  readonly what: string;
  readonly files?: Readonly<Record<string, string | Uint8Array>>;
  readonly prepare?: (folder: string) => void;
  readonly exit: number;
  readonly says: string;
}

const page = (more: string): Readonly<Record<string, string>> => ({ 'a.melt': `${PAGE}${more}` });
const workshop = (text: string): Readonly<Record<string, string>> => ({ 'a.melt': PAGE, 'workshop.yaml': text });
const link =
  (to: string, name: string): Case['prepare'] =>
  (folder) =>
    symlinkSync(to, join(folder, name));
const latin = (text: string): Uint8Array => Buffer.from(text, 'latin1');

const CASES: readonly Case[] = [
  {
    what: 'a page that is a link to a file outside',
    prepare: link('/etc/hostname', 'b.melt'),
    exit: 2,
    says: 'b.melt is a link that leads out of the folder and is not read.',
  },
  { what: 'a link to nothing', prepare: link('gone', 'b.melt'), exit: 2, says: 'b.melt is a link to nothing' },
  {
    what: 'a link to a file that is no page',
    files: { 'notes.txt': 'a' },
    prepare: link('notes.txt', 'b.melt'),
    exit: 2,
    says: 'b.melt is a link to what is no page and no workshop file and is not read.',
  },
  { what: 'a folder linked into itself', prepare: link('.', 'self'), exit: 0, says: '1 page checked: nothing found.' },
  {
    what: 'a pipe named as a page',
    prepare: (folder) => execFileSync('mkfifo', [join(folder, 'b.melt')]),
    exit: 2,
    says: 'b.melt is no regular file and is not read.',
  },
  {
    what: 'a pipe named as the workshop file',
    prepare: (folder) => execFileSync('mkfifo', [join(folder, 'workshop.yaml')]),
    exit: 2,
    says: 'workshop.yaml is no regular file and is not read.',
  },
  {
    what: 'a folder named as a page',
    prepare: (folder) => mkdirSync(join(folder, 'b.melt')),
    exit: 0,
    says: '1 page checked: nothing found.',
  },
  {
    what: 'file names with quotes, blanks and a command',
    files: { 'b "$(touch c) ;d.melt': '2026-05-05\nreceive A1 3 g' },
    exit: 1,
    says: 'b "$(touch c) ;d.melt:2:9: ',
  },
  {
    what: 'a file name that turns text round',
    files: { 'b\u202ecod.melt': '2026-05-05\nreceive A1 3 g' },
    exit: 1,
    says: 'b\\u{202e}cod.melt:2:9: ',
  },
  {
    what: 'a file name that turns text round, of a page with nothing else amiss',
    files: { 'b\u202etlem.melt': '2026-05-05\nnote rain' },
    exit: 1,
    says: 'The name of this page, b\\u{202e}tlem.melt, holds a hidden character, U+202E. Give the file another name. [hidden-character]',
  },
  {
    what: 'a control character in a file name',
    files: { 'b\u0007.melt': '2026-05-05\nnote rain' },
    exit: 1,
    says: 'The name of this page, b\\u{7}.melt, holds a hidden character, U+0007.',
  },
  {
    what: 'a turned direction in a name',
    files: page('receive B\u202e1 3 g'),
    exit: 1,
    says: 'receive B\\u{202e}1 3 g',
  },
  {
    what: 'a turned direction in a note',
    files: page('note \u202e005 paid'),
    exit: 1,
    says: 'A hidden character, U+202E, stands in this text: it may read as what it is not. [hidden-in-text]',
  },
  {
    what: 'NUL in a note',
    files: page('note a\u0000b'),
    exit: 1,
    says: 'A hidden character, U+0000, stands in this text',
  },
  {
    what: 'letters joined by a hidden one in a note: a family sign',
    files: page('note \u{1f468}\u200d\u{1f469}\u200d\u{1f467} came by'),
    exit: 0,
    says: 'nothing found',
  },
  {
    what: 'a Cyrillic letter in a name',
    files: page('cast C1\n  in \u04101 10.00 g\n  out B1 10.00 g bar'),
    exit: 1,
    says: 'Nothing makes \u04101. Is A1 meant? Its A is U+0041, and here stands U+0410, which looks like it. [near-name]',
  },
  {
    what: 'names of the language underneath',
    files: { 'a.melt': PAGE.replace('A1 from own-dredge', '__proto__ from constructor') },
    exit: 0,
    says: 'nothing found',
  },
  {
    what: 'a command as Markdown in place of a name',
    files: page('cast C1\n  in Q[x](command:evil) 3 g'),
    exit: 1,
    says: '`[` means nothing here. [odd-character]',
  },
  {
    what: 'an exponent',
    files: { 'a.melt': PAGE.replace('10.00', '1e999999') },
    exit: 1,
    says: 'is no number of the journal. [odd-number]',
  },
  {
    what: 'a figure of 700 digits',
    files: page(`receive B1 ${'1'.repeat(400)}.${'2'.repeat(300)} g`),
    exit: 1,
    says: '[odd-number]',
  },
  {
    what: 'an exponent in the workshop file',
    files: workshop('containers:\n  a: 1e999999 g\n'),
    exit: 1,
    says: '`e999999 g` is no unit: write it like `1 g`. [workshop-wrong-value]',
  },
  {
    what: 'a workshop file of 100,000 brackets',
    files: workshop(`shop: ${'['.repeat(100_000)}`),
    exit: 1,
    says: 'Nested more than 64 levels deep: the workshop file is not read. [workshop-unreadable]',
  },
  {
    what: 'aliases of aliases',
    files: workshop('a: &a [x,x]\nb: &b [*a,*a]\nshop: *b\n'),
    exit: 1,
    says: '`&a` is not for a workshop file: write each value where it belongs. [workshop-unreadable]',
  },
  {
    what: 'a key twice',
    files: workshop('containers:\n  a: 1 g\n  a: 2 g\n'),
    exit: 1,
    says: '`a` stands here twice: only the first counts.',
  },
  {
    what: 'a workshop file of half a megabyte',
    files: workshop(`# ${'x'.repeat(500_000)}\n`),
    exit: 1,
    says: 'The workshop file is larger than 256 KiB: it is not read. [workshop-unreadable]',
  },
  {
    what: 'another encoding',
    files: { 'a.melt': latin(`${PAGE}note caf\u00e9\n`) },
    exit: 2,
    says: 'a.melt is not UTF-8: byte E9 at line 4, column 9; save it as UTF-8.',
  },
  {
    what: 'UTF-16',
    files: { 'a.melt': Buffer.from(`\ufeff${PAGE}`, 'utf16le') },
    exit: 2,
    says: 'a.melt is UTF-16; save it as UTF-8.',
  },
  {
    what: 'a merge of three versions left open',
    files: page('<<<<<<< ours\nnote a\n||||||| base\nnote c\n=======\nnote b\n>>>>>>> theirs\n'),
    exit: 1,
    says: 'Two versions stand here side by side. Ours alone has `note a`. Theirs alone has `note b`.',
  },
  {
    what: 'a merge left open in the middle of an entry',
    files: page(
      'cast C1\n<<<<<<< ours\n  in A1 10.00 g\n=======\n  in A1 9.00 g\n>>>>>>> theirs\n  out B1 9.99 g bar\n',
    ),
    exit: 1,
    says: 'Two versions stand here side by side.',
  },
  {
    what: 'the 29th of February of a common year',
    files: page('2026-02-29\nnote a'),
    exit: 1,
    says: 'There is no day 2026-02-29. [impossible-date]',
  },
  {
    what: 'the first and the last year',
    files: { 'a.melt': '0001-01-01\nnote a\n', 'b.melt': '9999-12-31\nnote b\n' },
    exit: 0,
    says: '2 pages checked: nothing found.',
  },
  { what: 'a line of ten megabytes', files: page(`note ${'a'.repeat(10_000_000)}`), exit: 0, says: 'nothing found' },
  {
    what: 'a page of 800,000 long lines',
    files: { 'b.melt': `note ${'a'.repeat(70)}\n`.repeat(800_000) },
    exit: 2,
    says: 'b.melt is 58 MB and is not read; split it into pages of at most 50 MB.',
  },
];

const checked = (folder: string, env: NodeJS.ProcessEnv = process.env) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [CLI, 'check', '.'], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...env, NO_COLOR: '1' },
    timeout: 60_000,
  });
  return { status, text: stdout + stderr };
};

const madeFolder = ({ files = {}, prepare }: Pick<Case, 'files' | 'prepare'>): string => {
  const folder = folderOf({ 'a.melt': PAGE });
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
  prepare?.(folder);
  return folder;
};

describe('a folder with', () => {
  test.each(CASES)('$what', (one) => {
    const { status, text } = checked(madeFolder(one));
    expect(text).toContain(one.says);
    expect(status).toBe(one.exit);
    // Nothing acts on a terminal.
    for (const line of text.split('\n')) expect(visible(line)).toBe(line);
  });
});

describe('the zone and the language of the machine', () => {
  const journal = {
    files: page(`melt M1
  2026-03-29
  00:30 in
  03:30 out
  in A1 10.00 g
  out B1 9.98 g button
ship V1 to refiner
  in B1 9.98 g
`),
  };

  test('change nothing of what is said, in the night when clocks are put forward either', () => {
    const folder = madeFolder(journal);
    const said = ['UTC', 'America/Denver', 'Europe/London', 'Asia/Kathmandu', 'Pacific/Apia'].map((TZ, at) =>
      checked(folder, { ...process.env, TZ, LANG: at % 2 ? 'tr_TR.UTF-8' : 'de_DE.UTF-8', LC_ALL: '' }),
    );
    expect(said[0]!.text.length).toBeGreaterThan(20);
    for (const one of said) expect(one).toEqual(said[0]);
  });
});

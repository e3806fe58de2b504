/** `fineweight report`: the same bytes everywhere, new files only, and plain words where it cannot be done. */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { SAMPLES } from '../support/documents';
import { fineweight, folderOf as folder, removeFolders } from './run';

const SHOP = resolve(__dirname, '../../samples/tarn-end');

const options = (choice: object): string[] =>
  Object.entries(choice).flatMap(([name, value]) => [`--${name}`, String(value)]);

const HERE = { cwd: SHOP } as const;

afterAll(removeFolders);

describe('a document', () => {
  const places = [
    { TZ: 'UTC', LANG: 'C', LC_ALL: 'C' },
    { TZ: 'Pacific/Kiritimati', LANG: 'de_DE.UTF-8', LC_ALL: 'de_DE.UTF-8' },
    { TZ: 'America/St_Johns', LANG: 'tr_TR.UTF-8', LC_ALL: 'ar_EG.UTF-8' },
  ];

  it.each(SAMPLES)(
    '%s is the same to the byte in any zone and tongue',
    (_, kind, choice) => {
      const all = places.map(
        (env) => fineweight(['report', kind, ...options(choice), '--format', 'json'], { ...HERE, env }).out,
      );
      expect(all[0]).not.toBe('');
      expect(new Set(all).size).toBe(1);
    },
    60_000,
  );

  it.each(['md', 'html', 'csv', 'json'])('goes into a new file as %s, by its name', (format) => {
    const there = folder({});
    const out = join(there, `sheet.${format}`);
    const ran = fineweight(['report', 'melt-sheet', '--entry', 'M57', '--out', out], HERE);
    expect(ran).toMatchObject({ exit: 0, out: '', err: '' });
    const text = readFileSync(out, 'utf8');
    const printed = fineweight(['report', 'melt-sheet', '--entry', 'M57', '--format', format], HERE).out;
    // Links lead from where it lies.
    expect(text.replaceAll(/(\.\.\/)*[\w./-]*samples\/tarn-end\//g, '')).toBe(printed);
    expect(readdirSync(there)).toEqual([`sheet.${format}`]);
  });

  it('takes no name that is taken, unless it may', () => {
    const out = join(folder({ 'sheet.md': 'mine' }), 'sheet.md');
    const ask = ['report', 'melt-sheet', '--entry', 'M57', '--out', out];
    expect(fineweight(ask, HERE)).toMatchObject({
      exit: 2,
      err: `fineweight: ${out} is there already; --overwrite writes over it.\n`,
    });
    expect(readFileSync(out, 'utf8')).toBe('mine');
    expect(fineweight([...ask, '--overwrite'], HERE).exit).toBe(0);
    expect(readFileSync(out, 'utf8')).toContain('# Melt sheet: melt M57');
  });

  it('never takes the name of a page', () => {
    const page = join(folder({ 'p.melt': 'note kept\n' }), 'p.melt');
    const ran = fineweight(['report', 'metal-account', '--out', page, '--overwrite'], HERE);
    expect(ran).toMatchObject({
      exit: 2,
      err: `fineweight: ${page} is a journal's own file: a document needs another name.\n`,
    });
    expect(readFileSync(page, 'utf8')).toBe('note kept\n');
  });

  it.each([
    [['report'], '`fineweight report` wants a kind of document'],
    [['report', 'melt-shet'], 'There is no kind of document melt-shet. Did you mean melt-sheet?'],
    [['report', 'melt-sheet'], 'A melt sheet wants the name of an entry: --entry NAME.'],
    [['report', 'melt-sheet', '--entry', 'M75'], 'There is no entry M75 for a melt sheet. Did you mean M57?'],
    [
      ['report', 'lot-history', '--lot', 'BAR-9'],
      'No lot BAR-9 comes in or is made in this journal. Did you mean BAR-7?',
    ],
    [
      ['report', 'lot-history', '--lot', 'BAR-7', '--from', '2026-05-01'],
      'lot-history takes no --from; it takes --lot.',
    ],
    [
      ['report', 'metal-account', '--month', '2026-13'],
      '--month wants a year and a month, as 2026-06; "2026-13" is none.',
    ],
    [
      ['report', 'metal-account', '--from', '2026-06-02', '--to', '2026-06-01'],
      '--from 2026-06-02 is after --to 2026-06-01.',
    ],
    [
      ['report', 'metal-account', '--out', 'no/such/folder/a.md'],
      'no/such/folder/a.md could not be written: its folder is not there.',
    ],
  ])('%j says what is wrong', (args, says) => {
    const ran = fineweight(args, HERE);
    expect(ran.exit).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.err).toContain(says);
  });
});

describe('a document for each month', () => {
  it('is written for every month of the record, and told as it goes', () => {
    const there = join(folder({}), 'months');
    const ran = fineweight(['report', 'metal-account', '--all-months', there, '--format', 'html'], HERE);
    expect(ran).toMatchObject({ exit: 0, out: `2 documents in ${there}.\n`, err: '2026-06, 2 of 2\n' });
    expect(readdirSync(there).sort()).toEqual(['metal-account-2026-05.html', 'metal-account-2026-06.html']);
    const again = fineweight(['report', 'metal-account', '--all-months', there, '--format', 'html'], HERE);
    expect(again.err).toContain('is there already');
  });

  it('is for documents of a period', () => {
    const ran = fineweight(['report', 'melt-sheet', '--entry', 'M57', '--all-months', 'x'], HERE);
    expect(ran.err).toBe('fineweight: --all-months is for documents of a period.\n');
    expect(existsSync(join(SHOP, 'x'))).toBe(false);
  });
});

describe('the revision', () => {
  const JOURNAL = { 'a.melt': '2026-05-04\nreceive A 20.00 g\n' };
  const COMMIT = '0123456789abcdef0123456789abcdef01234567';
  const at = (there: string, path: string, text: string): void => {
    mkdirSync(join(there, path, '..'), { recursive: true });
    writeFileSync(join(there, path), text);
  };
  const footOf = (there: string, ...more: string[]): string =>
    fineweight(['report', 'metal-account', ...more], { cwd: there })
      .out.split('\n')
      .at(-2)!;

  it('is that which is checked out, loose or packed, in a second working folder too', () => {
    const [loose, packed, second] = [folder(JOURNAL), folder(JOURNAL), folder(JOURNAL)];
    at(loose, '.git/HEAD', 'ref: refs/heads/main\n');
    at(loose, '.git/refs/heads/main', `${COMMIT}\n`);
    at(packed, '.git/HEAD', 'ref: refs/heads/main\n');
    at(packed, '.git/packed-refs', `# pack-refs with: peeled\n${COMMIT} refs/heads/main\n`);
    at(second, '.git', `gitdir: ${join(loose, '.git/worktrees/two')}\n`);
    at(loose, '.git/worktrees/two/HEAD', 'ref: refs/heads/main\n');
    at(loose, '.git/worktrees/two/commondir', '../..\n');
    for (const there of [loose, packed, second]) expect(footOf(there)).toContain(`Revision ${COMMIT}.`);
  });

  it('is none where there is none, and what it is said to be', () => {
    const [bare, broken] = [folder(JOURNAL), folder(JOURNAL)];
    at(broken, '.git/HEAD', 'ref: ../../../etc/passwd\n');
    for (const there of [bare, broken]) expect(footOf(there)).not.toContain('Revision');
    expect(footOf(bare, '--revision', 'v7')).toContain('Revision v7.');
  });
});

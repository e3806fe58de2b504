/** A file is whole or as it was: killed in the middle, on a full disk, read-only, or led out by a link. */
import { spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { buildSync } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { replaceFile, writeNewFile } from '../../server/cli/write';
import { fineweight, folderOf, removeFolders, stateOf } from './run';

afterAll(removeFolders);

const [ONE, OTHER] = ['1', '2'].map((letter) => `${letter.repeat(79)}\n`.repeat(20_000));

describe('a process that is killed while it writes', () => {
  let script: string;
  beforeAll(() => {
    script = join(folderOf({}), 'writer.js');
    buildSync({
      stdin: {
        contents: `import { replaceFile } from './server/cli/write';
          const [, , root, path] = process.argv;
          const texts = ['1', '2'].map((letter) => (letter.repeat(79) + '\\n').repeat(20000));
          process.stdout.write('ready');
          for (let round = 0; ; round++) replaceFile(root, path, texts[round % 2]);`,
        resolveDir: resolve(__dirname, '../..'),
      },
      bundle: true,
      platform: 'node',
      outfile: script,
      logLevel: 'warning',
    });
  });

  it('leaves the old file or the new one, never a part', async () => {
    const root = folderOf({ 'page.melt': ONE! });
    const path = join(root, 'page.melt');
    for (let round = 0; round < 25; round++) {
      const child = spawn(process.execPath, [script, root, path], { stdio: ['ignore', 'pipe', 'inherit'] });
      await new Promise((done) => child.stdout.once('data', done));
      await new Promise((done) => setTimeout(done, (round * 7) % 40));
      const ended = new Promise((done) => child.once('exit', done));
      child.kill('SIGKILL');
      await ended;
      const text = readFileSync(path, 'utf8');
      expect(text === ONE || text === OTHER, `round ${round}: ${text.length} characters`).toBe(true);
    }
  });
});

describe('a file', () => {
  it('that is there is not written over as a new one', () => {
    const root = folderOf({ 'seal.melt': 'mine\n' });
    expect(() => writeNewFile(root, join(root, 'seal.melt'), 'other\n')).toThrow('is there already');
    expect(readFileSync(join(root, 'seal.melt'), 'utf8')).toBe('mine\n');
    symlinkSync(join(root, 'nowhere'), join(root, 'link.melt'));
    expect(() => writeNewFile(root, join(root, 'link.melt'), 'other\n')).toThrow('is there already');
  });

  it('keeps its permissions', () => {
    const root = folderOf({ 'page.melt': 'old\n' });
    const path = join(root, 'page.melt');
    chmodSync(path, 0o640);
    replaceFile(root, path, 'new\r\n');
    expect(statSync(path).mode & 0o777).toBe(0o640);
    expect(readFileSync(path, 'utf8')).toBe('new\r\n');
    expect(readdirSync(root)).toEqual(['page.melt']);
  });

  it('is not written through a link that leads out', () => {
    const outside = folderOf({ 'page.melt': 'theirs\n' });
    const root = folderOf({ 'own.melt': 'own\n' });
    symlinkSync(join(outside, 'page.melt'), join(root, 'page.melt'));
    symlinkSync(outside, join(root, 'below'));
    symlinkSync(join(root, 'own.melt'), join(root, 'within.melt'));
    expect(() => replaceFile(root, join(root, 'page.melt'), 'mine\n')).toThrow('leads out');
    expect(() => writeNewFile(root, join(root, 'below', 'new.melt'), 'mine\n')).toThrow('leads out');
    expect(readdirSync(outside)).toEqual(['page.melt']);
    expect(readFileSync(join(outside, 'page.melt'), 'utf8')).toBe('theirs\n');
    replaceFile(root, join(root, 'within.melt'), 'new\n');
    expect(readFileSync(join(root, 'own.melt'), 'utf8')).toBe('new\n');
  });

  it('is written by no command through a link that leads out', () => {
    const outside = folderOf({ 'page.melt': '2026-05-04\nreceive A 2 g\n' });
    const page = '2026-05-04\nreceive A 20.00 g\n';
    const root = folderOf({ 'workshop.yaml': '', 'may.melt': page, 'base.melt': page, 'theirs.melt': `${page}\n` });
    symlinkSync(outside, join(root, 'up'));
    symlinkSync(join(outside, 'page.melt'), join(root, 'lnk.melt'));
    symlinkSync('may.melt', join(root, 'own.melt'));
    const [here, there] = [stateOf(root), stateOf(outside)];
    const leads = 'leads out of the folder that is worked in, by a link on its way. Nothing is written there.';
    for (const args of [
      ['report', 'metal-account', '--out', 'up/new.md'],
      ['report', 'metal-account', '--out', join(root, 'up', 'new.md')],
      ['report', 'metal-account', '--all-months', 'up/months'],
      ['picture', 'stock', '--out', 'up/new.svg'],
      ['export', 'up/tables'],
      ['attributes', 'up'],
      ['merge', 'base.melt', 'up/page.melt', 'theirs.melt'],
    ])
      expect(fineweight(args, { cwd: root }).err, args.join(' ')).toContain(leads);
    for (const link of ['lnk.melt', 'own.melt'])
      expect(fineweight(['merge', 'base.melt', link, 'theirs.melt'], { cwd: root }).err).toContain(
        `${link} is a link. Nothing is written through it.`,
      );
    expect(stateOf(outside)).toEqual(there);
    expect(stateOf(root)).toEqual(here);
    // What its reader plainly wants elsewhere goes there, of a journal of which all is read.
    rmSync(join(root, 'lnk.melt'));
    const plain = join(outside, 'account.md');
    expect(fineweight(['report', 'metal-account', '--out', plain], { cwd: root })).toMatchObject({ exit: 0, err: '' });
  });

  it('that is write-protected, or in such a folder, stays as it was', () => {
    const root = folderOf({ 'page.melt': 'old\n', 'shut/page.melt': 'old\n' });
    const run = (act: string): string => {
      const code = `import { replaceFile, writeNewFile } from './server/cli/write'; try { ${act}; } catch (error) { console.log(error.message); }`;
      const { outputFiles } = buildSync({
        stdin: { contents: code, resolveDir: resolve(__dirname, '../..') },
        bundle: true,
        platform: 'node',
        write: false,
        logLevel: 'warning',
      });
      // Root may write anything: the deed is done as somebody else.
      return spawnSync(process.execPath, ['-'], {
        input: outputFiles[0]!.text,
        encoding: 'utf8',
        uid: process.getuid?.() === 0 ? 65534 : undefined,
      }).stdout;
    };
    chmodSync(root, 0o777);
    chmodSync(join(root, 'page.melt'), 0o444);
    chmodSync(join(root, 'shut'), 0o555);
    expect(run(`replaceFile(${JSON.stringify(root)}, ${JSON.stringify(join(root, 'page.melt'))}, 'new')`)).toContain(
      'no permission',
    );
    expect(
      run(`writeNewFile(${JSON.stringify(root)}, ${JSON.stringify(join(root, 'shut/new.melt'))}, 'new')`),
    ).toContain('no permission');
    expect(readFileSync(join(root, 'page.melt'), 'utf8')).toBe('old\n');
    expect(readdirSync(join(root, 'shut'))).toEqual(['page.melt']);
    chmodSync(join(root, 'shut'), 0o755);
  });
});

describe('a disk that is full', () => {
  const root = folderOf({});
  const disk = join(root, 'small');
  mkdirSync(disk);
  const isMounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', disk]).status === 0;
  afterAll(() => {
    if (isMounted) spawnSync('umount', [disk]);
  });

  it.skipIf(!isMounted)('leaves the old file whole, and no part of the new one', () => {
    const path = join(disk, 'page.melt');
    writeFileSync(path, 'old\n');
    expect(() => replaceFile(disk, path, ONE!)).toThrow('the disk is full');
    expect(readFileSync(path, 'utf8')).toBe('old\n');
    expect(() => writeNewFile(disk, join(disk, 'seal.melt'), ONE!)).toThrow('the disk is full');
    expect(readdirSync(disk)).toEqual(['page.melt']);
    expect(existsSync(join(disk, 'seal.melt'))).toBe(false);
  });
});

describe('a document that is written over another file', () => {
  const PAGE = '2026-05-04\nreceive A 20.00 g\n  photo slip.svg\n  paper slips/lab.csv\n  paper gone.md\n';
  const made = (): { root: string; report: (...args: string[]) => string } => {
    const root = folderOf({
      'may.melt': PAGE,
      'slip.svg': 'one',
      'slips/lab.csv': 'two',
      'old.md': 'three',
      'a.sig': 'four',
    });
    const report = (...args: string[]): string =>
      fineweight(['report', 'metal-account', '--overwrite', '--out', ...args], { cwd: root }).err;
    return { root, report };
  };

  it('is none of the papers and photos of entries, whether they are there or not', () => {
    const { root, report } = made();
    const state = stateOf(root);
    for (const name of ['slips/lab.csv', './slips/../slips/lab.csv', 'gone.md', join(root, 'slips/lab.csv')])
      expect(report(name), name).toContain('is a photo or paper of the journal');
    expect(fineweight(['picture', 'stock', '--overwrite', '--out', 'slip.svg'], { cwd: root }).err).toContain(
      'is a photo or paper',
    );
    expect(stateOf(root)).toEqual(state);
  });

  it('is no link, no settings, and of its own form', () => {
    const { root, report } = made();
    symlinkSync('old.md', join(root, 'link.md'));
    symlinkSync('slips/lab.csv', join(root, 'proof.csv'));
    const state = stateOf(root);
    expect(report('link.md')).toContain('link.md is a link');
    expect(report('proof.csv')).toMatch(/is a (?:link|photo or paper)/);
    expect(report('.gitattributes', '--format', 'md')).toContain('is a name of settings');
    expect(report('a.sig', '--format', 'md')).toContain('a.sig is no .md file');
    expect(stateOf(root)).toEqual(state);
    expect(report('old.md')).toBe('');
    expect(readFileSync(join(root, 'old.md'), 'utf8')).toContain('# Metal account');
  });
});

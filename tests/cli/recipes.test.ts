/** What README.md says to type for signing, for a hook and for CI, done as it stands there. */
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { fineweight, folderOf, installed, removeFolders } from './run';

afterAll(removeFolders);

const README = readFileSync(resolve(__dirname, '../../README.md'), 'utf8');

/** The block of README that has these words in it, without its fences. */
const recipe = (words: string): string => {
  const block = [...README.matchAll(/^```\w*\n(.*?)^```$/gms)]
    .map(([, text]) => text!)
    .find((one) => one.includes(words));
  if (block === undefined) throw new Error(`README has no block with ${words}`);
  return block;
};

const MAY = '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A 20.00 g\n  out B 19.98 g bar\n';

let programs: string;
beforeAll(() => {
  programs = installed();
}, 60_000);

const shell = (root: string, script: string, ...args: string[]) => {
  const { status, stdout, stderr } = spawnSync('sh', ['-c', script, 'sh', ...args], {
    cwd: root,
    encoding: 'utf8',
    env: {
      PATH: `${programs}:${process.env.PATH}`,
      HOME: root,
      GIT_CONFIG_GLOBAL: '/dev/null',
      GIT_AUTHOR_NAME: 'Hand',
      GIT_AUTHOR_EMAIL: 'hand@example.org',
      GIT_COMMITTER_NAME: 'Hand',
      GIT_COMMITTER_EMAIL: 'hand@example.org',
    },
  });
  return { exit: status, said: `${stdout}${stderr}` };
};

describe('a signature', () => {
  it('by the own key holds for the record as it was signed, and for no other', () => {
    const root = folderOf({ 'may.melt': MAY });
    const [sign, verify] = recipe('ssh-keygen -Y sign').trimEnd().split('\n');
    mkdirSync(join(root, '.ssh'), { mode: 0o700 });
    const key = join(root, '.ssh', 'id_ed25519');
    spawnSync('ssh-keygen', ['-q', '-t', 'ed25519', '-N', '', '-C', 'hand', '-f', key]);
    writeFileSync(join(root, 'signers'), `hand@tarn-end ${readFileSync(`${key}.pub`, 'utf8')}`);
    // ssh-keygen looks for the home of the user and not of HOME.
    const here = (line: string): string => line.replace('~', root);
    expect(shell(root, 'fineweight seal 2026-05-31').exit).toBe(0);
    expect(shell(root, here(sign!)).exit).toBe(0);
    expect(readFileSync(join(root, 'seal-2026-05-31.sig'), 'utf8')).toMatch(/^-----BEGIN SSH SIGNATURE-----\n/);
    const verified = () => shell(root, here(verify!));
    expect(verified()).toMatchObject({ exit: 0, said: expect.stringContaining('Good "fineweight" signature') });

    writeFileSync(join(root, 'may.melt'), `# a remark\n${MAY.replaceAll('  in', '\tin')}`);
    expect(verified().exit).toBe(0);

    writeFileSync(join(root, 'may.melt'), MAY.replace('19.98', '19.97'));
    expect(verified()).toMatchObject({ exit: 255, said: expect.stringContaining('incorrect signature') });

    // Sealed anew, the changed record checks clean: only the signature tells.
    spawnSync('rm', [join(root, 'seal-2026-05-31.melt')]);
    expect(shell(root, 'fineweight seal 2026-05-31 && fineweight check').exit).toBe(0);
    expect(verified().exit).toBe(255);

    writeFileSync(join(root, 'may.melt'), MAY);
    expect(verified().exit).toBe(0);
    // Of somebody who is not among those who may sign it is none.
    spawnSync('ssh-keygen', ['-q', '-t', 'ed25519', '-N', '', '-C', 'other', '-f', join(root, 'other')]);
    writeFileSync(join(root, 'signers'), `hand@tarn-end ${readFileSync(join(root, 'other.pub'), 'utf8')}`);
    expect(verified().exit).toBe(255);
  });
});

describe('the hook', () => {
  it('lets a clean page be committed, and none with a new finding', () => {
    const root = folderOf({ 'may.melt': `${MAY}receive OLD 61,37 g\n` });
    expect(shell(root, 'git init -q && git add . && git commit -qm start').exit).toBe(0);
    const hook = join(root, '.git', 'hooks', 'pre-commit');
    mkdirSync(join(root, '.git', 'hooks'), { recursive: true });
    writeFileSync(hook, recipe('#!/bin/sh'));
    chmodSync(hook, 0o755);
    // What was there before is no hindrance.
    writeFileSync(join(root, 'june.melt'), '2026-06-01\nnote opened\n');
    expect(shell(root, 'git add . && git commit -qm clean')).toMatchObject({ exit: 0 });
    writeFileSync(join(root, 'june.melt'), '2026-06-01\nnote opened\ncast C2\n  in B 19.89 g\n  out D 19.88 g bar\n');
    const refused = shell(root, 'git add . && git commit -qm wrong');
    expect(refused).toMatchObject({
      exit: 1,
      said: expect.stringContaining('B weighs 19.98 g in cast C1 and 19.89 g'),
    });
    expect(refused.said).not.toContain('61,37');
    expect(shell(root, 'git log --format=%s').said).toBe('clean\nstart\n');
  });
});

describe('the example for CI', () => {
  it('is well formed, and its command fails where there is a finding', () => {
    const { jobs } = parse(recipe('runs-on')) as { jobs: { record: { steps: { run?: string }[] } } };
    const [line] = jobs.record.steps.flatMap(({ run }) => run ?? []);
    const command = line!.replace('node path/to/fineweight/server/dist/cli.js', 'fineweight');
    expect(command).not.toBe(line);
    expect(shell(folderOf({ 'may.melt': MAY }), command).exit).toBe(0);
    const wrong = shell(folderOf({ 'may.melt': MAY.replace('A 20.00 g\ncast', 'A 20,00 g\ncast') }), command);
    expect(wrong).toMatchObject({ exit: 1, said: expect.stringMatching(/^::error file=may\.melt,line=2,/) });
  });
});

describe('what is told to git', () => {
  it('can be typed as it is printed', () => {
    const root = folderOf({ 'may.melt': MAY });
    const { out } = fineweight(['attributes'], { cwd: root });
    const commands = out.split('\n').filter((line) => line.trim().startsWith('git config'));
    expect(commands).toHaveLength(4);
    expect(shell(root, `git init -q\n${commands.join('\n')}`)).toEqual({ exit: 0, said: '' });
    expect(shell(root, 'git config merge.fineweight.driver').said).toBe('fineweight merge %O %A %B %P\n');
    expect(shell(root, 'git check-attr merge may.melt workshop.yaml').said).toBe(
      'may.melt: merge: fineweight\nworkshop.yaml: merge: fineweight\n',
    );
  });
});

/** A seal that is looked for wherever in the repository its journal stood, and in a history that is not all there. */
import { cpSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { commitAll, git, installDriver, MAY, repository, SHOP } from './repository';
import { fineweight, folderOf, removeFolders } from './run';

beforeAll(installDriver, 60_000);
afterAll(removeFolders);

const SEAL = 'seal-2026-05-31.melt';

const sealed = (): string => {
  const root = repository({ 'may.melt': MAY, 'workshop.yaml': SHOP });
  expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
  commitAll(root, 'seal');
  return root;
};

const moveInto = (root: string, folder: string, names: readonly string[]): string => {
  mkdirSync(join(root, folder));
  for (const name of names) renameSync(join(root, name), join(root, folder, name));
  return join(root, folder);
};

describe('a journal that was moved into another folder', () => {
  it('takes its seal with it, or misses it: at the top, in the folder, staged, since a commit, and when it is sealed anew', () => {
    const root = sealed();
    const folder = moveInto(root, 'j', ['may.melt', 'workshop.yaml', SEAL]);
    commitAll(root, 'moved');
    for (const cwd of [root, folder]) expect(fineweight(['check'], { cwd })).toMatchObject({ exit: 0, err: '' });
    expect(fineweight(['check', '--since', 'HEAD~1'], { cwd: folder })).toMatchObject({ exit: 0, err: '' });
    // Its own older commits know how an entry read, though they have it in another folder.
    writeFileSync(join(folder, 'may.melt'), MAY.replace('20.00 g on bench from', '19.00 g on fine from'));
    git(root, 'add', '-A');
    git(root, 'commit', '-q', '--amend', '-m', 'moved');
    expect(fineweight(['check'], { cwd: folder }).out).toContain('was `receive A 20.00 g on bench from beck-side`');
  });

  it('that lost its seal on the way is told so', () => {
    const root = sealed();
    const folder = moveInto(root, 'j', ['may.melt', 'workshop.yaml']);
    writeFileSync(join(folder, 'may.melt'), MAY.replace('19.98', '19.89'));
    rmSync(join(root, SEAL));
    git(root, 'add', '-A');
    const gone = `The seal up to 2026-05-31 is gone: it stood in ${SEAL}`;
    expect(fineweight(['check', '--staged'], { cwd: folder }).err).toContain(gone);
    commitAll(root, 'without a word');
    for (const cwd of [root, folder]) expect(fineweight(['check'], { cwd })).toMatchObject({ exit: 2 });
    for (const more of [[], ['--since', 'HEAD~1']])
      expect(fineweight(['check', ...more], { cwd: folder }).err).toContain(gone);
    expect(fineweight(['seal', '2026-05-31'], { cwd: folder }).err).toContain('The record was sealed up to 2026-05-31');
    expect(fineweight(['record'], { cwd: folder }).out).toContain('up to 2026-05-31: GONE');
  });
});

describe('journals beside each other', () => {
  const two = (): string => {
    const root = folderOf({ 'a/may.melt': MAY, 'a/workshop.yaml': SHOP, 'b/may.melt': MAY, 'b/workshop.yaml': SHOP });
    git(root, 'init', '-q');
    expect(fineweight(['seal', '2026-05-31', 'a'], { cwd: root }).exit).toBe(0);
    commitAll(root, 'seal');
    return root;
  };

  it('do not answer for each other, though they say the same', () => {
    const root = two();
    rmSync(join(root, 'a', SEAL));
    commitAll(root, 'out');
    expect(fineweight(['check', 'b'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
    expect(fineweight(['check', '--since', 'HEAD~1', 'b'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
    expect(fineweight(['check', 'a'], { cwd: root }).err).toContain('is gone');
  });

  it('may hand a seal over, with the pages that it closes', () => {
    const root = two();
    rmSync(join(root, 'b'), { recursive: true });
    renameSync(join(root, 'a'), join(root, 'c'));
    commitAll(root, 'moved');
    expect(fineweight(['check'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
  });

  it('do not vouch for each other: a copy with the seal leaves it missed where it was', () => {
    const root = two();
    cpSync(join(root, 'a'), join(root, 'archive'), { recursive: true });
    rmSync(join(root, 'a', SEAL));
    writeFileSync(join(root, 'a', 'may.melt'), MAY.replace('19.98', '19.89'));
    git(root, 'add', '-A');
    expect(fineweight(['check', '--staged', 'a'], { cwd: root }).err).toContain('is gone');
    git(root, 'reset', '-q');
    git(root, 'add', 'a');
    git(root, 'commit', '-qm', 'out');
    commitAll(root, 'archived');
    expect(fineweight(['check', 'a'], { cwd: root }).err).toContain('is gone');
    expect(fineweight(['check', 'archive'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
    // One that went with its pages is not missed by what else is written there since.
    writeFileSync(join(root, 'a', 'may.melt'), '2026-06-02\nreceive Z 3.00 g on bench from beck-side\n');
    expect(fineweight(['check'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
  });

  it('say it without an error where one is gone with all that it sealed', () => {
    const root = two();
    rmSync(join(root, 'a'), { recursive: true });
    writeFileSync(join(root, 'b', 'may.melt'), '2026-05-02\nreceive Z 3.00 g on bench from beck-side\n');
    mkdirSync(join(root, 'c'));
    writeFileSync(join(root, 'c', 'workshop.yaml'), SHOP);
    writeFileSync(join(root, 'c', 'may.melt'), '2026-05-03\nreceive Y 4.00 g on bench from beck-side\n');
    commitAll(root, 'without a');
    const { err, exit } = fineweight(['check'], { cwd: root });
    expect(err).toMatch(
      /^fineweight: A journal is gone with its seal up to 2026-05-31: it stood in a\/seal-2026-05-31\.melt \(commit [0-9a-f]+\), and no page here has what it closed\.\n$/,
    );
    expect(exit).toBe(0);
  });
});

it('a seal that came and went with merges alone is missed', () => {
  const root = repository({ 'may.melt': MAY, 'workshop.yaml': SHOP });
  const merged = (name: string, change: () => void): void => {
    git(root, 'checkout', '-q', '-b', name);
    writeFileSync(join(root, `${name}.txt`), name);
    commitAll(root, name);
    git(root, 'checkout', '-q', 'main');
    git(root, 'merge', '-q', '--no-ff', '--no-commit', name);
    change();
    commitAll(root, `merge ${name}`);
  };
  merged('one', () => expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0));
  expect(fineweight(['check'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
  merged('two', () => {
    rmSync(join(root, SEAL));
    writeFileSync(join(root, 'may.melt'), MAY.replace('19.98', '19.89'));
  });
  expect(fineweight(['check'], { cwd: root }).err).toContain('The seal up to 2026-05-31 is gone');
});

it('a clone of the newest commits alone says what it cannot know', () => {
  const root = sealed();
  rmSync(join(root, SEAL));
  commitAll(root, 'out');
  const other = folderOf({});
  git(other, 'clone', '-q', '--depth', '1', `file://${root}`, 'clone');
  const clone = join(other, 'clone');
  const says =
    'This clone has the newest commits alone: a seal that was taken out before them is not missed here. Fetch the whole history: `git fetch --unshallow`.\n';
  expect(fineweight(['check'], { cwd: clone })).toMatchObject({ exit: 0, err: `fineweight: ${says}` });
  expect(fineweight(['record'], { cwd: clone }).out).toContain(`  ${says}`);
  expect(fineweight(['seal', '2026-05-31'], { cwd: clone }).out).toContain(says);
  expect(readFileSync(join(clone, SEAL), 'utf8')).toContain('seal 2026-05-31 digest');
  rmSync(join(clone, SEAL));
  git(clone, 'fetch', '-q', '--unshallow');
  expect(fineweight(['check'], { cwd: clone }).err).toContain('is gone');
});

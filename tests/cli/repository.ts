/** A journal in a real git repository, with the merge driver and the diff that README tells to set. */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { fineweight, folderOf, installed } from './run';

export const MAY = `2026-05-04  dry

receive A 20.00 g on bench from beck-side
cast C1
  in A 20.00 g on bench
  out B 19.98 g bar on bench
`;
export const SHOP = 'scales:\n  bench: 0.01 g\nparties:\n  beck-side: customer\n';

let command = '';

/** The command as git can call it by name, as on a machine where it is installed. */
export const driver = (): string => command;

export const installDriver = (): void => {
  command = join(installed(), 'fineweight');
};

export const git = (folder: string, ...args: string[]): string => {
  const { status, stdout, stderr } = spawnSync(
    'git',
    ['-c', 'user.name=Hand', '-c', 'user.email=hand@example.org', '-c', 'commit.gpgsign=false', ...args],
    { cwd: folder, encoding: 'utf8', env: { ...process.env, GIT_CONFIG_GLOBAL: '/dev/null', GIT_EDITOR: 'true' } },
  );
  return status === 0 ? stdout : `failed: ${stdout}${stderr}`;
};

export const repository = (files: Readonly<Record<string, string>>): string => {
  const root = folderOf(files);
  git(root, 'init', '-q', '-b', 'main');
  git(root, 'config', 'merge.fineweight.driver', `${command} merge %O %A %B %P`);
  git(root, 'config', 'diff.fineweight.textconv', `${command} textconv`);
  expect(fineweight(['attributes'], { cwd: root }).exit).toBe(0);
  git(root, 'add', '.');
  git(root, 'commit', '-qm', 'start');
  return root;
};

/** Files as they are, in the next commit. */
export const commitAll = (root: string, message: string): void => {
  git(root, 'add', '-A', '.');
  git(root, 'commit', '-qm', message);
};

export const commit = (root: string, branch: string, files: Readonly<Record<string, string>>, from = 'main'): void => {
  git(root, 'checkout', '-q', '-B', branch, from);
  for (const [name, text] of Object.entries(files)) writeFileSync(join(root, name), text);
  commitAll(root, branch);
};

/** The page of a seal as it is made where git knows of no other one: by who copies the pages elsewhere. */
export const sealedAsIn = (root: string, day: string): string => {
  const names = readdirSync(root).filter((name) => /\.(?:melt|yaml|jpg)$/.test(name));
  const other = folderOf(Object.fromEntries(names.map((name) => [name, readFileSync(join(root, name), 'utf8')])));
  const { out, err } = fineweight(['seal', day, '--print'], { cwd: other });
  expect(err).toBe('');
  return out;
};

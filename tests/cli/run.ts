/** The built command line as a child process, in a real folder that is made for it. */
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { buildSync } from 'esbuild';

const ROOT = resolve(__dirname, '../..');

const made: string[] = [];

/** Bundled as the build does, into a folder of its own, so that the test needs no build before it and no two runs share a file. */
const bundle = (): string => {
  const folder = mkdtempSync(join(tmpdir(), 'fineweight-bundle-'));
  const outfile = join(folder, 'cli.js');
  buildSync({
    entryPoints: [join(ROOT, 'server/cli/main.ts')],
    bundle: true,
    platform: 'node',
    format: 'cjs',
    target: 'node20',
    minify: true,
    logLevel: 'warning',
    outfile,
  });
  chmodSync(folder, 0o755);
  made.push(folder);
  return outfile;
};

let built: string | undefined;

export interface Ran {
  readonly exit: number | null;
  readonly out: string;
  readonly err: string;
}

export interface RunOptions {
  readonly cwd?: string;
  readonly input?: string | Uint8Array;
  readonly env?: Readonly<Record<string, string>>;
  /** Whom to run as, where we may choose. */
  readonly uid?: number;
}

export const fineweight = (
  args: readonly string[],
  { cwd = ROOT, input = '', env = {}, uid }: RunOptions = {},
): Ran => {
  built ??= bundle();
  const { status, stdout, stderr } = spawnSync(process.execPath, [built, ...args], {
    cwd,
    input,
    encoding: 'utf8',
    uid,
    env: { PATH: process.env.PATH, ...env },
  });
  return { exit: status, out: stdout, err: stderr };
};

/** A folder with a command `fineweight`, as on a machine where it is installed. */
export const installed = (): string => {
  built ??= bundle();
  const folder = folderOf({ fineweight: `#!/bin/sh\nexec "${process.execPath}" "${built}" "$@"\n` });
  chmodSync(join(folder, 'fineweight'), 0o755);
  return folder;
};

/** Files by name in a new folder. */
export const folderOf = (files: Readonly<Record<string, string | Uint8Array>>): string => {
  const root = mkdtempSync(join(tmpdir(), 'fineweight-cli-'));
  chmodSync(root, 0o755);
  made.push(root);
  for (const [name, content] of Object.entries(files)) {
    const path = join(root, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, content);
  }
  return root;
};

export const removeFolders = (): void => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
  built = undefined;
};

/** Every file below a folder with its bytes and its time of change: equal before and after a run that writes nothing. */
export const stateOf = (root: string): string[] =>
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .sort()
    .map((name) => {
      const path = join(root, name);
      const status = statSync(path);
      const content = status.isFile() ? readFileSync(path).toString('base64') : '';
      return `${name} ${status.mtimeMs} ${content}`;
    });

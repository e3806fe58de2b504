/** Two other editors with the built server: each with the settings that README.md gives, as they stand there. */
import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join, resolve } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { SLIP_PAGE } from '../support/slip-page';

const REPOSITORY = resolve(__dirname, '../..');

const JUNE = `2026-06-01

melt M2
  in C1 54.73 g on bench
  out D1 54.73 g bar on bench
`;

const WORKSHOP = `shop:
  name: Tarn End
scales:
  bench:
    division: 0.01 g
    repeatability: 0.02 g
    capacity: 600 g
`;

interface Seen {
  readonly findings: readonly { readonly line: number; readonly message: string }[];
  readonly hover: string;
}

const folders: string[] = [];

afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** The one block of README.md in a language. */
const settingsIn = (language: string): string => {
  const blocks = [...readFileSync(join(REPOSITORY, 'README.md'), 'utf8').matchAll(/^```(\w+)\n(.*?)^```$/gms)];
  const [found, ...others] = blocks.filter((block) => block[1] === language).map((block) => block[2]!);
  if (found === undefined || others.length > 0) throw new Error(`README.md wants one block of ${language}`);
  return found;
};

/** A shop whose pages stand one folder below its workshop file, and `fineweight` on the path of programs. */
const workIn = (program: string, args: (settings: string) => readonly string[], language: string) => {
  const home = mkdtempSync(join(tmpdir(), 'fineweight-other-'));
  folders.push(home);
  const put = (name: string, text: string): string => {
    const path = join(home, name);
    mkdirSync(join(path, '..'), { recursive: true });
    writeFileSync(path, text);
    return path;
  };
  put('shop/workshop.yaml', WORKSHOP);
  const may = put('shop/pages/may.melt', SLIP_PAGE);
  const june = put('shop/pages/june.melt', JUNE);
  const cli = join(REPOSITORY, 'server/dist/cli.js');
  chmodSync(put('bin/fineweight', `#!/bin/sh\nexec "${process.execPath}" "${cli}" "$@"\n`), 0o755);
  const told = join(home, 'seen.json');
  const { stdout, stderr, error } = spawnSync(program, args(put(`settings.${language}`, settingsIn(language))), {
    cwd: join(home, 'shop/pages'),
    encoding: 'utf8',
    timeout: 90_000,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: {
      HOME: home,
      PATH: [join(home, 'bin'), process.env.PATH].join(delimiter),
      LANG: 'C.UTF-8',
      FINEWEIGHT_SEEN: told,
    },
  });
  if (error) throw new Error(`${program} does not start (tests/editor/kit.sh installs it): ${error.message}`);
  if (!existsSync(told)) throw new Error(`${program} wrote nothing of what it saw:\n${stdout}${stderr}`);
  const seen: Seen & { readonly failed?: string } = JSON.parse(readFileSync(told, 'utf8'));
  if (seen.failed !== undefined) throw new Error(`${program}: ${seen.failed}\n${stdout}${stderr}`);
  return { seen, may: readFileSync(may, 'utf8'), june: readFileSync(june, 'utf8') };
};

const check = ({ seen, may, june }: ReturnType<typeof workIn>): void => {
  expect(seen.findings).toMatchObject([{ line: 12, message: expect.stringContaining('B1 weighs 58.16 g in melt M1') }]);
  // What weighing explains is ±0.01 g without the workshop file, which stands one folder above the page.
  expect(seen.findings[0]!.message).toContain('±0.06 g');
  expect(seen.hover).toContain('Weighed: 58.16 g in melt M1, 58.61 g in cupel K1.');
  expect(may).toBe(SLIP_PAGE.replace('58.61', '58.16').replace('out C1', 'out C9'));
  expect(june).toBe(JUNE.replace('in C1', 'in C9'));
};

describe('in Neovim', () => {
  test('findings, a hover, a weight put right, and a lot renamed on every page', () => {
    const script = join(__dirname, 'neovim.lua');
    check(
      workIn(
        'nvim',
        (settings) => ['--headless', '--clean', '-u', settings, 'may.melt', '-c', `luafile ${script}`],
        'lua',
      ),
    );
  });
});

describe('in Emacs', () => {
  test('findings, a hover, a weight put right, and a lot renamed on every page', () => {
    const script = join(__dirname, 'emacs.el');
    check(workIn('emacs', (settings) => ['--batch', '--load', settings, '--load', script], 'elisp'));
  });
});

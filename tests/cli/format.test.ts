/** `fineweight format`: what formatting would change, as a patch that the real git takes; nothing is written by the command. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { fineweight, folderOf, removeFolders } from './run';

afterAll(removeFolders);

const UNTIDY = `2026-05-04
receive   A1   61.3 g # as found
      note  wet,   with stones

dry D1
  in A1   61.3 g
  out A2  60.1 g
`;
const TIDY = `2026-05-04

receive A1 61.3 g  # as found
  note wet,   with stones

dry D1
  in A1 61.3 g
  out A2 60.1 g
`;

const git = (cwd: string, args: readonly string[], input = ''): string =>
  execFileSync('git', [...args], { cwd, input, encoding: 'utf8' });

describe('format', () => {
  test('a patch of what would change, exit 1; the page stays as it is', () => {
    const cwd = folderOf({ 'may.melt': UNTIDY });
    const { exit, out, err } = fineweight(['format'], { cwd });
    expect([exit, err]).toEqual([1, '']);
    expect(out).toContain('--- a/may.melt\n+++ b/may.melt\n');
    expect(out).toContain('-receive   A1   61.3 g # as found\n');
    expect(out).toContain('+receive A1 61.3 g  # as found\n');
    expect(readFileSync(join(cwd, 'may.melt'), 'utf8')).toBe(UNTIDY);
  });

  test('git applies it, from a folder below the top too, and then all is in form', () => {
    const top = folderOf({});
    git(top, ['init', '-q']);
    const cwd = join(top, 'shop "north" ä');
    mkdirSync(cwd);
    writeFileSync(join(cwd, 'may.melt'), UNTIDY);
    git(cwd, ['apply'], fineweight(['format'], { cwd }).out);
    expect(readFileSync(join(cwd, 'may.melt'), 'utf8')).toBe(TIDY);
    expect(fineweight(['format'], { cwd })).toEqual({ exit: 0, out: '', err: '' });
    expect(fineweight(['format', '--check'], { cwd })).toEqual({ exit: 0, out: '1 page in form.\n', err: '' });
  });

  test('line ends, a byte order mark and a missing last line end stay what they are', () => {
    const cwd = folderOf({});
    git(cwd, ['init', '-q']);
    const marked = (text: string): string => `\uFEFF${text.trimEnd().replaceAll('\n', '\r\n')}`;
    writeFileSync(join(cwd, 'may.melt'), marked(UNTIDY.replace('2026', ' 2026').replace(' 2026', '2026')));
    git(cwd, ['apply'], fineweight(['format'], { cwd }).out);
    const after = readFileSync(join(cwd, 'may.melt'), 'utf8');
    expect(after.startsWith('\uFEFF2026-05-04\r\n')).toBe(true);
    expect(after).not.toMatch(/[^\r]\n/);
    expect(fineweight(['format'], { cwd }).out).toBe('');
  });

  test('--check names the pages; --point-at puts the decimal points below each other', () => {
    const cwd = folderOf({
      'may.melt': UNTIDY,
      'june.melt': TIDY.replaceAll('2026-05', '2026-06').replaceAll('A', 'B'),
    });
    const says = 'may.melt\n1 of 2 pages not in form: `fineweight format` shows what would change.\n';
    expect(fineweight(['format', '--check'], { cwd })).toEqual({ exit: 1, out: says, err: '' });
    const { out } = fineweight(['format', '--point-at', '24', 'june.melt'], { cwd });
    const points = [...out.matchAll(/^\+(.*\d)\.\d g/gm)].map(([, head]) => head!.length);
    expect(points).toEqual([23, 23]);
    expect(fineweight(['format', '--point-at', '0'], { cwd }).exit).toBe(2);
    expect(fineweight(['format', 'nowhere'], { cwd }).exit).toBe(2);
  });
});

test('what the repository offers to the hook framework is a command that there is', () => {
  const [hook] = parse(readFileSync(join(__dirname, '../../.pre-commit-hooks.yaml'), 'utf8')) as Record<
    string,
    string
  >[];
  expect(hook).toMatchObject({ id: 'fineweight-check', language: 'system', name: expect.any(String) });
  const cwd = folderOf({ 'may.melt': TIDY });
  git(cwd, ['init', '-q']);
  git(cwd, ['add', '.']);
  const [program, ...args] = hook!.entry!.split(' ');
  expect(program).toBe('fineweight');
  expect(fineweight(args, { cwd })).toMatchObject({ exit: 0, err: '' });
  expect('north/workshop.yaml may.melt'.split(' ').every((name) => new RegExp(hook!.files!).test(name))).toBe(true);
});

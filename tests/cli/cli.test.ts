/** The command line, run as its users run it. */
import { chmodSync, mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { paintFor } from '../../server/cli/paint';
import type { JsonReport } from '../../server/cli/report';
import { hintsOf } from '../../server/features/hints';
import { RULES } from '../../server/rules/catalogue';
import { findingsOf } from '../../server/rules/findings';
import { workspaceOf } from '../support/workspace';
import { fineweight, folderOf, removeFolders, stateOf } from './run';

afterAll(removeFolders);

const WORKSHOP = 'scales:\n  bench: 0.01 g\n';
const MAY = `2026-05-04
receive A1
  61.37 g on bench

cast C1
  in A1 61.73 g on bench
  out B1 61.30 g bar on bench
`;
const JUNE = `2026-06-01
cast C2
  in B1 61.30 g on bench
  out B2 61.30 g bar on bench
`;
const CLEAN = MAY.replace('61.73', '61.37');

const FOUND = `may.melt:6:9: warning: A1 weighs 61.37 g in receive A1 and 61.73 g in cast C1: 0.36 g more, 30 times what weighing explains (±0.01 g). Likeliest: two digits swapped, 61.37 g in cast C1. [weight-changed]
    6 |   in A1 61.73 g on bench
      |         ^^^^^^^
    may.melt:3:3: 61.37 g in receive A1

1 finding in 2 pages: 1 warning.
`;

describe('check', () => {
  test('a finding with its place, its line marked, and the other place; exit 1', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY, 'june.melt': JUNE });
    expect(fineweight(['check'], { cwd })).toEqual({ exit: 1, out: FOUND, err: '' });
    expect(fineweight(['check', '.'], { cwd }).out).toBe(FOUND);
  });
  test('clean: one line, exit 0', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': CLEAN, 'june.melt': JUNE });
    expect(fineweight(['check'], { cwd })).toEqual({ exit: 0, out: '2 pages checked: nothing found.\n', err: '' });
  });
  test('one page of a journal is read with the others, and alone reported', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY, 'months/june.melt': JUNE });
    expect(fineweight(['check', 'months/june.melt'], { cwd }).out).toBe('1 page checked: nothing found.\n');
    expect(fineweight(['check', 'months'], { cwd }).out).toBe('1 page checked: nothing found.\n');
    // without the workshop file the folder given is the journal, and B1 comes from nowhere
    const alone = folderOf({ 'may.melt': CLEAN, 'months/june.melt': JUNE });
    expect(fineweight(['check', 'months'], { cwd: alone }).out).toContain('[unknown-lot]');
    expect(fineweight(['check'], { cwd: alone }).out).toContain('nothing found');
  });
  test('names are not shared between journals', () => {
    const cwd = folderOf({
      'north/workshop.yaml': WORKSHOP,
      'north/may.melt': CLEAN,
      'south/workshop.yaml': WORKSHOP,
      'south/june.melt': JUNE,
      'south/north/workshop.yaml': WORKSHOP,
      'south/north/may.melt': CLEAN,
    });
    const { out } = fineweight(['check', 'north', 'south'], { cwd });
    expect(out).toContain('south/june.melt:3:6: ');
    expect(out).toContain('1 finding in 3 pages');
  });
  test('a finding in the workshop file', () => {
    const cwd = folderOf({ 'workshop.yaml': 'scales:\n  bench: 0.01\n', 'may.melt': '' });
    expect(fineweight(['check'], { cwd }).out).toContain('workshop.yaml:2:10: error: ');
  });
  test('how grave a finding must be to fail', () => {
    const hint = folderOf({ 'may.melt': '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B bar\n' });
    const exits = ['hint', 'warning', 'error'].map(
      (least) => fineweight(['check', '--fail-on', least], { cwd: hint }).exit,
    );
    expect(exits).toEqual([1, 0, 0]);
    const warning = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY });
    expect(fineweight(['check', '--fail-on=error'], { cwd: warning }).exit).toBe(0);
    const error = folderOf({ 'may.melt': '2026-05-04\nreceive A 20.00\n' });
    expect(fineweight(['check', '--fail-on', 'error'], { cwd: error }).exit).toBe(1);
  });
  test('standard input as a page of the journal around it', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': CLEAN });
    const { out, exit } = fineweight(['check', '--stdin-filename', 'june.melt'], {
      cwd,
      input: JUNE.replace('in B1 61.30', 'in B1 61.03'),
    });
    expect([exit, out.split('\n')[0]]).toEqual([
      1,
      expect.stringContaining('june.melt:3:9: warning: B1 weighs 61.30 g in cast C1'),
    ]);
    const saved = fineweight(['check', '--stdin-filename', 'may.melt'], { cwd, input: MAY });
    expect(saved.out).toContain('may.melt:6:9: warning');
  });
  test('tabs, wide letters, hidden and control characters: the mark stands below what it means', () => {
    const page =
      '2026-05-04\nreceive 金 20.00 g\ncast C1\n\tin 金 5.00\n  note \u001b[31mred\u202e\n  in "A\u200b" 5 g\n';
    const cwd = folderOf({ 'may.melt': page });
    const { out } = fineweight(['check'], { cwd });
    expect(out).toContain('    4 | \tin 金 5.00\n      | \t      ^^^^\n');
    expect(out).not.toContain('\u001b');
    expect(out).not.toContain('\u202e');
    expect(out).toContain('\\u{200b}');
  });
  test('no more of a long line than its neighbourhood', () => {
    const cwd = folderOf({ 'may.melt': `2026-05-04\nreceive A 20.00 g, note ${'x'.repeat(100_000)}\n` });
    const long = folderOf({ 'may.melt': `2026-05-04\nreceive A ${'y '.repeat(20_000)} 20.00\n` });
    expect(fineweight(['check'], { cwd }).exit).toBe(0);
    const lines = fineweight(['check'], { cwd: long }).out.split('\n');
    const source = lines.filter((line) => /^ +\d* \|/.test(line));
    expect(Math.max(...source.map((line) => line.length))).toBeLessThan(140);
  });
});

describe('check --format json', () => {
  test('every finding with its range, its related places and its fixes', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY });
    const { out, exit } = fineweight(['check', '--format', 'json'], { cwd });
    const report = JSON.parse(out) as JsonReport;
    expect(exit).toBe(1);
    expect(Object.keys(report)).toEqual(['version', 'files', 'findings', 'counts', 'failures']);
    expect(report).toMatchObject({
      version: 1,
      files: ['may.melt', 'workshop.yaml'],
      counts: { error: 0, warning: 1, hint: 0 },
      failures: [],
      findings: [
        {
          file: 'may.melt',
          line: 6,
          column: 9,
          endLine: 6,
          endColumn: 16,
          code: 'weight-changed',
          severity: 'warning',
          unsure: false,
          related: [{ file: 'may.melt', line: 3, column: 3, endColumn: 10, says: '61.37 g in receive A1' }],
        },
      ],
    });
    expect(report.findings[0]!.fixes[0]).toEqual({
      title: 'Write 61.37 g in cast C1 (two digits swapped)',
      safe: false,
      preferred: true,
      edits: [{ file: 'may.melt', line: 6, column: 9, endLine: 6, endColumn: 16, text: '61.37 g' }],
    });
  });
  test('says what the engine says, word for word', () => {
    const pages = {
      'may.melt': MAY,
      'june.melt': JUNE.replace('in B1 61.30', 'in B1 61.03'),
      'workshop.yaml': WORKSHOP,
    };
    const workspace = workspaceOf(pages);
    const expected = ['june.melt', 'may.melt', 'workshop.yaml'].flatMap((file) =>
      findingsOf(workspace, file).map(({ code, severity, says }) => [file, code, severity, says]),
    );
    const { out } = fineweight(['check', '--format', 'json'], { cwd: folderOf(pages) });
    const found = (JSON.parse(out) as JsonReport).findings.map(({ file, code, severity, says }) => [
      file,
      code,
      severity,
      says,
    ]);
    expect(expected.length).toBeGreaterThan(1);
    expect(found).toEqual(expected);
  });
  test('what could not be read stands in it too', () => {
    const cwd = folderOf({ 'may.melt': CLEAN, 'june.melt': new Uint8Array([0x41, 0xe9, 0x42]) });
    const { out, exit } = fineweight(['check', '--format', 'json'], { cwd });
    expect(exit).toBe(2);
    expect((JSON.parse(out) as JsonReport).failures).toEqual([
      'june.melt is not UTF-8: byte E9 at line 1, column 2; save it as UTF-8.',
    ]);
  });
});

describe('show', () => {
  test('the page with the hints of the editor at its line ends, then its findings', () => {
    const pages = { 'workshop.yaml': WORKSHOP, 'may.melt': MAY };
    const cwd = folderOf(pages);
    const { out, exit } = fineweight(['show', 'may.melt'], { cwd });
    expect(exit).toBe(0);
    expect(out).toBe(`2026-05-04
receive A1
  61.37 g on bench

cast C1                  │ ~0.43 g missing, usual is up to 0.31 g
  in A1 61.73 g on bench │ 0.36 g more, likely 61.37 g here
  out B1 61.30 g bar on bench

${FOUND.replace('in 2 pages', 'in 1 page')}`);
    const labels = hintsOf(workspaceOf(pages), 'may.melt').map(({ label }) => label);
    expect(out.split('\n').flatMap((line) => line.split(' │ ')[1] ?? [])).toEqual(labels);
  });
  test('the lines of the page stay as they are', () => {
    const samples = resolve(__dirname, '../../samples/tarn-end');
    const { out, exit } = fineweight(['show', join(samples, '2026-05.melt')]);
    expect(exit).toBe(0);
    const widest = Math.max(
      ...out
        .split('\n')
        .filter((line) => line.includes(' │ '))
        .map((line) => line.length),
    );
    expect(widest).toBeLessThanOrEqual(100);
    expect(out).toContain('3.34 g base metal gone, Au+Ag 93.62 %');
  });
  test('standard input, and what is no page', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP });
    expect(fineweight(['show', '--stdin-filename', 'may.melt'], { cwd, input: MAY }).out).toContain(
      'likely 61.37 g here',
    );
    expect(fineweight(['show', 'workshop.yaml'], { cwd })).toMatchObject({
      exit: 2,
      err: 'fineweight: workshop.yaml is no .melt page; `fineweight show` takes one.\n',
    });
    expect(fineweight(['show'], { cwd }).err).toBe(
      'fineweight: `fineweight show` takes one page: `fineweight show FILE`.\n',
    );
  });
});

describe('explain', () => {
  test('the page of each rule', () => {
    const { out, exit } = fineweight(['explain', 'weight-changed']);
    expect(exit).toBe(0);
    expect(out).toContain('weight-changed (warning): a weight that changed between two entries');
    expect(out).toContain('Wrong:\n\n    2026-05-04\n    receive A 61.37 g on bench\n');
    expect(out).toContain('Source: JCGM 100 (GUM) 5.1.2');
    expect(fineweight(['explain', 'workshop-odd-name']).exit).toBe(0);
  });
  test('without a code, all of them; with a wrong one, the nearest', () => {
    const { out } = fineweight(['explain']);
    for (const { code } of RULES) expect(out).toContain(`${code} `);
    expect(fineweight(['explain', 'weight-chnged'])).toEqual({
      exit: 2,
      out: '',
      err: 'fineweight: There is no finding weight-chnged. Did you mean weight-changed? `fineweight explain` lists them all.\n',
    });
  });
});

describe('what cannot be run: a plain sentence, and exit 2', () => {
  const failing = (args: readonly string[], cwd: string, says: string): void => {
    const { exit, out, err } = fineweight(args, { cwd });
    expect({ exit, out, err }).toEqual({ exit: 2, out: '', err: `fineweight: ${says}\n` });
  };

  test('wrong use', () => {
    const cwd = folderOf({});
    failing(['chek'], cwd, 'There is no command chek. Did you mean check? `fineweight help` lists what there is.');
    failing(
      ['check', '--fail'],
      cwd,
      'There is no option --fail. Did you mean --fail-on? `fineweight help` lists what there is.',
    );
    failing(['check', '--fail-on'], cwd, '--fail-on wants a value behind it.');
    failing(['check', '--fail-on', 'never'], cwd, '--fail-on is error, warning, hint; "never" is none of them.');
    failing(['check', '--format', 'xml'], cwd, '--format is text, json, sarif, junit, github; "xml" is none of them.');
    failing(['check', '-x'], cwd, 'There is no option -x. `fineweight help` lists what there is.');
    failing(
      ['check', 'a.melt', '--stdin-filename', 'b.melt'],
      cwd,
      'With --stdin-filename the page comes from standard input: give no PATH beside it.',
    );
  });
  test('a file that is not there, and one that is no page', () => {
    const cwd = folderOf({ 'notes.txt': 'x', 'sub/may.melt': '' });
    failing(['check', 'may.melt'], cwd, 'may.melt is not there.');
    failing(['check', 'sub/june.melt'], cwd, 'sub/june.melt is not there.');
    failing(['check', 'notes.txt'], cwd, 'notes.txt is neither a .melt page nor a workshop.yaml.');
    failing(['show', 'may.melt'], cwd, 'may.melt is not there.');
  });
  test('a folder without a journal', () => {
    const cwd = folderOf({ 'empty/notes.txt': 'x' });
    failing(['check'], cwd, 'This folder holds no journal: there is no .melt page in it or below it.');
    failing(['check', 'empty'], cwd, 'empty holds no journal: there is no .melt page in it or below it.');
  });
  test('not UTF-8', () => {
    const cwd = folderOf({
      'may.melt': new Uint8Array([0x41, 0x0a, 0xe9]),
      'june.melt': new Uint8Array([0xff, 0xfe, 0x41, 0]),
    });
    failing(
      ['check', 'may.melt', '--fail-on', 'error'],
      cwd,
      'june.melt is UTF-16; save it as UTF-8.\nfineweight: may.melt is not UTF-8: byte E9 at line 2, column 1; save it as UTF-8.',
    );
    const { exit, err } = fineweight(['check', '--stdin-filename', 'a.melt'], {
      cwd: folderOf({}),
      input: new Uint8Array([0x41, 0xe9]),
    });
    expect([exit, err]).toEqual([2, 'fineweight: Standard input is not UTF-8 at line 1, column 2.\n']);
  });
  test.skipIf(process.platform === 'win32')('no permission', () => {
    // Nothing is forbidden to the administrator: as such the command is run as nobody.
    const uid = process.getuid?.() === 0 ? 65_534 : undefined;
    const cwd = folderOf({ 'may.melt': MAY, 'sub/june.melt': JUNE });
    chmodSync(join(cwd, 'may.melt'), 0o000);
    const file = fineweight(['check', 'may.melt'], { cwd, uid });
    expect(file).toEqual({ exit: 2, out: '', err: 'fineweight: may.melt may not be read: no permission.\n' });
    chmodSync(join(cwd, 'sub'), 0o000);
    const folder = fineweight(['check', 'sub'], { cwd, uid });
    expect(folder.exit).toBe(2);
    expect(folder.err).toContain('sub may not be read: no permission.');
    expect(fineweight(['check', 'sub/june.melt'], { cwd, uid }).err).toContain(
      'june.melt may not be read: no permission.',
    );
    chmodSync(join(cwd, 'sub'), 0o700);
  });
  test('a page that cannot be read does not hide what is wrong in the others', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY, 'june.melt': new Uint8Array([0xe9]) });
    const { exit, out } = fineweight(['check'], { cwd });
    expect(exit).toBe(2);
    expect(out).toContain('[weight-changed]');
    expect(out).toContain('Not everything could be read.');
  });
});

describe('manners', () => {
  test('help, on its own and behind a command', () => {
    for (const args of [[], ['help'], ['--help'], ['check', '--help']]) {
      const { exit, out } = fineweight(args);
      expect([exit, out.slice(0, 10)]).toEqual([0, 'Fineweight']);
    }
  });
  test('its version, by which a fault is told', () => {
    const { version } = JSON.parse(readFileSync(resolve(__dirname, '../../package.json'), 'utf8'));
    for (const args of [['version'], ['--version']]) expect(fineweight(args).out).toBe(`fineweight ${version}\n`);
  });
  test('colour at a terminal alone, and for nobody who sets NO_COLOR', () => {
    const red = '\u001b[31mx\u001b[39m';
    expect(paintFor({ isTTY: true }, {})('red', 'x')).toBe(red);
    expect(paintFor({ isTTY: true }, { NO_COLOR: '1' })('red', 'x')).toBe('x');
    expect(paintFor({ isTTY: true }, { TERM: 'dumb' })('red', 'x')).toBe('x');
    expect(paintFor({}, {})('red', 'x')).toBe('x');
  });
  test('no colour in a pipe', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY });
    expect(fineweight(['check'], { cwd }).out).not.toContain('\u001b');
  });
  test('nothing is written', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': MAY, 'june.melt': JUNE });
    const before = stateOf(cwd);
    for (const args of [['check'], ['check', '--format', 'json'], ['show', 'may.melt'], ['explain']])
      fineweight(args, { cwd });
    expect(stateOf(cwd)).toEqual(before);
  });
  test('links that turn in a circle, and a page come upon twice', () => {
    const cwd = folderOf({ 'workshop.yaml': WORKSHOP, 'may.melt': CLEAN });
    mkdirSync(join(cwd, 'sub'));
    symlinkSync('..', join(cwd, 'sub', 'up'));
    symlinkSync('may.melt', join(cwd, 'again.melt'));
    expect(fineweight(['check'], { cwd })).toMatchObject({ exit: 0, out: '1 page checked: nothing found.\n' });
    expect(fineweight(['check', 'again.melt', 'may.melt'], { cwd }).out).toBe('1 page checked: nothing found.\n');
  });
});

describe('unfinished', () => {
  const OPEN = '2026-05-04\nreceive A1 20.00 g\ncast C1\n  in A1\n  out B1 bar\n';
  const LATER = '2026-06-01\nreceive A2 ?\n';
  test('what is left to weigh, the oldest first; exit 0', () => {
    const cwd = folderOf({ 'a.melt': LATER, 'b.melt': OPEN });
    expect(fineweight(['unfinished'], { cwd })).toEqual({
      exit: 0,
      out: `b.melt:5:3: Weigh B1: the balance of cast C1 leaves 20.00 g, and nothing checks it.
    5 |   out B1 bar
      |   ^^^^^^^^^^

a.melt:2:12: Weigh A2 to know how much came in.
    2 | receive A2 ?
      |            ^

2 things left to weigh or to write, the oldest of 2026-05-04.
`,
      err: '',
    });
    expect(fineweight(['unfinished', 'a.melt'], { cwd }).out).toContain('1 thing left');
  });
  test('as JSON', () => {
    const cwd = folderOf({ 'b.melt': OPEN });
    expect(JSON.parse(fineweight(['unfinished', '--format', 'json'], { cwd }).out)).toEqual({
      version: 1,
      unfinished: [
        {
          file: 'b.melt',
          line: 5,
          column: 3,
          endLine: 5,
          endColumn: 13,
          date: '2026-05-04',
          entry: 'cast C1',
          says: 'Weigh B1: the balance of cast C1 leaves 20.00 g, and nothing checks it.',
          closes: 'cast C1',
        },
      ],
      failures: [],
    });
  });
  test('nothing open, and what cannot be read', () => {
    const cwd = folderOf({ 'may.melt': CLEAN });
    expect(fineweight(['unfinished'], { cwd }).out).toBe('Nothing is left to weigh or to write.\n');
    expect(fineweight(['unfinished', 'none.melt'], { cwd })).toMatchObject({ exit: 2, out: '' });
    expect(fineweight(['unfinished', '--fail-on', 'hint'], { cwd }).exit).toBe(2);
  });
});

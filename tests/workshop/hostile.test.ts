import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildSync } from 'esbuild';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readWorkshop } from '../../server/workshop/read';
import { check } from './marked';

const folder = mkdtempSync(join(tmpdir(), 'workshop-'));
const program = join(folder, 'read.cjs');

/** What a process of its own makes of a text: a crash of it is not one of the tests. */
function inChild(make: string): { status: number | null; out: string } {
  const code = `const { readWorkshop } = require(${JSON.stringify(program)});
    const { problems } = readWorkshop('w', ${make});
    console.log(problems.length, problems[0]?.code, problems[0]?.says);`;
  writeFileSync(join(folder, 'run.cjs'), code);
  const child = spawnSync(process.execPath, [join(folder, 'run.cjs')], { encoding: 'utf8', timeout: 15_000 });
  return { status: child.status, out: child.stdout };
}

describe('hostile files', () => {
  beforeAll(() => {
    const entryPoints = [new URL('../../server/workshop/read.ts', import.meta.url).pathname];
    buildSync({ entryPoints, bundle: true, platform: 'node', format: 'cjs', outfile: program, logLevel: 'error' });
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  test.each([
    ['brackets', `'['.repeat(100_000)`],
    ['brackets that close', `'a: ' + '['.repeat(1000) + ']'.repeat(1000)`],
    ['braces', `'{a: '.repeat(50_000)`],
    ['dashes', `'- '.repeat(100_000)`],
    ['question marks', `'? '.repeat(100_000)`],
    ['indents', `Array.from({ length: 700 }, (_, at) => ' '.repeat(at) + 'a:').join('\\n')`],
  ])('deep %s: one finding, and the process lives', (_, make) => {
    const { status, out } = inChild(make);
    expect(status).toBe(0);
    expect(out).toMatch(/^1 workshop-unreadable Nested more than 64 levels/);
  });

  test('deep, at every depth up to a thousand', () => {
    for (let depth = 1; depth <= 1000; depth += 7) {
      const { problems } = readWorkshop('w', `a: ${'['.repeat(depth)}${']'.repeat(depth)}`);
      expect(problems).toHaveLength(1);
    }
  });

  test('anchors and aliases are refused, and nothing is resolved', () => {
    check(`
scales:
  bench: &tray 0.01 g
#              ^^^^^^ workshop-unreadable: \`&tray\` is not for a workshop file
  fine: *tray
#       ^^^^^ workshop-unreadable: \`*tray\` points elsewhere
`);
    const lines = ['a0: &a0 [x, x, x, x, x, x, x, x, x, x]'];
    for (let at = 1; at < 12; at++) lines.push(`a${at}: &a${at} [${`*a${at - 1}, `.repeat(9)}*a${at - 1}]`);
    const started = performance.now();
    expect(readWorkshop('w', lines.join('\n')).problems[0]!.code).toBe('workshop-unreadable');
    expect(performance.now() - started).toBeLessThan(1000);
  });

  test('tags, directives, several parts, a list or a word instead of sections', () => {
    check('scales:\n  bench: !mass 0.01 g\n#              ^^^^^^ workshop-unreadable: plain value');
    check('shop:\n  name: one\n---\n#^^ workshop-unreadable: second part\nshop:\n  name: two');
    check('- scales\n#^^^^^^^ workshop-unreadable: holds sections');
    check('scales\n#^^^^^ workshop-unreadable: holds sections');
    expect(readWorkshop('w', 'scales').workshop.declared).toBe(false);
  });

  test('syntax that is amiss is said in plain words, and the rest is read', () => {
    const { workshop } = check(
      `
scales:
  bench: 0.01 g
  fine: "0.001 g
#       ^^^^^^^^ workshop-unreadable: A quote is opened and never closed
containers:
  tray: 38.45 g
`.trimEnd(),
    );
    expect(workshop.scales.has('bench')).toBe(true);
    check('shop: name: Tarn End\n#     ^ workshop-unreadable: Two keys in one line');
    check('scales:\n  bench: 0.01 g\n  fi\n# ^^ workshop-unreadable: A colon is missing after this key');
    const [tab] = readWorkshop('w', 'scales:\n\tbench: 0.01 g').problems;
    expect(tab!.says).toBe('A tab begins this line: indent with spaces.');
    expect(tab!.place).toMatchObject({ start: 8, end: 9 });
  });

  test('an unfinished merge is named once for each, and the first side is read', () => {
    const { problems, workshop } = readWorkshop(
      'w',
      'scales:\n<<<<<<< ours\n  bench: 0.01 g\n||||||| base\n  bench: 0.1 g\n=======\n  bench: 0.02 g\n>>>>>>> theirs\n  fine: 1 mg\n',
    );
    expect(problems.map(({ says }) => says)).toEqual([
      'Two versions stand here side by side, and the first one counts until you choose. Keep one of them and take out the marker lines.',
    ]);
    expect(problems[0]!.place).toMatchObject({ start: 8, end: 20 });
    expect([...workshop.scales.keys()]).toEqual(['bench', 'fine']);
    expect(String(workshop.scales.get('bench')?.division)).toBe(
      String(readWorkshop('w', 'scales:\n  bench: 0.01 g\n').workshop.scales.get('bench')?.division),
    );
  });

  test('too large a file is not read', () => {
    const { problems, workshop } = readWorkshop('w', `# ${'x'.repeat(300_000)}`);
    expect(problems.map((of) => of.says)).toEqual(['The workshop file is larger than 256 KiB: it is not read.']);
    expect(workshop.declared).toBe(false);
  });

  test.each(['containers', 'shop', 'recipes', 'limits', 'again'])(
    'as many keys as fit below %s: the work grows with them, not with their square',
    (word) => {
      const line = (at: number) => (word === 'again' ? ' a: 1 g' : ` k${at}: 1 g`);
      const text = (keys: number) => `${word}:\n${Array.from({ length: keys }, (_, at) => line(at)).join('\n')}`;
      // Time of the processor, since others may be using the machine. Eight times the keys: squared it would be 64.
      const work = (keys: number) => {
        const before = process.cpuUsage();
        const { problems } = readWorkshop('w', text(keys));
        expect(problems.length).toBeLessThanOrEqual(100);
        const { user, system } = process.cpuUsage(before);
        return user + system;
      };
      const few = Math.min(work(2000), work(2000), work(2000));
      const many = Math.min(work(16_000), work(16_000));
      expect(many / few).toBeLessThan(32);
    },
  );

  test('names of the language underneath are names like any other', () => {
    for (const name of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
      const { workshop, names } = readWorkshop(
        'w',
        `containers:\n  ${name}: 38.45 g\nrecipes:\n  ${name}: {silica: 1}`,
      );
      expect(workshop.containers.get(name)?.tareGrams?.toString()).toBe('38.45');
      expect(workshop.recipes.get(name)?.parts).toHaveLength(1);
      expect(names.get('containers')?.has(name)).toBe(true);
      expect(readWorkshop('w', `${name}:\n  a: 1`).problems[0]!.code).toBe('workshop-unknown-key');
      expect(readWorkshop('w', `shop:\n  ${name}: 1`).problems[0]!.code).toBe('workshop-unknown-key');
      expect(readWorkshop('w', `recipes:\n  a: {${name}: 1}`).problems[0]!.code).toBe('workshop-unknown-material');
      expect(readWorkshop('w', `limits:\n  usual loss: {${name}: 1 %}`).problems[0]!.code).toBe('workshop-unknown-key');
    }
    expect(({} as Record<string, unknown>).silica).toBeUndefined();
  });

  test('a byte order mark and any line ending change no place', () => {
    const text = '\uFEFFscales:\r\n  bench: 0.01\r\n  # why\r\n  fine: 0.001 g\r\n';
    const { problems, workshop, names } = readWorkshop('w', text);
    const [problem] = problems;
    expect(problems).toHaveLength(1);
    expect(text.slice(problem!.place.start, problem!.place.end)).toBe('0.01');
    const fine = names.get('scales')!.get('fine')!;
    expect(text.slice(fine.start, fine.end)).toBe('fine');
    expect(workshop.scales.get('fine')!.division!.toString()).toBe('0.001');
  });

  test('numbers are read as they are spelt', () => {
    const spelt = ['1.10', '0777', '010.50', '12345678.123456789', '100000000000000'];
    for (const number of spelt) {
      const { workshop } = readWorkshop('w', `containers:\n  a: ${number} g`);
      const expected = number.replace(/^0+(?=\d)/, '').replace(/0+$/, (zeros) => (number.includes('.') ? '' : zeros));
      expect(workshop.containers.get('a')!.tareGrams!.toFixed()).toBe(expected);
    }
    for (const number of ['0o17', '0x1F', '1e3', '.inf', '1_000', '12:30']) {
      expect(readWorkshop('w', `containers:\n  a: ${number} g`).problems, number).toHaveLength(1);
    }
  });

  test('no text makes it throw, and every place lies in the text', () => {
    const words = [
      'scales',
      'bench',
      'recipes',
      ':',
      ': ',
      '\n',
      '\n  ',
      '    ',
      '{',
      '}',
      '[',
      ']',
      '- ',
      '? ',
      '&a ',
      '*a',
      '"',
      "'",
      '#',
      '0.01 g',
      '%',
      '|',
      '>',
      '\t',
      '\r\n',
      '---',
      '...',
      '<<',
      '!!set ',
      '\u0000',
      '\uFEFF',
      '\\',
      ',',
    ];
    const soup = fc.array(fc.oneof(fc.constantFrom(...words), fc.string({ maxLength: 3 })), { maxLength: 40 });
    fc.assert(
      fc.property(soup, (parts) => {
        const text = parts.join('');
        for (const { place, says, fixes } of readWorkshop('w', text).problems) {
          expect(place.start).toBeGreaterThanOrEqual(0);
          expect(place.start).toBeLessThanOrEqual(place.end);
          expect(place.end).toBeLessThanOrEqual(text.length);
          expect(says).toMatch(/[.?]$/);
          for (const fix of fixes ?? []) expect(fix.edits).toHaveLength(1);
        }
      }),
      { numRuns: 2000 },
    );
  });
});

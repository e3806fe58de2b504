/** Plans on the command line, and questions that stand in no page. */
import { afterAll, describe, expect, test } from 'vitest';
import { fineweight, folderOf, removeFolders } from './run';

afterAll(removeFolders);

const PAGE = `2026-06-01
receive A 61.0 g, from own-dredge
  expect Au 60 %, Ag 38 %

plan cupel K1
  in A

cast C9
  in 5.0 g of A
  out B 5.0 g bar
`;

describe('plan', () => {
  test('prints the entry as if it were done, then the way to each figure', () => {
    const cwd = folderOf({ 'june.melt': PAGE });
    const { out, exit } = fineweight(['plan'], { cwd });
    expect(exit).toBe(0);
    const lines = out.split('\n');
    expect(lines[0]).toBe('june.melt:5: cupel K1, planned under 2026-06-01');
    expect(lines.find((line) => line.startsWith('    add lead'))).toMatch(/^ {4}add lead ~\d+ g/);
    expect(out).toContain('Taken: ');
  });

  test('says the same as JSON, each figure with what it rests on', () => {
    const cwd = folderOf({ 'june.melt': PAGE });
    const { plans, version } = JSON.parse(fineweight(['plan', '--format', 'json'], { cwd }).out);
    expect(version).toBe(1);
    expect(plans).toHaveLength(1);
    expect(plans[0]).toMatchObject({ file: 'june.melt', line: 5, entry: 'cupel K1', date: '2026-06-01', wrong: [] });
    expect(plans[0].writes.some(({ text }: { text: string }) => text.startsWith('add lead ~'))).toBe(true);
    for (const { assumed } of plans[0].answers) for (const { source } of assumed) expect(source).not.toBe('');
  });

  test('says so where nothing is planned', () => {
    const cwd = folderOf({ 'june.melt': PAGE.replace('plan cupel', 'cupel') });
    expect(fineweight(['plan'], { cwd })).toMatchObject({
      out: 'There is no plan that is still to be done.\n',
      exit: 0,
    });
  });
});

describe('ask', () => {
  test('answers a plan in words, without a journal', () => {
    const { out, exit } = fineweight(['ask', 'receive B 61 g, expect Au 80 %, Ag 12 %; cupel, in B']);
    expect(exit).toBe(0);
    expect(out).toMatch(/add lead ~\d+ g/);
  });

  test('shows the figures of what is no plan', () => {
    const { out, exit } = fineweight(['ask', 'receive G 20 g; assay G by density, air 20.00 g, water 18.80 g 20 °C']);
    expect(exit).toBe(0);
    expect(out).toContain('16.62 g/cm³');
  });

  test('takes lots and vessels of a journal', () => {
    const cwd = folderOf({ 'june.melt': PAGE });
    const { out, exit } = fineweight(['ask', 'cupel K2, in A', '--journal', cwd]);
    expect(exit).toBe(0);
    // What is left of it after cast C9.
    expect(out).toContain('56.0 g');
  });

  test('tells what is wrong in the question', () => {
    expect(fineweight(['ask', 'cupel K2, in nobody 20 g']).out).toContain('[unknown-lot]');
    expect(fineweight(['ask', 'cupel 61 g button with 8 % Cu']).out).toMatch(
      /Ask in the words of the journal, such as: .*\n$/,
    );
    const { out, exit } = fineweight(['ask', 'brew K2, in A']);
    expect(out).toContain('[unknown-verb]');
    expect(exit).toBe(1);
    expect(fineweight(['ask']).exit).toBe(2);
    expect(fineweight(['ask', ' ; '])).toMatchObject({ out: '', exit: 2 });
    const huge = fineweight(['ask', 'receive B 1e99 g, expect Au 80 %; cupel, in B']);
    expect(huge.out).toContain('[odd-number]');
    expect(huge.out).not.toContain('000000');
  });
});

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
    // A question stands under no day that anybody wrote.
    expect(out).not.toMatch(/\d{4}-\d\d-\d\d/);
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

  test.each([
    [
      'cupel 61 g button with 8 % Cu',
      'receive asked-1 61 g; assay asked-1 by fire, Cu 8 %; plan cupel step-1, in asked-1',
      /add lead ~78 g/,
    ],
    [
      'melt 204 g of black sand with 14 % gold',
      'receive asked-1 204 g, material black-sand, expect Au 14 %; plan melt step-1, in asked-1',
      /add borax-glass ~74 g/,
    ],
    // 50 × (0.9167 − 0.75)/0.75
    [
      'cast 50 g 22 k to 18 k',
      'receive asked-1 50 g; assay asked-1 by fire, Au 22 k; plan cast step-1, in asked-1, out asked-1b, expect Au 18 k',
      /= 11 g \(9\.4\.\.13\)/,
    ],
    // 2.5 × 17.6 − 2.0
    [
      'inquart 20 g with 88 % Au and 10 % Ag',
      'receive asked-1 20 g; assay asked-1 by fire, Au 88 %, Ag 10 %; plan melt step-1, in asked-1, add silver ?',
      /add silver ~42 g/,
    ],
  ])('takes %j in the words of the journal, and says which', (question, meant, answer) => {
    const { out, exit } = fineweight(['ask', question]);
    expect(exit).toBe(0);
    expect(out.split('\n')[0]).toBe(`Taken as: ${meant}`);
    expect(out).toMatch(answer);
  });

  test('takes a detail behind a semicolon as a line of what stands before it', () => {
    const [apart, together] = [
      'receive B 61 g; expect Cu 8 %; cupel, in B',
      'receive B 61 g, expect Cu 8 %; cupel, in B',
    ];
    const lead = (text: string): string | undefined => /lead wanted .*/.exec(fineweight(['ask', text!]).out)?.[0];
    expect(lead(apart!)).toBe('lead wanted 68..240 g');
    expect(lead(apart!)).toBe(lead(together!));
  });

  test('names a step of a plan that is asked without one', () => {
    expect(fineweight(['ask', 'receive B 50 g, material quartz; plan melt, in B']).out).toContain('melt asked-2');
  });

  test('of a material that nobody knows says that it is not known, and which may be meant', () => {
    const { out } = fineweight(['ask', 'melt 10 g unobtainium']);
    expect(out).toContain('unobtainium is no material that is known. [unknown-material]');
    expect(out).toContain('What asked-1 is made of is not known');
    expect(out).not.toContain('Nothing goes in yet');
    expect(fineweight(['ask', 'cupel 10 g of blak sand']).out).toContain(
      'blak-sand is no material that is known. Is black-sand meant?',
    );
  });

  test('takes so much of a lot of the journal', () => {
    const cwd = folderOf({ 'june.melt': PAGE });
    const { out } = fineweight(['ask', 'cupel 10 g of A', '--journal', cwd]);
    expect(out.split('\n')[0]).toBe('Taken as: plan cupel step-1, in 10 g of A');
    expect(out).toMatch(/in 10 g of A +│/);
  });

  test('tells what is wrong in the question', () => {
    expect(fineweight(['ask', 'cupel K2, in nobody 20 g']).out).toContain('[unknown-lot]');
    expect(fineweight(['ask', 'how much lead for 61 g']).out).toMatch(
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

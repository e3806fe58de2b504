/** The look back, as its users ask for it: a shop whose truth is known, and what is said of it. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { shopYear, YEAR_WORKSHOP } from '../support/shop-year';
import { fineweight, folderOf, removeFolders } from './run';

afterAll(removeFolders);

let cwd: string;
beforeAll(() => {
  const pages = shopYear({ lots: 60, xrfBias: 0.003, inSlag: { quick: 0.006, slow: 0.002 } });
  cwd = folderOf({ 'workshop.yaml': YEAR_WORKSHOP, ...Object.fromEntries(pages) });
});

interface Row {
  readonly [column: string]: number | string | null;
}

const rowsOf = (...args: string[]): readonly Row[] => {
  const { out, exit } = fineweight(['history', ...args, '--format', 'json'], { cwd });
  expect(exit).toBe(0);
  return JSON.parse(out).journals[0].flatMap(({ rows }: { rows: Row[] }) => rows);
};

describe('history', () => {
  test('says of every part something, and of few steps that they are few', () => {
    const few = folderOf({ 'workshop.yaml': YEAR_WORKSHOP, ...Object.fromEntries(shopYear({ lots: 3 })) });
    const { out, exit, err } = fineweight(['history'], { cwd: few });
    expect([exit, err]).toEqual([0, '']);
    expect(out).toContain('Tarn End, looking back from the first day to the last: 3 steps');
    expect(out).toContain('All of these rest on five steps or fewer: too few for an interval of 95 %.');
    expect(out).toContain('7 more to learn from');
    expect(out).toContain('3 steps are few: this says little.');
  });

  test('the recipe that leaves less gold in the slag, and that it is not chance', () => {
    const [first, second] = rowsOf('--part', 'recipes', '--metal', 'Au');
    const [quick, slow] = first!.recipe === 'quick' ? [first!, second!] : [second!, first!];
    expect([quick.slags, slow.slags]).toEqual([30, 30]);
    expect(quick.median).toBeGreaterThan(0.0045);
    expect(slow.median).toBeLessThan(0.003);
    expect(second!.against).toMatch(/^(less|more) than the first$/);
    expect(quick.quiet_minutes).toBeLessThan(slow.quiet_minutes as number);
  });

  test('that our xrf finds three parts in a thousand too much, within its interval', () => {
    const [row] = rowsOf('--part', 'assays', '--metal', 'Au');
    expect(row).toMatchObject({ own: 'xrf', other: 'harbour-refiner, settled', pairs: 60, remarks: 'we find more' });
    expect(row!.low).toBeLessThan(0.003);
    expect(row!.high).toBeGreaterThan(0.003);
  });

  test('steps by hand, crucible or month, and what is not said as such', () => {
    expect(rowsOf('--part', 'losses', '--by', 'hand').map(({ hand, steps }) => [hand, steps])).toEqual([
      ['AB', 48],
      ['CD', 12],
    ]);
    expect(rowsOf('--part', 'losses', '--by', 'crucible').map(({ crucible, steps }) => [crucible, steps])).toEqual([
      ['C4', 40],
      ['C5', 20],
    ]);
    expect(rowsOf('--part', 'losses', '--by', 'month', '--from', '2016-02-01', '--to', '2016-02-29')).toHaveLength(1);
  });

  test('what the journal teaches, and on how many heats that rests', () => {
    const taught = rowsOf('--part', 'taught');
    expect(taught.map(({ kind, steps }) => [kind, steps])).toEqual([
      ['melt · scrap · quick', 30],
      ['melt · scrap · slow', 30],
    ]);
    for (const { most, limit } of taught) expect(limit).toBeGreaterThan(most as number);
  });

  test('how often chance alone is told, as it is set', () => {
    const notes = (...args: string[]): string => fineweight(['history', '--part', 'limits', ...args], { cwd }).out;
    // One side of k = 0.5: 930 steps for h = 5, 2 550 for h = 6, 11 for h = 1 (the first two by tables of run lengths, from memory).
    expect(notes()).toContain('slack 0.5 and limit 6 deviations: by chance alone once in some 2600 steps of a kind.');
    expect(notes('--cusum-limit', '5')).toContain('once in some 930 steps of a kind.');
    expect(notes('--cusum-limit', '1')).toContain('once in some 11 steps of a kind.');
    expect(notes('--cusum-slack', '2', '--cusum-limit', '20')).toContain(
      'by chance alone hardly ever, and of a small rise neither.',
    );
    expect(notes('--ewma-weight', '0.5')).not.toContain('one of twenty');
  });

  test('csv holds the same, one cell a line', () => {
    const { out } = fineweight(['history', '--part', 'crucibles', '--format', 'csv'], { cwd });
    expect(out.split('\r\n').slice(0, 3)).toEqual([
      'table,row,column,value',
      'crucibles,1,crucible,C4',
      'crucibles,1,heats,40',
    ]);
  });

  test.each([
    [['--by', 'moon'], '--by is kind, recipe, crucible, furnace, hand, material, month; "moon" is none of them.'],
    [['--cusum-limit', 'much'], '--cusum-limit wants a number from 0.1 to 20; "much" is none.'],
    [['--part', 'all'], '"all" is none of them.'],
    [['--from', '2016-03-01', '--to', '2016-02-01'], '--from 2016-03-01 is after --to 2016-02-01.'],
    [['--metal', 'gold'], '--metal wants a symbol, as Au; "gold" is none.'],
  ])('%s is asked about', (args, says) => {
    const { exit, err, out } = fineweight(['history', ...args], { cwd });
    expect([exit, out]).toEqual([2, '']);
    expect(err).toContain(says);
  });
});

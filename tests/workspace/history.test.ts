/** What is usual, learnt from earlier steps of the same journal. */
import { describe, expect, test } from 'vitest';
import type { Step } from '../../server/engine/book';
import { MOST_EARLIER } from '../../server/engine/learnt';
import { findingsOf } from '../../server/rules/findings';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import { touchedFiles, type Workspace } from '../../server/workspace/workspace';
import { said, workspaceOf } from '../support/workspace';

interface Dry {
  readonly out: string;
  readonly material?: string;
  readonly head?: string;
}

const day = (index: number): string =>
  `2026-${`${1 + Math.floor(index / 28)}`.padStart(2, '0')}-${`${1 + (index % 28)}`.padStart(2, '0')}`;

/** One dry a day of 200 g. */
const dryOf = ({ out, material = 'black-sand', head = 'dry' }: Dry, index: number): string =>
  `${day(index)}\nreceive A${index} 200.00 g\n  material ${material}\n${head} D${index}\n  in A${index}\n  out A${index}d ${out}\n`;

const journal = (dries: readonly Dry[]): string => dries.map(dryOf).join('\n');
const EIGHT: readonly Dry[] = ['188.00', '190.00', '187.60', '189.40', '188.80', '189.00', '187.00', '188.20'].map(
  (grams) => ({ out: `${grams} g` }),
);

const pageOf = (dries: readonly Dry[], workshop?: string): Workspace =>
  workspaceOf({ 'page.melt': journal(dries), ...(workshop ? { 'workshop.yaml': workshop } : {}) });

const stepIn = (workspace: Workspace, name: string): Step => {
  const entries = [...workspace.pages.values()].flatMap((page) => page.entries);
  return workspace.book.step(entries.find((entry) => entry.name?.name === name && entry.flows.length > 0)!)!;
};

const usual = (workspace: Workspace, name: string): string => {
  const { from, why } = stepIn(workspace, name).usual!;
  return `${from}: ${why}`;
};

// Losses of 6 5 6.2 5.3 5.6 5.5 6.5 5.9 %: median 5.75, MAD 0.35; 5.75 + 2.58 (1 + 6.1/4.6) 1.4826 × 0.35 = 8.86, up to 8.9 % of 200 g.
describe('the ninth dry', () => {
  test('is held against the eight before it', () => {
    const workspace = pageOf([...EIGHT, { out: '160.00 g' }]);
    expect(usual(workspace, 'D8')).toBe('history: 8 earlier dries of this kind lost 5.0 to 6.5 %');
    expect(stepIn(workspace, 'D8').verdict).toBe('high');
    expect(findingsOf(workspace, 'page.melt').map(({ says }) => says)).toEqual([
      '40.00 g is missing in dry D8, more than it usually loses here (up to 17.83 g: 8 earlier dries of this kind lost 5.0 to 6.5 %).',
    ]);
  });
  test('is as usual within them', () => {
    const workspace = pageOf([...EIGHT, { out: '187.50 g' }]);
    expect([stepIn(workspace, 'D8').verdict, said(workspace)]).toEqual(['usual', []]);
  });
  test('the eighth has too few before it: the built-in holds', () => {
    const workspace = pageOf([...EIGHT.slice(0, 7), { out: '160.00 g' }, { out: '188.00 g' }]);
    expect(usual(workspace, 'D7')).toMatch(/^built-in: /);
    expect(stepIn(workspace, 'D7').verdict).toBe('usual');
    expect(usual(workspace, 'D8')).toMatch(/^history: 7 of 8 earlier dries/);
  });
  test.each<[string, Partial<Dry>]>([
    ['of another material', { material: 'tailings' }],
    ['planned', { head: 'plan dry' }],
    ['void', { head: 'void dry' }],
    ['guessed', { out: '~188 g' }],
    ['not weighed', { out: '? g' }],
    ['more out than in', { out: '201 g' }],
  ])('does not learn from one that is %s', (_, change) => {
    const workspace = pageOf([...EIGHT.slice(0, 7), { ...EIGHT[7]!, ...change }, { out: '188.00 g' }]);
    expect(usual(workspace, 'D8')).toMatch(/^built-in: /);
  });
  test('is not held against others where nobody wrote what went in', () => {
    const page = journal([...EIGHT, { out: '188.00 g' }]).replaceAll('  material black-sand\n', '');
    expect(usual(workspaceOf({ 'page.melt': page }), 'D8')).toMatch(/^built-in: /);
  });
  test("the workshop's own figure comes first", () => {
    const workspace = pageOf([...EIGHT, { out: '160.00 g' }], 'limits:\n  usual loss:\n    dry: 30 %\n');
    expect(usual(workspace, 'D8')).toBe('workshop: usual loss stated in the workshop file');
  });
  test('a loss above what is usual elsewhere is told as such', () => {
    const casts = Array.from({ length: 9 }, (_, index) =>
      dryOf({ out: '192.00 g bar', head: 'cast', material: 'scrap' }, index),
    ).join('\n');
    expect(usual(workspaceOf({ 'page.melt': casts }), 'D8')).toMatch(
      /^history: 8 earlier casts of this kind lost 4\.00 %; elsewhere up to 0\.5 % is usual$/,
    );
  });
  test('what a flux gives off and nobody knows is no scatter: it is the same in each melt', () => {
    // Soda ash may keep its carbon dioxide or give off all of it, 41 g of 230; these nine give off all but a little, and lose 1 to 2 % beside.
    const lost = [2.6, 3.1, 3.9, 4.4, 2.9, 3.5, 4.1, 3.3, 3.7, 14];
    const melts = lost.map(
      (grams, at) =>
        `${day(at)}\nreceive A${at} 100.00 g, material black-sand\nmelt M${at}\n  in A${at} 100.00 g\n  add soda-ash 100.00 g\n  add silica 30.00 g\n  out B${at} 20.00 g button\n  out S${at} ${(168.5 - grams).toFixed(2)} g slag`,
    );
    const workspace = workspaceOf({ 'page.melt': melts.join('\n') });
    expect(stepIn(workspace, 'M8').verdict).toBe('usual');
    expect(stepIn(workspace, 'M9').verdict).toBe('high');
  });
  test('more out than in is never usual', () => {
    const dries = Array.from({ length: 9 }, () => ({ out: '202.00 g' }));
    expect(stepIn(pageOf(dries), 'D8').verdict).toBe('gain');
  });
});

describe('an edit', () => {
  const dries: readonly Dry[] = Array.from({ length: 60 }, (_, index) => EIGHT[index % 8]!);
  const pages = new Map(dries.map((dry, index) => [`${day(index)}.melt`, dryOf(dry, index)]));
  const at = (index: number): string => `${day(index)}.melt`;
  const before = withTexts(emptyWorkspace('test'), pages);

  test('reaches no farther than the steps that are held against it, and never back', () => {
    const after = withTexts(before, new Map([[at(10), dryOf({ out: '120.00 g' }, 10)]]));
    const touched = touchedFiles(before, after).toSorted();
    expect(touched[0]).toBe(at(10));
    expect(touched.length).toBeGreaterThan(10);
    expect(touched.at(-1)).toBe(at(10 + MOST_EARLIER));
  });
  test('that changes nothing of the usual leaves other accounts as they were', () => {
    const after = withTexts(before, new Map([[at(10), dryOf({ out: `${EIGHT[2]!.out}, note swept twice` }, 10)]]));
    expect(touchedFiles(before, after)).toEqual([at(10)]);
  });
  test.each([
    ['a late weight', new Map([[at(20), dryOf({ out: '? g' }, 20)]])],
    ['a page that is gone', new Map([[at(5), undefined]])],
    ['another day', new Map([[at(3), dryOf(dries[3]!, 3).replace(day(3), day(70))]])],
    ['another material', new Map([[at(9), dryOf({ ...dries[9]!, material: 'tailings' }, 9)]])],
  ])('equals a fresh computation: %s', (_, change: Map<string, string | undefined>) => {
    const after = withTexts(before, change);
    const texts = new Map<string, string | undefined>([...pages, ...change]);
    const fresh = withTexts(emptyWorkspace('fresh'), texts);
    const all = (workspace: Workspace): string[] =>
      [...workspace.pages.keys()]
        .sort()
        .flatMap((file) =>
          workspace.pages
            .get(file)!
            .entries.map((entry) => JSON.stringify([entry.name?.name, workspace.book.step(entry)?.usual])),
        );
    expect(all(after)).toEqual(all(fresh));
  });
});

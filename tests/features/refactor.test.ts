/** What can be made of the entry at `‸`: the page before, the title, the page after. */
import { describe, expect, test } from 'vitest';
import { refactoringsAt } from '../../server/features/refactor/refactorings';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace } from '../support/workspace';

const FILE = 'page.melt';
const TODAY = '2026-05-06';

const titles = (marked: string): readonly string[] => offers(marked).map(({ title }) => title);

const offers = (marked: string) => {
  const offset = marked.indexOf('‸');
  return refactoringsAt(pageWorkspace(marked.replace('‸', '')), FILE, offset, TODAY);
};

const made = (marked: string, title: RegExp): string => {
  const found = offers(marked).find((one) => title.test(one.title));
  if (!found) throw new Error(`nothing like ${title} among: ${titles(marked).join('; ')}`);
  return [...found.edits]
    .sort((a, b) => b.start - a.start)
    .reduce((text, { start, end, text: by }) => text.slice(0, start) + by + text.slice(end), marked.replace('‸', ''));
};

const codes = (page: string): readonly string[] => findingsOf(pageWorkspace(page), FILE).map(({ code }) => code);

const MELT = `2026-05-04

receive A1 61.37 g on bench

melt M1, crucible C4, on bench
  in A1 61.37 g
  add borax-glass 20 g
  out B1 58.16 g button
  out 22.30 g slag
`;

describe('an entry goes on another day', () => {
  test('from the line on, with what its first line says of every line', () => {
    expect(made(MELT.replace('  out 22', '  ‸out 22'), /^Split/)).toBe(
      MELT.replace('  out 22.30 g slag\n', '\nmore melt M1, on bench\n  out 22.30 g slag\n'),
    );
  });

  test('nothing else is said of it than before', () => {
    expect(codes(made(MELT.replace('  out 22', '  ‸out 22'), /^Split/))).toEqual(codes(MELT));
  });

  test('not from its first two lines, and not behind a date of its own', () => {
    expect(titles(MELT.replace('  in A1', '  ‸in A1')).filter((one) => /^Split/.test(one))).toEqual([]);
    const overnight = MELT.replace('  out B1', '  2026-05-05 00:10 poured\n  out B1').replace('  out 22', '  ‸out 22');
    expect(titles(overnight).filter((one) => /^Split/.test(one))).toEqual([]);
  });
});

describe('a product gets a name of its own', () => {
  const LATER = `${MELT}\n2026-05-05\n\nmelt M2\n  in M1.slag 22.30 g\n  out B2 22.1 g slag\n`;

  test('wherever the record speaks of it', () => {
    const named = made(LATER.replace('  out 22.30', '  out‸ 22.30'), /^Give M1.slag a name of its own: S1$/);
    expect(named).toBe(LATER.replace('out 22.30 g slag', 'out S1 22.30 g slag').replace('in M1.slag', 'in S1'));
    expect(codes(named)).toEqual(codes(LATER));
  });

  test('another name where that one is taken', () => {
    const taken = `2026-05-03\nreceive S1 5 g\n\n${MELT}`;
    expect(titles(taken.replace('  out 22.30', '  out‸ 22.30'))).toContain('Give M1.slag a name of its own: S1a');
  });

  test('not where others are counted from it, or join it later', () => {
    const two = MELT.replace('  out 22.30 g slag', '  out‸ 22.30 g slag\n  out 1.1 g slag');
    const joined = `${MELT.replace('  out 22.30', '  out‸ 22.30')}\n2026-05-05\nmore melt M1\n  out 0.3 g slag\n`;
    for (const page of [two, joined]) expect(titles(page).filter((one) => /^Give/.test(one))).toEqual([]);
  });
});

describe('a weight that was read anew', () => {
  test('is an entry of its own, before the work', () => {
    const page = MELT.replace('  in A1 61.37', '  in A1‸ 61.31');
    expect(made(page, /^Note it as weighed again/)).toBe(
      page.replace('‸', '').replace('melt M1', 'weigh A1 61.31 g on bench\n\nmelt M1'),
    );
  });

  test('not of a part, and not of a guess', () => {
    for (const line of ['  in 20 g of A1‸', '  in A1‸ ~61 g'])
      expect(titles(MELT.replace('  in A1 61.37 g', line)).filter((one) => /weighed/.test(one))).toEqual([]);
  });
});

describe('what was done is planned again', () => {
  test('with the next name, what was added, and what is on hand of the same make', () => {
    const page = `${MELT}\n2026-05-05\n\nreceive A2 40.10 g on bench\n`;
    expect(made(page.replace('melt M1', 'melt‸ M1'), /^Plan it again/)).toBe(
      `${page}\n2026-05-06\n\nplan melt M2, crucible C4\n  in A2\n  add borax-glass 20 g\n  out B2 button\n  out slag\n`,
    );
  });

  test('under the day that stands there, if that is today', () => {
    const page = MELT.replace('2026-05-04', TODAY);
    expect(made(page.replace('melt M1', 'melt‸ M1'), /^Plan it again/).split(TODAY)).toHaveLength(2);
  });
});

test('in a sealed period only the plan is offered', () => {
  const sealed = `${MELT}\n2026-05-31\nseal 2026-05-31 digest ${'0'.repeat(64)}\n`;
  expect(titles(sealed.replace('  out 22', '  ‸out 22'))).toEqual(['Plan it again for today: “plan melt M2”']);
});

test('a line that is not understood, a comment, an empty page: nothing, and no failure', () => {
  for (const page of ['‸', '# ‸only a comment\n', '2026-05-04\nmelt‸\n', '2026-05-04\nmelt M1\n  in ‸\n', '  ‸in A\n'])
    expect(titles(page).filter((one) => !/^Plan/.test(one))).toEqual([]);
});

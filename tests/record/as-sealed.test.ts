/** What one slip in a sealed entry was, told by its mark alone. */
import { describe, expect, it } from 'vitest';
import { asSealed } from '../../server/record/as-sealed';
import { canonicalLines, markOfLines } from '../../server/record/canonical';
import { findingsOf } from '../../server/rules/findings';
import type { Section } from '../../server/syntax/tree';
import { seeded } from '../support/random';
import { fixed, pageWorkspace } from '../support/workspace';

const ENTRY =
  'cast C1  # hot day\n  in A 20.00 g on bench, tare 1.25 g\n  add borax-glass 3.5 g\n  out B 19.98 g bar\n  07:45 into the fire\n';

const sectionOf = (entry: string): Section =>
  pageWorkspace(`2026-05-04\n${entry}`).pages.get('page.melt')!.entries[0]!.anchor as Section;

const MARK = markOfLines(canonicalLines(sectionOf(ENTRY)));

const told = (from: string | RegExp, to: string) => {
  const entry = ENTRY.replace(from, to);
  expect(entry).not.toBe(ENTRY);
  const section = sectionOf(entry);
  const found = asSealed(section, MARK);
  return found && { ...found, line: section.text.slice(found.line.start, found.line.end) };
};

describe('the mark of an entry', () => {
  it.each([
    ['19.98', '19.89', '19.98'],
    ['19.98', '199.8', '19.98'],
    ['19.98', '1998', '19.98'],
    ['19.98', '9.98', '19.98'],
    ['19.98', '19.988', '19.98'],
    ['3.5 g', '3.5 ozt', 'g'],
    ['A 20', 'A 30', '20.00'],
    ['cast C1', 'cast C2', 'C1'],
    ['07:45', '07:54', '07:45'],
  ])('tells what %s was, which is now %s', (from, to, word) => {
    expect(told(from, to)).toMatchObject({ kind: 'read', word: { text: word } });
  });

  it('tells a word and a line that were put in, and lines that changed places', () => {
    expect(told('bar', 'bar hot')).toMatchObject({
      kind: 'read',
      line: 'out B 19.98 g bar hot',
      text: '  out B 19.98 g bar',
    });
    expect(told('  out', '  add lead 2 g\n  out')).toMatchObject({ kind: 'added', line: 'add lead 2 g' });
    expect(
      told('  add borax-glass 3.5 g\n  out B 19.98 g bar\n', '  out B 19.98 g bar\n  add borax-glass 3.5 g\n'),
    ).toMatchObject({ kind: 'swapped', line: 'out B 19.98 g bar' });
  });

  it('says nothing of two slips, or of a word that is gone', () => {
    expect(
      told(/20\.00 g(.|\n)*19/, '20.01 g on bench, tare 1.25 g\n  add borax-glass 3.5 g\n  out B 18'),
    ).toBeUndefined();
    expect(told(' bar', '')).toBeUndefined();
  });

  it('never tells what was not: of two thousand entries no other mark fits', () => {
    const random = seeded(20261128);
    let found = 0;
    for (let round = 0; round < 2000; round++) {
      const mark = Array.from({ length: 8 }, () => random.pick([...'0123456789abcdef'])).join('');
      if (asSealed(sectionOf('receive A 20.00 g\n'), mark)) found++;
    }
    expect(found).toBe(0);
  });
});

it('a finding offers to write the figure back', () => {
  const page =
    '2026-05-04\nreceive A 20.10 g\n\n2026-06-01\nseal 2026-05-31 digest s1-ca8bf00c86ac16ef3a0901fbff5e61104af9a11748b07c13e9eea0bcc87fa9bf\n  marks 2026-05-04 92262dee';
  const workspace = pageWorkspace(page);
  const [finding] = findingsOf(workspace, 'page.melt');
  expect(finding?.fixes?.map(({ title }) => title)).toEqual(['Write 20.00 here, as it was sealed']);
  expect(findingsOf(pageWorkspace(fixed(workspace, finding!)), 'page.melt')).toEqual([]);
});

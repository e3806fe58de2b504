import { describe, expect, test } from 'vitest';
import { meaningOf } from '../../server/workshop/key-meanings';
import { KEYS, SECTION_NAMES, SECTIONS, VALUE_KINDS } from '../../server/workshop/keys';
import { WORKSHOP_PAGES } from '../../server/workshop/pages';
import { readWorkshop } from '../../server/workshop/read';

/** A workshop file with one key in it, as its table says that it is written. */
function fileWith(owner: string, key: string, example: string): string {
  const nested = /^[^ ].*: ?/.test(example) && /: |:$/.test(example);
  const value = example.endsWith(':') ? `\n          ${example}` : nested ? ` { ${example} }` : ` ${example}`;
  const line = `${key}:${value}`;
  if (owner === 'terms') return `parties:\n  a:\n    terms:\n      2026-01-01:\n        ${line}`;
  const holds = SECTIONS.find(({ section }) => section === owner)!.holds;
  return holds === 'keys' ? `${owner}:\n  ${line}` : `${owner}:\n  a:\n    ${line}`;
}

describe('tables of the workshop file', () => {
  test.each(KEYS.map((row) => [`${row.in}, ${row.key}`, row] as const))('%s: its example is right', (_, row) => {
    expect(readWorkshop('w', fileWith(row.in, row.key, row.example)).problems).toEqual([]);
    expect(meaningOf(row)).toMatch(/\.$/);
  });

  test.each(KEYS.filter((row) => row.value !== 'text').map((row) => [`${row.in}, ${row.key}`, row] as const))(
    '%s: nonsense in its place is said',
    (_, row) => {
      expect(readWorkshop('w', fileWith(row.in, row.key, 'nonsense')).problems).not.toEqual([]);
    },
  );

  test.each(SECTIONS.map((row) => [row.section, row] as const))('section %s: its example is right', (_, row) => {
    const text = row.section === 'recipes' ? `recipes:\n  a: { ${row.example} }` : `${row.section}:\n  ${row.example}`;
    expect(readWorkshop('w', text).problems).toEqual([]);
  });

  test('every section has its row, a key stands once, and one key at most may be left out', () => {
    expect(SECTIONS.map((row) => row.section)).toEqual([...SECTION_NAMES]);
    expect(new Set(KEYS.map((row) => `${row.in} ${row.key}`)).size).toBe(KEYS.length);
    for (const owner of SECTION_NAMES) {
      expect(KEYS.filter((row) => row.in === owner && row.short).length).toBeLessThanOrEqual(1);
    }
    const used = new Set<string>([...KEYS.map((row) => row.value), ...SECTIONS.map((row) => row.holds)]);
    expect(Object.keys(VALUE_KINDS).filter((kind) => !used.has(kind))).toEqual([]);
  });
});

describe('pages of the findings', () => {
  test.each(WORKSHOP_PAGES.map((page) => [page.code, page] as const))('%s', (code, page) => {
    const found = readWorkshop('w', page.wrong).problems;
    expect(found.map((problem) => [problem.code, problem.severity])).toEqual([[code, page.severity]]);
    expect(readWorkshop('w', page.right).problems).toEqual([]);
  });
});

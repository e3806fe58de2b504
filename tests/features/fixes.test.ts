/** What can be mended at `‸`: the fixes by title, and the page after one of them. */
import { describe, expect, test } from 'vitest';
import { fixesAt, type LocatedFix } from '../../server/features/fixes';
import { pageWorkspace, workspaceOf } from '../support/workspace';

const FILE = 'page.melt';

const fixesIn = (marked: string): { page: string; fixes: readonly LocatedFix[] } => {
  const offset = marked.indexOf('‸');
  const page = marked.replace('‸', '');
  return { page, fixes: fixesAt(pageWorkspace(page), FILE, { start: offset, end: offset }) };
};

const after = (page: string, { edits }: LocatedFix): string =>
  [...edits]
    .sort((a, b) => b.start - a.start)
    .reduce((text, { start, end, text: by }) => text.slice(0, start) + by + text.slice(end), page);

const check = (marked: string, title: string, expected: string): LocatedFix => {
  const { page, fixes } = fixesIn(marked);
  const fix = fixes.find((one) => one.title === title);
  if (!fix) throw new Error(`no fix "${title}" among ${fixes.map((one) => one.title).join('; ')}`);
  expect(after(page, fix)).toBe(expected);
  return fix;
};

describe('fixes', () => {
  const PAGE = '2026-05-04\nreceive A 61.37 g\ncast C1\n  in A ‸61.73 g\n  out B 61.30 g bar';

  test('a weight that changed: the likeliest slip is preferred, and none is safe', () => {
    const { fixes } = fixesIn(PAGE);
    expect(fixes.map(({ finding, safe }) => [finding.code, safe])).toEqual(fixes.map(() => ['weight-changed', false]));
    expect(fixes.filter(({ preferred }) => preferred)).toHaveLength(1);
    const fix = check(
      PAGE,
      'Write 61.37 g in cast C1 (two digits swapped)',
      '2026-05-04\nreceive A 61.37 g\ncast C1\n  in A 61.37 g\n  out B 61.30 g bar',
    );
    expect(fix.preferred).toBe(true);
  });
  test('elsewhere nothing is offered', () => {
    expect(fixesIn(PAGE.replace('‸', '').replace('receive A', 'recei‸ve A')).fixes).toEqual([]);
  });
  test('only of the codes that are asked for', () => {
    const workspace = pageWorkspace(PAGE.replace('‸', ''));
    const whole = { start: 0, end: PAGE.length };
    expect(fixesAt(workspace, FILE, whole, new Set(['missing-unit']))).toEqual([]);
    expect(fixesAt(workspace, FILE, whole, new Set(['weight-changed'])).length).toBeGreaterThan(0);
  });
  test('an edit in another page names that page', () => {
    const workspace = workspaceOf({
      'a.melt': '2026-05-04\nreceive A 61.37 g',
      'b.melt': '2026-06-01\nreceive X 5 g\ncast C1\n  in A 61.73 g\n  out B 61.70 g bar',
    });
    const whole = (file: string) => ({ start: 0, end: workspace.pages.get(file)!.page.text.length });
    const edits = ['a.melt', 'b.melt'].flatMap((file) =>
      fixesAt(workspace, file, whole(file)).flatMap((fix) => fix.edits),
    );
    for (const { file, start, end } of edits) {
      expect(workspace.pages.get(file)!.page.text.slice(start, end)).toMatch(/^(61\.\d7? ?g?|61\.37 g|61\.73 g|)$/);
    }
    expect(new Set(edits.map(({ file }) => file))).toEqual(new Set(['a.melt', 'b.melt']));
  });
  test('a workshop file has fixes too', () => {
    const text = 'scales:\n  bench: 0.01\n';
    const workspace = workspaceOf({ 'workshop.yaml': text });
    const [fix] = fixesAt(workspace, 'workshop.yaml', { start: 0, end: text.length });
    expect(fix && after(text, fix)).toBe('scales:\n  bench: 0.01 g\n');
  });
});

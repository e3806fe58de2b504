/** What a planned melt says of the cupelling after it. */
import { describe, expect, it } from 'vitest';
import { answersWithNext } from '../../server/advice/next-step';
import { planIn } from '../support/plan';
import { pageWorkspace, said } from '../support/workspace';

const page = (assay: string, out = '  out B 62 g button\n'): string =>
  `2026-06-01\n\nreceive A 65.0 g\nassay A by xrf\n  ${assay}\n\nplan melt M1\n  in A\n  add borax-glass 10 g\n${out}`;
const next = (text: string, workshop?: string) =>
  answersWithNext(planIn(pageWorkspace(text, workshop)))
    .filter(({ topic }) => topic === 'next step')
    .map(({ working }) => working());

describe('a planned melt', () => {
  it('says what its button will want to be cupelled', () => {
    const [told] = next(
      page('Au 55.0 %, Ag 30.0 %, Cu 14.0 %'),
      'cupels:\n  big-1: { weight: 300 g, material: bone-ash }\n',
    );
    expect(told?.says).toMatch(/^Then, to cupel the button: lead \d+\.\.\d+ g, bead 5\d(\.\.5\d)? g\.$/);
    expect(told?.rows?.[0]).toBe('  in B');
    expect(told?.rows?.[1]).toMatch(/^ {2}add lead ~\d+ g$/);
    expect(told?.todo).toContain('big-1 takes them');
  });

  it('of unknown base metal begins with its own weight of lead', () => {
    expect(next(page('Au 55.0 %')).map(({ says }) => says)).toEqual([
      expect.stringMatching(/^Then, to cupel the button: lead \d+\.\.\d+ g/),
    ]);
  });

  it('says nothing of it for silver of its chloride', () => {
    expect(next('2026-06-01\n\nreceive A 140 g\n  material silver-chloride\nplan melt M1\n  in A\n')).toEqual([]);
  });

  it('says that the lead of a collector is enough for its button', () => {
    const ore = '2026-06-01\n\nreceive A 50 g\n  material quartz\n  expect Au 50 g/t\n\nplan melt M1\n  in A\n';
    expect(next(ore).map(({ says }) => says)).toEqual(['Then, to cupel the button: the lead in it is enough.']);
  });

  it('says nothing of it where there is next to no base metal, or no button comes out', () => {
    expect(next(page('Au 70.00 %, Ag 29.95 %', '  out B 64.9 g button\n'))).toEqual([]);
    expect(next(page('Au 55.0 %, Ag 30.0 %, Cu 14.0 %', '  out B 62 g bar\n'))).toEqual([]);
  });

  it('says nothing of it where the product is alloyed to a target', () => {
    expect(next(page('Au 55.0 %, Ag 30.0 %, Cu 14.0 %', '  expect Au 58.5 %\n'))).toEqual([]);
  });

  it('books nothing of it', () => {
    const workspace = pageWorkspace(page('Au 55.0 %, Ag 30.0 %, Cu 14.0 %'));
    const before = said(workspace);
    answersWithNext(planIn(workspace));
    expect(said(workspace)).toEqual(before);
    expect(workspace.book.lot('B')?.births).toEqual([]);
  });
});

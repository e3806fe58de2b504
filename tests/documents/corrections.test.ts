/** A figure that was corrected is said to be so in every document that shows it or rests on it, with both readings, the day and the reason. */
import { describe, expect, it } from 'vitest';
import type { Choice } from '../../server/documents/choice';
import { documentOf, KINDS, kindNamed } from '../../server/documents/kinds';
import { workspaceOf } from '../support/workspace';

const PAGES = {
  'workshop.yaml': 'parties:\n  beck-side: customer\n  moor-end: customer\nhands:\n  AB: A. Beck\n',
  'may.melt': `2026-05-04
receive A 20.00 g
  owner beck-side
receive M 9.00 g
  owner moor-end
cast C1
  in A 20.00 g
  out B 19.99 g bar
assay B by fire
  Au 80 %
`,
  'june.melt': `2026-06-01
correct cast C1
  hand AB
  out B 19.97 g was 19.99 g, because misread
correct assay B
  because typed from the wrong slip
  Au 78 % was 80 %
`,
};

const CAST = 'cast C1 of 2026-05-04, corrected on 2026-06-01: out B 19.97 g was 19.99 g, because misread (AB).';
const ASSAY = 'assay B of 2026-05-04, corrected on 2026-06-01: Au 78 % was 80 %, because typed from the wrong slip.';

const corrections = (code: string, choice: Choice, pages: Readonly<Record<string, string>> = PAGES): string[] =>
  documentOf(kindNamed(code)!, workspaceOf(pages), choice)
    .sections.filter(({ title }) => title === 'Corrections')
    .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'sentences' ? block.sentences : [])))
    .map(({ text }) => text);

describe('what was corrected', () => {
  it('is said where the entry is shown', () => {
    expect(corrections('melt-sheet', { entry: 'C1' })).toEqual([CAST]);
    expect(corrections('lot-history', { lot: 'B' })).toEqual([CAST, ASSAY]);
    expect(corrections('assay-comparison', {})).toEqual([ASSAY]);
  });

  it('is said where sums rest on it', () => {
    expect(corrections('metal-account', { from: '2026-05-01', to: '2026-05-31' })).toEqual([CAST, ASSAY]);
    expect(corrections('loss-report', {})).toEqual([CAST, ASSAY]);
    expect(corrections('stock-take', {})).toEqual([CAST, ASSAY]);
    expect(corrections('loss-report', { from: '2026-06-01', to: '2026-06-30' })).toEqual([]);
  });

  it('is said on the day of the entry and on that of the correction', () => {
    expect(corrections('day-page', { day: '2026-05-04' })).toEqual([CAST, ASSAY]);
    expect(corrections('day-page', { day: '2026-06-01' })).toEqual([CAST, ASSAY]);
  });

  it('is told to the customer whose metal it was, and to no other', () => {
    expect(corrections('toll-statement', { party: 'beck-side' })).toEqual([CAST, ASSAY]);
    expect(corrections('toll-statement', { party: 'moor-end' })).toEqual([]);
    expect(corrections('stock-take', { owner: 'moor-end' })).toEqual([]);
  });

  it('is said of an entry that was taken back, where it would have counted', () => {
    const pages = { ...PAGES, 'july.melt': '2026-07-01\nvoid receive M\n  because entered twice\n' };
    const back = 'receive M of 2026-05-04, taken back on 2026-07-01, because entered twice.';
    expect(corrections('day-page', { day: '2026-05-04' }, pages)).toContain(back);
    expect(corrections('metal-account', {}, pages)).toEqual([CAST, ASSAY, back]);
    expect(corrections('lot-history', { lot: 'B' }, pages)).toEqual([CAST, ASSAY]);
  });

  it('is nothing where nothing was corrected', () => {
    const pages = { ...PAGES, 'june.melt': '' };
    for (const { code } of KINDS.filter(({ needs }) => !needs)) expect(corrections(code, {}, pages)).toEqual([]);
  });
});

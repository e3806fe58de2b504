/** Every rule's own page: its wrong example shows the rule once and nothing else, its right one is silent, its fix helps. */
import { readdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../server/rules/catalogue';
import { findingsOf } from '../../server/rules/findings';
import { fixed, pageWorkspace, said } from '../support/workspace';

/** What the rules share; every other file of the folder is a rule. */
const SHARED = [
  'bench',
  'capped',
  'catalogue',
  'crucible-before',
  'examples',
  'figures',
  'merge-words',
  'fine-words',
  'findings',
  'history-matches',
  'left-behind',
  'look-back',
  'lots',
  'settled',
  'silence',
  'names',
  'read-since',
  'rule',
  'said-elsewhere',
  'seal-words',
  'slip-words',
  'steps',
  'suspects',
  'tie-words',
  'weighings',
  'whole-record',
];

describe('the catalogue of rules', () => {
  it('lists every rule of the folder, by the name of its file', () => {
    const files = readdirSync(resolve(__dirname, '../../server/rules')).map((file) => file.replace(/\.ts$/, ''));
    expect(RULES.map(({ code }) => code).sort()).toEqual(files.filter((file) => !SHARED.includes(file)).sort());
  });

  for (const rule of RULES) {
    describe(rule.code, () => {
      it('is found once in its wrong example, and nothing else is', () => {
        const workspace = pageWorkspace(rule.wrong, rule.workshop, rule.files, rule.beside);
        expect(
          findingsOf(workspace, 'page.melt').map(({ code }) => code),
          said(workspace).join('\n'),
        ).toEqual([rule.code]);
      });

      it('is silent on its right example', () => {
        expect(said(pageWorkspace(rule.right, rule.workshop, rule.files, rule.beside))).toEqual([]);
      });

      it('says a sentence and explains itself', () => {
        const [finding] = findingsOf(pageWorkspace(rule.wrong, rule.workshop, rule.files, rule.beside), 'page.melt');
        expect(finding?.says).toMatch(/[.?]$/);
        expect(rule.why).toMatch(/\.$/);
        expect(rule.title.length).toBeGreaterThan(5);
      });

      it('is gone after its preferred fix, where it has one', () => {
        const workspace = pageWorkspace(rule.wrong, rule.workshop, rule.files, rule.beside);
        const [finding] = findingsOf(workspace, 'page.melt');
        if (!finding?.fixes?.some(({ preferred }) => preferred)) return;
        const after = pageWorkspace(fixed(workspace, finding), rule.workshop, rule.files, rule.beside);
        expect(findingsOf(after, 'page.melt').filter(({ code }) => code === rule.code)).toEqual([]);
      });
    });
  }
});

describe('figures in findings', () => {
  const says = (page: string): string[] => findingsOf(pageWorkspace(page), 'page.melt').map((finding) => finding.says);
  const assay = (reading: string): string => `2026-05-04\nreceive A 20.00 g\nassay A by xrf\n  ${reading}`;

  it('are the plain sum, whatever was allowed for rounding', () => {
    expect(says(assay('Au 80 %, Ag 40 %'))).toEqual(['These shares add up to 120 %, more than the whole.']);
    expect(says(assay('Au 89.4 %  Ag 12.9 %'))).toEqual(['These shares add up to 102.3 %, more than the whole.']);
    expect(says(assay('Au 120 %'))).toEqual(['Au 120 % is more than the whole.']);
    expect(says(assay('Au 60.0 %  Ag 40.1 %'))).toEqual([]);
  });

  it('take the last mark of a number for its decimal', () => {
    for (const [written, read] of [
      ['1.234,50', '1234.50'],
      ['1,234.50', '1234.50'],
      ['61,37', '61.37'],
      ['0,200', '0.200'],
    ]) {
      expect(says(`2026-05-04\nreceive A ${written} g`)[0], written).toContain(read);
    }
  });
});

describe('slips of the first hour', () => {
  const found = (page: string) =>
    findingsOf(pageWorkspace(page), 'page.melt').map(({ code, fixes }) => [code, fixes?.[0]?.title]);

  it('a date written in another way', () => {
    const cases: readonly (readonly [string, string | undefined])[] = [
      ['01.06.2026', 'Write 2026-06-01'],
      ['2026/06/02', 'Write 2026-06-02'],
      ['2026-6-3', 'Write 2026-06-03'],
      ['13/06/2026', 'Write 2026-06-13'],
      ['04/05/2026', undefined],
    ];
    for (const [date, fix] of cases)
      expect(found(`${date}\nreceive A 20.00 g`), date).toEqual([['impossible-date', fix]]);
  });

  it('a measure that nobody declared, and the start of a material', () => {
    expect(found('2026-05-04\nreceive A 2 gt')).toEqual([['unknown-measure', 'Write `g`']]);
    expect(found('2026-05-04\nreceive A 2 baht')).toEqual([['unknown-measure', undefined]]);
    expect(found('2026-05-04\nreceive A 2 t')).toEqual([['unknown-measure', undefined]]);
    const part = '2026-05-04\nreceive A 20.00 g\npart P1\n  in A\n  add nitric 200 mL\n  out B 5.00 g sponge';
    expect(found(part)).toEqual([['unknown-material', 'Write nitric-acid']]);
  });

  it('a time that goes back makes no lot come too late', () => {
    const page =
      '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  10:30 charged\n  09:10 poured\n  out B 19.99 g bar\nwash W1\n  in B\n  out B 19.98 g';
    expect(found(page).map(([code]) => code)).toEqual(['time-goes-back']);
  });
});

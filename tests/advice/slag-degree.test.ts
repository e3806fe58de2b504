/** A melt that says what slag it wants: what is added comes there, and what was charged is held against it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answersOf, planOf, plansOn } from '../../server/advice/plans';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace } from '../support/workspace';

const FILE = 'page.melt';
const CODES = ['slag-too-acid', 'slag-too-basic', 'no-such-degree'];

const said = (page: string, codes: readonly string[]): string[] =>
  findingsOf(pageWorkspace(page), FILE)
    .filter(({ code }) => codes.includes(code))
    .map(({ code, says }) => `${code}: ${says}`);

const planned = (page: string, workshop?: string) => {
  const workspace = pageWorkspace(page, workshop);
  return planOf(workspace, plansOn(workspace, FILE)[0]!)!;
};

const lot = (material: string, more = ''): string =>
  `2026-06-01\nreceive A 200 g\n  material ${material}\nplan melt M1\n  in A\n  add silver ?\n${more}`;

const labelsOf = (page: string, workshop?: string): (string | undefined)[] =>
  planned(page, workshop).advice.map(({ label }) => label);

describe('a degree that is chosen', () => {
  it('is what the plan comes to, for feeds that are short of acid or of base and for metal', () => {
    for (const material of ['black-sand', 'quartz', 'iron-rust', 'glass', 'placer-gold'])
      for (const degree of ['1', '1.5', '2.4'])
        expect(labelsOf(lot(material, `  silicate-degree ${degree}`)), `${material} ${degree}`).toContain(
          `slag comes to ${Number(degree).toFixed(1)}`,
        );
  });
  it('may be any that a slag can have', () => {
    fc.assert(
      fc.property(fc.constantFrom('quartz', 'black-sand'), fc.integer({ min: 4, max: 40 }), (material, tenths) => {
        expect(labelsOf(lot(material, `  silicate-degree ${tenths / 10}`))).toContain(
          `slag comes to ${(tenths / 10).toFixed(1)}`,
        );
      }),
      { numRuns: 30 },
    );
  });
  it('may be a range, whose middle is aimed at', () => {
    expect(labelsOf(lot('quartz', '  silicate-degree 1..1.4'))).toContain('slag comes to 1.2');
  });
  it('is said with who chose it', () => {
    const working = answersOf(planned(lot('quartz', '  silicate-degree 1.2')))
      .find(({ topic }) => topic === 'slag')!
      .working();
    expect(working.rows?.join('\n')).toContain('1.2 wanted (as written)');
    const flux = answersOf(planned(lot('quartz', '  silicate-degree 1.2'))).find(({ topic }) => topic === 'flux')!;
    expect(flux.working().rows?.join('\n')).toContain('mol acid/1.2 −');
    expect(flux.working().assumed.map(({ says, source }) => `${says}: ${source}`)).toContain(
      'silicate degree 1.2: as written',
    );
  });
  it('is that of the workshop where the melt says none', () => {
    const shop = 'limits:\n  silicate degree: 1.1..1.3\n';
    expect(labelsOf(lot('quartz'), shop)).toContain('slag comes to 1.2');
    expect(labelsOf(lot('quartz', '  silicate-degree 2'), shop)).toContain('slag comes to 2.0');
    expect(labelsOf(lot('quartz')).filter((label) => label?.startsWith('slag'))).toEqual([]);
  });
  it("passes over the shop's recipe unless that comes as near", () => {
    const shop = 'recipes:\n  house:\n    borax-glass: 1 part\n    soda-ash: 8 parts\n';
    expect(planned(lot('quartz'), shop).filled.text).toContain('add house');
    expect(planned(lot('quartz', '  silicate-degree 3'), shop).filled.text).not.toContain('add house');
  });
});

describe('what was charged', () => {
  const done = (degree: string, soda: number): string =>
    `2026-06-01\nreceive A 50.0 g\n  material quartz\nmelt M1\n  in A\n${degree}  add soda-ash ${soda} g\n  out 60 g slag`;
  it('is held against it', () => {
    expect(said(done('', 100), CODES)).toEqual([]);
    expect(said(done('  silicate-degree 1\n', 100), CODES)).toEqual([
      'slag-too-acid: The slag is more acid than it is to be (silicate degree 1.7, 1 wanted). Add about 68 g of soda ash.',
    ]);
    expect(said(done('  silicate-degree 3\n', 100), CODES)).toEqual([
      'slag-too-basic: The slag is more basic than it is to be (silicate degree 1.7, 3 wanted). Add about 38 g of silica.',
    ]);
  });
  it('is right within a quarter, and by as much as is not known', () => {
    expect(said(done('  silicate-degree 1.5\n', 100), CODES)).toEqual([]);
  });
  it('is held against no degree that cannot be', () => {
    for (const degree of ['0', '12', '1..12', '<2', '?'])
      expect(said(done(`  silicate-degree ${degree}\n`, 100), ['no-such-degree'])).toEqual([
        'no-such-degree: No slag has such a silicate degree: write a figure or a range from 0.1 to 6, such as `silicate-degree 1.2`.',
      ]);
  });
  it('is told once where its range stands the wrong way round', () => {
    expect(said(done('  silicate-degree 2..1\n', 100), ['no-such-degree', 'odd-number'])).toEqual([
      'odd-number: `2..1` is no number of the journal. Write `1..2`.',
    ]);
  });
});

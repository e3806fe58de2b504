/** Recipes held against each other: their own heats alone, in one set of digits, and told apart where chance does not part them. */
import { describe, expect, it } from 'vitest';
import { pictureOf } from '../../server/pictures/pictures';
import type { Workspace } from '../../server/workspace/workspace';
import { made, ofPage } from '../support/documents';

const WORKSHOP = 'recipes:\n  grey: { borax-glass: 3 parts, silica: 1 parts }\n  thin: { borax-glass: 1 parts }\n';

const day = (at: number): string => `2026-05-${`${at + 1}`.padStart(2, '0')}`;

/** Of 100 g of gold in the charge, so many grams in the slag. */
const heat = (at: number, recipe: string, inSlag: number): string =>
  `${day(at)}
receive A${at} 125.00 g, material scrap
assay A${at} by fire, Au 80.00 %
cast R${at}
  in 125.00 g of A${at}
  out C${at} 124.9${at % 10} g bar
melt M${at}
  in C${at}
  add ${recipe} 50.00 g
  out B${at} ${(124.5 - inSlag).toFixed(2)} g bar
  out S${at} 50.00 g slag
assay S${at} by fire, Au ${(2 * inSlag).toFixed(2)} %`;

const GREY = [0.5, 0.6, 0.64, 0.7, 0.9];
const THIN = [0.8, 1.1, 1.2, 1.3, 1.6, 1.9, 2.2];
const PAGE = [...THIN.map((of, at) => heat(at, 'thin', of)), ...GREY.map((of, at) => heat(at + 10, 'grey', of))].join(
  '\n',
);

const rows = (workspace: Workspace, wanted: RegExp): readonly (readonly string[])[] =>
  made(workspace, 'recipes', {})
    .sections.filter(({ title }) => wanted.test(title))
    .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])))
    .map(({ cells }) => cells.map(({ text }) => text));

describe('a button that is known by its bead alone', () => {
  it('has a recovery that is told to rest on what a cupel usually keeps, and so has the cupelling', () => {
    const page = `2026-05-01
receive A 100.00 g
assay A by fire, Au 60.00 %, Ag 20.00 %
melt M1
  in A
  add borax-glass 20.00 g
  out B 85.00 g button
  out S 30.00 g slag
cupel K1
  in B 85.00 g
  add lead 85.00 g
  out C 79.00 g bead
assay C by fire, Au 75.50 %, Ag 24.20 %`;
    const { sections } = made(ofPage(page), 'loss-report', {});
    const notes = sections
      .filter(({ title }) => title === 'Recovery of Au by kind of step')
      .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'sentences' ? block.sentences : [])));
    expect(notes.map(({ text }) => text)).toContain(
      'All 2 know one side through another step, by what such a step usually keeps: good to tell groups apart, not for what this step alone keeps.',
    );
    const assayed = page.replace('cupel K1', 'assay B by fire, Au 70.20 %, Ag 22.90 %\ncupel K1');
    expect(
      made(ofPage(assayed), 'loss-report', {})
        .sections.map(({ blocks }) => JSON.stringify(blocks))
        .join(),
    ).not.toContain('through another step');
  });
});

describe('recipes', () => {
  it('are told apart by the ranks of their slags, where the interval of five is not known', () => {
    const told = rows(ofPage(PAGE, WORKSHOP), /left in the slag/).map((cells) => [cells[0], cells[2], cells.at(-1)]);
    // Of 792 ways to choose five ranks of twelve, 4 are as far off: 0.5, 0.6, 0.64, 0.7 and 0.9 beside 0.8 and more.
    expect(told).toEqual([
      ['thin', '7', ''],
      ['grey', '5', 'less than the first'],
    ]);
  });

  it('are not told apart by two slags, nor where they lie among each other', () => {
    const told = (grey: readonly number[]): string | undefined =>
      rows(
        ofPage(
          [...THIN.map((of, at) => heat(at, 'thin', of)), ...grey.map((of, at) => heat(at + 10, 'grey', of))].join(
            '\n',
          ),
          WORKSHOP,
        ),
        /left in the slag/,
      )[1]?.at(-1);
    expect(told([0.1, 0.2])).toBe('cannot be told from the first');
    expect(told([0.9, 1.0, 1.4, 1.7, 2.0])).toBe('cannot be told from the first');
  });

  it('have losses of melts beside them, not of casts, in which no flux is', () => {
    const losses = rows(ofPage(PAGE, WORKSHOP), /^Loss of weight by recipe/);
    expect(losses.map(([step, recipe]) => `${step} ${recipe}`)).toEqual(['melt grey', 'melt thin']);
  });

  it('have the same digits in the table and in the picture, and no spread of nothing', () => {
    const workspace = ofPage(PAGE, WORKSHOP);
    const picture = pictureOf(workspace, { kind: 'loss', by: 'recipe' });
    const says = typeof picture === 'string' ? picture : picture.says;
    const losses = rows(workspace, /^Loss of weight by recipe/);
    for (const [step, recipe, count, usual] of losses)
      expect(says).toContain(`${step}, ${recipe}, ${count}: ${usual!.replace('-', '−')}`);
    expect(says).not.toContain('cast');
    expect(rows(workspace, /^Recovery of Au/).map((cells) => cells[4])).not.toContain('0 %');
  });
});

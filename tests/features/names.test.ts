/** Where names are given and used, and what a new name changes. `‸` stands before the character that is asked about. */
import { describe, expect, test } from 'vitest';
import { childrenOf, memberAt, parentsOf } from '../../server/features/family';
import { namedAfter } from '../../server/features/file-moves';
import { foundAnywhere } from '../../server/features/find-anywhere';
import { foldsOf } from '../../server/features/folding';
import { linksOf } from '../../server/features/links';
import { definitionsOf, mentionsOf, type NameAt, nameAt, nameOf } from '../../server/features/names';
import { renamableAt, renameAt } from '../../server/features/rename';
import { selectionsAt } from '../../server/features/selection';
import type { Workspace } from '../../server/workspace/workspace';
import { workspaceOf } from '../support/workspace';

const WORKSHOP = `crucibles:
  C5: 650 mL
moulds:
  cone-1: 150 mL
recipes:
  shop-flux: { borax-glass: 5 parts, silica: 2 parts }
parties:
  high-fell: customer
`;

const MAY = `2026-05-04
receive TE-31 from high-fell
  205.71 g on bench

melt M57, crucible C5
  in TE-31
  add shop-flux 240 g
  10:53 poured 1170 °C into cone-1
  out B57 52.36 g button
  out 389.1 g slag
  photo pour-57.jpg
`;

const JUNE = `2026-06-01
cupel M57
  in B57 52.36 g
  add lead 52 g
  out B57c 49.02 g bead

melt M58
  in M57.slag
  add shop-flux 20 g
  out 388 g slag
  paper ../../etc/passwd
`;

const FILES = { 'may.melt': MAY, 'june.melt': JUNE, 'workshop.yaml': WORKSHOP };

interface Asked {
  readonly workspace: Workspace;
  readonly file: string;
  readonly offset: number;
}

/** The journal with one page marked. */
const at = (file: keyof typeof FILES, sought: string, into = 0): Asked => ({
  workspace: workspaceOf(FILES),
  file,
  offset: FILES[file].indexOf(sought) + into,
});

const shown = (workspace: Workspace, { file, start, end, gives }: NameAt): string => {
  const text = workspace.pages.get(file)?.page.text ?? workspace.workshopFile!.text;
  const line = text.slice(0, start).split('\n').length;
  return `${file}:${line} ${text.slice(start, end)}${gives ? ' given' : ''}`;
};

const mentions = ({ workspace, file, offset }: Asked): string[] =>
  mentionsOf(workspace, nameOf(nameAt(workspace, file, offset)!)).map((one) => shown(workspace, one));

const definitions = ({ workspace, file, offset }: Asked): string[] =>
  definitionsOf(workspace, nameOf(nameAt(workspace, file, offset)!)).map((one) => shown(workspace, one));

const renamed = ({ workspace, file, offset }: Asked, to: string): Record<string, string> | string => {
  const edits = renameAt(workspace, file, offset, to);
  if ('refused' in edits) return edits.refused;
  const texts: Record<string, string> = { ...FILES };
  for (const edit of [...edits].sort((a, b) => b.start - a.start))
    texts[edit.file] = texts[edit.file]!.slice(0, edit.start) + edit.text + texts[edit.file]!.slice(edit.end);
  return texts;
};

describe('a name', () => {
  test('of a lot is given where it comes out, and used in any page', () => {
    expect(mentions(at('june.melt', 'B57'))).toEqual(['may.melt:9 B57 given', 'june.melt:3 B57']);
    expect(definitions(at('june.melt', 'B57', 3))).toEqual(['may.melt:9 B57 given']);
  });

  test('of a step goes with its verb', () => {
    expect(mentions(at('may.melt', 'M57'))).toEqual(['may.melt:5 M57 given']);
    expect(mentions(at('june.melt', 'M57'))).toEqual(['june.melt:2 M57 given']);
  });

  test('of a product without one is given at its kind', () => {
    expect(definitions(at('june.melt', 'M57.slag'))).toEqual(['may.melt:10 out 389.1 g slag given']);
  });

  test('of a vessel, a recipe, a party is given in the workshop file, wherever it is used', () => {
    expect(mentions(at('may.melt', 'C5'))).toEqual(['workshop.yaml:2 C5 given', 'may.melt:5 C5']);
    expect(mentions(at('may.melt', 'cone-1'))).toEqual(['workshop.yaml:4 cone-1 given', 'may.melt:8 cone-1']);
    expect(mentions(at('workshop.yaml', 'shop-flux'))).toEqual([
      'workshop.yaml:6 shop-flux given',
      'may.melt:7 shop-flux',
      'june.melt:9 shop-flux',
    ]);
    expect(definitions(at('may.melt', 'high-fell'))).toEqual(['workshop.yaml:8 high-fell given']);
  });
});

describe('a new name', () => {
  test('changes every place in all files', () => {
    const texts = renamed(at('june.melt', 'B57'), 'TE-button') as Record<string, string>;
    expect(texts['may.melt']).toContain('  out TE-button 52.36 g button');
    expect(texts['june.melt']).toContain('  in TE-button 52.36 g');
    expect(texts['june.melt']).toContain('out B57c');
  });

  test('of a step takes its unnamed products along', () => {
    const texts = renamed(at('may.melt', 'M57'), 'M60') as Record<string, string>;
    expect(texts['may.melt']).toContain('melt M60, crucible');
    expect(texts['june.melt']).toContain('  in M60.slag');
    expect(texts['june.melt']).toContain('cupel M57');
  });

  test('reaches the workshop file', () => {
    const texts = renamed(at('may.melt', 'shop-flux'), 'house-flux') as Record<string, string>;
    expect(texts['workshop.yaml']).toContain('  house-flux: {');
    expect(texts['june.melt']).toContain('add house-flux 20 g');
  });

  test('stands in quotes where it would read as something else', () => {
    const texts = renamed(at('may.melt', 'TE-31'), '14k') as Record<string, string>;
    expect(texts['may.melt']).toContain('receive "14k" from');
    expect(texts['may.melt']).toContain('  in "14k"\n');
  });

  test('is refused with the reason', () => {
    expect(renamed(at('june.melt', 'B57'), 'TE-31')).toBe('TE-31 is taken since 2026-05-04: two would become one.');
    expect(renamed(at('june.melt', 'B57'), '')).toBe('"" cannot be a name.');
    expect(renamed(at('june.melt', 'B57'), 'B57')).toBe('It is called B57 already.');
    expect(renamed(at('may.melt', 'C5'), 'C5\nx: 1')).toBe('"C5\nx: 1" cannot be a name.');
    const { workspace, file, offset } = at('june.melt', 'lead');
    expect(renamableAt(workspace, file, offset)).toEqual({
      refused: 'lead is built in: its name is part of the language.',
    });
    const sealed = workspaceOf({ ...FILES, 'july.melt': '2026-07-01\nseal 2026-05-31\n' });
    expect(renamableAt(sealed, 'june.melt', JUNE.indexOf('B57'))).toEqual({
      refused: 'B57 stands in the record sealed up to 2026-05-31: what is sealed is corrected, not changed.',
    });
  });
});

describe('the family of a lot', () => {
  const { workspace, file, offset } = at('june.melt', 'B57');
  const names = (relatives: ReturnType<typeof parentsOf>) =>
    relatives.map(({ member }) => `${member.lot}: ${member.detail}`);

  test('is what it was made from and what became of it', () => {
    expect(memberAt(workspace, file, offset)?.detail).toBe('52.36 g button, melt M57, 2026-05-04');
    expect(names(parentsOf(workspace, 'B57'))).toEqual(['TE-31: 205.71 g, receive TE-31, 2026-05-04']);
    expect(names(childrenOf(workspace, 'B57'))).toEqual(['B57c: 49.02 g bead, cupel M57, 2026-06-01']);
    expect(names(childrenOf(workspace, 'TE-31'))).toEqual([
      'B57: 52.36 g button, melt M57, 2026-05-04',
      'M57.slag: 389.1 g slag, melt M57, 2026-05-04',
    ]);
  });
});

describe('finding and folding', () => {
  const workspace = workspaceOf(FILES);

  test('finds lots, steps and things by letters of their name, the latest first', () => {
    expect(foundAnywhere(workspace, 'b57').map(({ name, detail }) => `${name}: ${detail}`)).toEqual([
      'B57c: bead of cupel M57, 2026-06-01',
      'B57: button of melt M57, 2026-05-04',
    ]);
    expect(foundAnywhere(workspace, 'c5').map(({ name, detail }) => `${name}: ${detail}`)).toEqual(['C5: crucibles']);
  });

  test('folds days, entries, blocks of comments', () => {
    const text = '# one\n# two\n2026-05-04\nreceive A\n  20 g\nnote x\n2026-05-05\nnote y\n';
    const page = workspaceOf({ 'page.melt': text }).pages.get('page.melt')!;
    const line = (offset: number): number => text.slice(0, offset).split('\n').length;
    expect(foldsOf(page).map(({ start, end, kind }) => [line(start), line(end), kind])).toEqual([
      [1, 2, 'comment'],
      [3, 6, 'region'],
      [4, 5, 'region'],
      [7, 8, 'region'],
    ]);
  });

  test('selects figure, amount, piece, line, entry, day, page', () => {
    const page = workspace.pages.get('may.melt')!;
    const spans = selectionsAt(page, MAY.indexOf('52.36') + 1);
    expect(spans.map(({ start, end }) => MAY.slice(start, end).split('\n')[0])).toEqual([
      '52.36',
      '52.36 g',
      'out B57 52.36 g button',
      'melt M57, crucible C5',
      '2026-05-04',
      '2026-05-04',
    ]);
  });

  test('links photos below the page, and nothing above it', () => {
    expect(linksOf(workspace, 'may.melt').map(({ path }) => path)).toEqual(['pour-57.jpg']);
    expect(linksOf(workspace, 'june.melt')).toEqual([]);
  });
});

describe('a photo or paper that gets another name', () => {
  const PAGE = `2026-05-04

receive A1 61.37 g
  photo a1.jpg, paper "slips/slip 12.pdf"
`;
  const SEAL = '2026-06-02\n\nseal 2026-05-31 digest s1-00\n';
  const namesAfter = (pages: Readonly<Record<string, string>>, ...moves: (readonly [from: string, to: string])[]) => {
    const { edits, kept } = namedAfter(
      workspaceOf(pages),
      moves.map(([from, to]) => ({ from: `test/${from}`, to: `test/${to}` })),
    );
    const said = edits.map(({ file, start, end, text }) => `${pages[file]!.slice(start, end)} → ${text}`);
    return [...said, ...kept];
  };
  const MAY_ONLY = { 'test/may.melt': PAGE };

  test.each([
    ['a name', [['a1.jpg', 'ring.jpg']], ['a1.jpg → ring.jpg']],
    ['a name with a blank', [['a1.jpg', 'old ring.jpg']], ['a1.jpg → "old ring.jpg"']],
    ['a folder, with what is in it', [['slips', 'papers/2026']], ['"slips/slip 12.pdf" → "papers/2026/slip 12.pdf"']],
    [
      'two at once',
      [
        ['a1.jpg', 'b.jpg'],
        ['slips/slip 12.pdf', 's.pdf'],
      ],
      ['a1.jpg → b.jpg', '"slips/slip 12.pdf" → s.pdf'],
    ],
    [
      'another file',
      [
        ['a1.jpeg', 'b.jpg'],
        ['slip', 'sl'],
      ],
      [],
    ],
  ] as const)('is named so: %s', (_, moves, said) => {
    expect(namesAfter(MAY_ONLY, ...moves)).toEqual(said);
  });

  test('is named from where its page then stands', () => {
    const pages = { 'test/may/may.melt': PAGE };
    expect(namesAfter(pages, ['may', 'done/may'])).toEqual([]);
    expect(namesAfter(pages, ['may/a1.jpg', 'may/photos/a1.jpg'])).toEqual(['a1.jpg → photos/a1.jpg']);
    expect(namesAfter(pages, ['may/a1.jpg', 'a1.jpg'])).toEqual([
      'a1.jpg would no longer be in the folder of may/may.melt or below it, where photos and papers of a page are. It is named there as before.',
    ]);
  });

  test('keeps its name in what is sealed, and that is said', () => {
    expect(namesAfter({ ...MAY_ONLY, 'test/seal.melt': SEAL }, ['a1.jpg', 'ring.jpg'])).toEqual([
      'a1.jpg is named under 2026-05-04, in the record sealed up to 2026-05-31. What is sealed is not changed: give the file its name and place back.',
    ]);
  });
});

/** Colours by meaning, how a word is written, lenses. */
import { describe, expect, test } from 'vitest';
import { lensesOf } from '../../server/features/lenses';
import { signatureAt } from '../../server/features/signature';
import { tokensOf } from '../../server/features/tokens';
import { pageWorkspace } from '../support/workspace';

const PAGE = `2026-05-04
receive A 20.00 g from high-fell

cast C1, crucible C9
  in A
  add borax-glass ~2 g
  out B 19.98 g bar

cupel K1
  in Q
  in B
`;
const SHOP = 'crucibles:\n  C5: 60 mL\n';

describe('colours by meaning', () => {
  test('a name that is given, known, known to nobody; a guess', () => {
    const workspace = pageWorkspace(PAGE, SHOP);
    const page = workspace.pages.get('page.melt')!;
    const seen = tokensOf(workspace, page).map(({ start, end, type, modifiers }) =>
      `${PAGE.slice(start, end)} ${type} ${modifiers.join('+')}`.trim(),
    );
    expect(seen).toEqual([
      'A variable declaration',
      'high-fell type',
      'C1 function declaration',
      'C9 property unknown',
      'A variable',
      'borax-glass enumMember',
      '~2 g number guessed',
      'B variable declaration',
      'K1 function declaration',
      'Q variable unknown',
      'B variable',
    ]);
  });
});

describe('how a word is written', () => {
  const at = (marked: string) => {
    const offset = marked.indexOf('‸');
    return signatureAt(pageWorkspace(marked.replace('‸', '')), 'page.melt', offset);
  };

  test('with the part that comes next', () => {
    const found = at('cast C1\n  out ‸')!;
    expect(found.label).toBe('out [LOT] [AMOUNT/NONE] [KIND]');
    expect(found.active).toBe(0);
    expect(at('cast C1\n  out B1 ‸')?.active).toBe(1);
    const { start, end } = at('cast C1\n  out B1 ‸')!.parts[1]!;
    expect(found.label.slice(start, end)).toBe('[AMOUNT/NONE]');
  });

  test('nothing where nothing is asked', () => {
    expect(at('cast C1\n  ‸')).toBeUndefined();
    expect(at('note free ‸text')).toBeUndefined();
  });
});

describe('lenses', () => {
  test('tell the balance and the uses of what was made', () => {
    const workspace = pageWorkspace(PAGE);
    const found = lensesOf(workspace, workspace.pages.get('page.melt')!);
    expect(found.map(({ title }) => title)).toContain('used once');
    expect(
      found.find(({ title }) => title === 'used once')!.places.map(({ start }) => PAGE.slice(start, start + 1)),
    ).toEqual(['B']);
    expect(found.findLast(({ family }) => family === 'uses')?.title).toBe('not used yet');
    const traced = found.find(({ family }) => family === 'trace')!;
    expect([traced.title, PAGE.slice(traced.places[0]!.start, traced.places[0]!.end)]).toEqual(['trace B', 'B']);
    expect(found.find(({ family }) => family === 'summary')?.step).toBe('C1');
  });
});

/** What the workshop file tells under the pointer and in its outline; `‸` stands before the character that the pointer is on. */
import { describe, expect, test } from 'vitest';
import { hoverAt } from '../../server/features/hover';
import { symbolsOf } from '../../server/features/symbols';
import { meaningOf } from '../../server/workshop/key-meanings';
import { KEYS } from '../../server/workshop/keys';
import { workspaceOf } from '../support/workspace';

const SHOP = `shop:
  name: Tarn End
scales:
  bench: 0.01 g
  fine:
    division: 0.001 g
measures:
  spoon: 14 g
crucibles:
  C4: { volume: 400 mL }
  C5: 600 mL
materials:
  tarn-sand: black-sand
recipes:
  shop-flux: { borax-glass: 1 part, silica: 1 part }
parties:
  harbour-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98.5 % }
limits:
  fill: 67..75 %
`;

const PAGE = `2026-05-02
check-scale bench 200 g, reads 200.00 g
2026-05-04
receive A 60.00 g on bench
  material tarn-sand
melt M1, crucible C4
  in A
  add shop-flux 40 g
  add borax-glass 2 spoon
  out B 40.00 g button
  out S 85 g slag
plan melt M3, crucible C4
melt M4, crucible C4
  in B
  out C 39.99 g bar
void melt M4
2026-05-09
ship V1 to harbour-refiner, in B
note C4 cleaned
`;

interface Told {
  readonly word: string;
  readonly markdown: string;
}

const tellAt = (marked: string): Told | undefined => {
  const offset = marked.indexOf('‸');
  expect(offset).toBeGreaterThan(0);
  const shop = marked.replace('‸', '');
  const found = hoverAt(workspaceOf({ 'page.melt': PAGE, 'workshop.yaml': shop }), 'workshop.yaml', offset);
  return found && { word: shop.slice(found.range.start, found.range.end), markdown: found.markdown };
};

const at = (text: string): Told | undefined => tellAt(SHOP.replace(text.replace('‸', ''), text));

describe('hover', () => {
  test.each([
    ['sca‸les:', 'scales', '**scales** · What we weigh on, named after `on`.'.replaceAll('`', '\\`')],
    ['  fi‸ll:', 'fill', '**fill** · How full a crucible may be, cold.'],
    ['fill: 6‸7..75 %', '67..75 %', '**fill** · How full a crucible may be, cold.'],
    ['div‸ision:', 'division', '**division** · The smallest step of the display.'],
    ['bench: 0.‸01 g', '0.01 g', '**division** · The smallest step of the display.'],
    ['vol‸ume:', 'volume', '**volume** · Brim\\-full, cold.'],
    ['pa‸ys:', 'pays', '**pays** · Share of the fine metal that is paid.'],
    ['te‸rms:', 'terms', '**terms** · What was agreed, by the day it holds from.'],
  ])('%s', (marked, word, first) => {
    const told = at(marked)!;
    expect([told.word, told.markdown.split('\n')[0]!.replaceAll('\\-', '-')]).toEqual([
      word,
      first.replaceAll('\\-', '-'),
    ]);
  });

  test('a key: its unit and an example', () => {
    expect(at('div‸ision:')!.markdown).toContain('Takes a weight, for example `division: 0.01 g`.');
    expect(at('div‸ision:')!.markdown).toContain('Alone it may stand behind the name: `0.01 g`.');
  });

  test.each([
    ['ben‸ch:', 'division 0.01 g', '2 entries; last on 2026-05-04. Last checked with a weight on 2026-05-02.'],
    ['fi‸ne:', 'division 0.001 g', 'No entry of the journal names it yet.'],
    ['C‸4:', '400 mL', '1 entry, 1 heat; last on 2026-05-04.'],
    ['C‸5:', '600 mL', 'No entry of the journal names it yet.'],
    ['tarn-‸sand:', 'tarn-sand', '1 entry; last on 2026-05-04.'],
    ['shop-‸flux:', 'borax-glass 50.0 %', '1 entry; last on 2026-05-04. 40 g added in all.'],
    ['harbour‸-refiner:', 'refiner', '1 entry; last on 2026-05-09.'],
    ['spo‸on:', "The shop's own measures", '1 entry; last on 2026-05-04.'],
  ])('%s: what is stated, and what the journal says of it', (marked, stated, usage) => {
    const plain = at(marked)!.markdown.replaceAll('\\', '');
    expect(plain).toContain(stated);
    expect(plain).toContain(usage);
  });

  test('nothing where nothing is known', () => {
    expect(tellAt(`# a rem‸ark\n${SHOP}`)).toBeUndefined();
    expect(tellAt(`${SHOP}cruciblez:\n  C‸9: 1 L\n`)).toBeUndefined();
    expect(tellAt('scales: [ a‸ ]')).toBeUndefined();
  });

  test('every key of every thing has its hover', () => {
    for (const row of KEYS) {
      const { in: owner, key } = row;
      if (owner === 'terms') continue;
      const keyed = owner === 'shop' || owner === 'limits' || owner === 'reports';
      const text = keyed ? `${owner}:\n  ‸${key}: x\n` : `${owner}:\n  X1:\n    ‸${key}: x\n`;
      expect(tellAt(text)?.markdown.replaceAll('\\', '').split('\n')[0]).toBe(`**${key}** · ${meaningOf(row)}`);
    }
  });
});

test('the outline: sections, and what stands in each', () => {
  const nodes = symbolsOf(workspaceOf({ 'page.melt': PAGE, 'workshop.yaml': SHOP }), 'workshop.yaml');
  expect(nodes.map(({ name, children }) => `${name}: ${children.map((thing) => thing.name)}`)).toEqual([
    'shop: ',
    'scales: bench,fine',
    'measures: spoon',
    'crucibles: C4,C5',
    'materials: tarn-sand',
    'recipes: shop-flux',
    'parties: harbour-refiner',
    'limits: ',
  ]);
  for (const { range, selection, children } of nodes) {
    expect(range.start <= selection.start && selection.end <= range.end).toBe(true);
    for (const child of children) expect(range.start <= child.range.start && child.range.end <= range.end).toBe(true);
  }
});

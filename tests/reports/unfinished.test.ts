/** What is left to weigh or to write, and what it would close. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { unfinishedOf } from '../../server/reports/unfinished';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import { locate, type Workspace } from '../../server/workspace/workspace';
import { workspaceOf } from '../support/workspace';

/** `text: what to do`, for each thing. */
const listOf = (workspace: Workspace): string[] =>
  unfinishedOf(workspace).map(({ place, says }) => {
    const { file, start, end } = locate(workspace, place);
    return `${workspace.pages.get(file)!.page.text.slice(start, end)}: ${says}`;
  });

const ofPage = (lines: string): string[] => listOf(workspaceOf({ 'page.melt': `2026-05-04\n${lines}\n` }));

test.each<[string, string, readonly string[]]>([
  [
    'two products not weighed: each, with the other',
    'receive A 60.30 g\nsplit Y1\n  in A\n  out A1\n  out A2 ? g',
    ['out A1: Weigh A1 to close split Y1; A2 is missing too.', '? g: Weigh A2 to close split Y1; A1 is missing too.'],
  ],
  [
    'one product not weighed: what the balance leaves',
    'receive A 20.00 g\ncast C1\n  in A\n  out B bar',
    ['out B bar: Weigh B: the balance of cast C1 leaves 20.00 g, and nothing checks it.'],
  ],
  [
    'not weighed where it was made, but later',
    'receive A 20.00 g\ndry D1\n  in A\n  out B\ncast C2\n  in B 19.00 g\n  out C 19.00 g bar',
    ['out B: Write what B weighed (19.00 g in cast C2) to close dry D1.'],
  ],
  [
    'used up without ever having been weighed',
    'receive A 20.00 g\ndry D1\n  in A\n  out B\ncast C2\n  in B\n  out C 19.00 g bar',
    ['out B: Write what B weighed to close dry D1.'],
  ],
  [
    'ore without slag',
    'receive A 50.00 g\n  material black-sand\nmelt M1\n  in A\n  add borax-glass 50 g\n  out B 20.00 g button',
    ['melt M1: Weigh the slag, or write `out none slag`, to close melt M1.'],
  ],
  [
    'nothing out yet',
    'receive A 20.00 g\ncast C1\n  in A',
    ['cast C1: Write what came out of cast C1: 20.00 g went in.'],
  ],
  ['nothing in yet', 'cast C1\n  out A 20.00 g bar', ['cast C1: Write what went into cast C1.']],
  [
    'a lot that came in unweighed, and who waits for it',
    'receive A ?\ndry D1\n  in A\n  out B 20.00 g',
    ['?: Write what A weighed to know how much came in; dry D1 waits for it.'],
  ],
  ['a lot that is still there', 'receive A', ['A: Weigh A to know how much came in.']],
  [
    'names that are not known yet, but of lots and entries',
    'receive A 20.00 g from ?, owner ?\nassay A by ? at ridge-lab\n  Au 58 %\nmelt ?\n  in A\n  out B 19.99 g bar, to ?',
    [
      '?: Write `from` of receive A.',
      '?: Write `owner` of receive A.',
      '?: Write `by` of assay A.',
      '?: Write `to` of melt.',
    ],
  ],
  [
    'a gross weight without its tare',
    'receive A\n  gross 60.00 g',
    ['gross 60.00 g: Write the tare of A to know how much came in.'],
  ],
  [
    'a cupel weighed before the heat',
    'receive A 20.00 g\ncupel K1\n  cupel-body C1, before 120.00 g\n  in A\n  add lead 20 g\n  out B 19.00 g bead',
    ['C1: Weigh C1 after the heat to know what it took up.'],
  ],
  [
    'a sample',
    'receive A 20.00 g\nsample A\n  out A1 drillings',
    ['out A1 drillings: Weigh A1 to know what is left of its lot.'],
  ],
  [
    'a result that is not there yet',
    'receive A 20.00 g\n  expect Au ?\nassay A by fire\n  took ?, bead 20.1 mg\n  Au 90 %, Ag ?',
    ['?: Write Au of `expect` of receive A.', '?: Write `took` of assay A.', '?: Write Ag of assay A.'],
  ],
  ['a weighing announced', 'receive A 20.00 g\nweigh A ?', ['?: Weigh A: weigh waits for it.']],
])('%s', (_, lines, expected) => {
  expect(ofPage(lines)).toEqual(expected);
});

test.each([
  ['all weighed', 'receive A 20.00 g\ncast C1\n  in A\n  out B 19.98 g bar'],
  ['a plan', 'receive A 20.00 g\nplan cast C1\n  in A\n  out B bar'],
  ['void', 'receive A 20.00 g\ncast C1\n  in A\n  out B bar\nvoid cast C1'],
  ['weighed in a later part', 'receive A 20.00 g\ncast C1\n  in A\n  out B bar\nmore cast C1\n  out B 19.98 g'],
  ['looked, and there was none', 'receive A 20.00 g\ncast C1\n  in A\n  out B 19.98 g bar\n  out none prills'],
  ['not determined', 'receive A 20.00 g\nassay A by fire\n  Au 90 %, Ag nd'],
  ['a solution has a volume', 'receive A 1 L\n  material nitric-acid\ndrop R1\n  in A\n  out B 3.00 g sponge'],
  ['a weight without a unit has its own finding', 'receive A 20.00'],
])('nothing: %s', (_, lines) => {
  expect(ofPage(lines)).toEqual([]);
});

test('oldest first, over all pages', () => {
  const workspace = workspaceOf({
    'b.melt': '2026-05-02\nreceive B\n2026-06-01\nreceive D\n',
    'a.melt': '2026-05-04\nreceive C\n',
  });
  expect(listOf(workspace).map((line) => line[0])).toEqual(['B', 'C', 'D']);
  expect(unfinishedOf(workspace, ['a.melt'])).toHaveLength(1);
});

test('the sample journal has nothing open', () => {
  const folder = resolve(__dirname, '../../samples/tarn-end');
  const files = readdirSync(folder).filter((name) => name.endsWith('.melt') || name === 'workshop.yaml');
  const texts = new Map(files.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
  expect(listOf(withTexts(emptyWorkspace('x'), texts))).toEqual([]);
});

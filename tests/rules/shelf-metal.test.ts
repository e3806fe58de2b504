/** Silver from the shelf in somebody else's metal: asked about where it would count as theirs, and nowhere else. */
import { expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace } from '../support/workspace';

const page = (from: string, melt: string): string =>
  `2026-03-01\nreceive A 60.00 g, owner ann\nreceive B 60.00 g, owner ${from}\nreceive S 60.00 g\nassay A by fire\n  Au 60.0 %, Ag 15.0 %\n${melt}`;

const found = (text: string) =>
  findingsOf(pageWorkspace(text, 'parties:\n  tarn-end: own\n  ann: customer\n'), 'page.melt');
const says = (text: string): readonly string[] => found(text).map(({ code, says: words }) => `${code}: ${words}`);

const ASKED =
  'shelf-metal-given: 150.0 g of silver goes into metal of ann, and counts as theirs. Write `lent` behind it if it is to come back.';

test('silver from the shelf in a customer’s heat is asked about, with `lent` at hand', () => {
  const text = page('ann', 'melt Q\n  in A\n  add silver 150.0 g\n  out Qb 210.0 g shot');
  expect(says(text)).toEqual([ASKED]);
  const [edit] = found(text)[0]!.fixes![0]!.edits;
  expect([edit!.text, edit!.at.start]).toEqual([', lent', edit!.at.end]);
  expect(says(text.replace('150.0 g\n', '150.0 g, lent\n'))).toEqual([]);
  expect(says(text.replace('150.0 g\n', '150.0 g  # accepted shelf-metal-given: sold to her, on the bill\n'))).toEqual(
    [],
  );
});

test('a lot of fine silver of the shop may be lent, and a bar of it may not', () => {
  const mixed = (assay: string): string =>
    page('ann', `assay S by fire\n  ${assay}\nmelt Q\n  in A\n  in S\n  out Qb 120.0 g shot`);
  const apart =
    "owners-mixed: S is the shop's own, and A in melt Q is of ann. Keep them apart, or say how they are shared: `pooled by weight` or `pooled by assay`.";
  expect(says(mixed('Ag 99.9 %'))).toEqual([`${apart} If S is to come back, write \`lent\` behind it.`]);
  expect(says(mixed('Ag 80.0 %'))).toEqual([apart]);
  expect(says(mixed('Ag 99.9 %').replace('in S\n', 'in S, lent\n'))).toEqual([]);
});

test('in a pool it names all whose it would be', () => {
  const text = page('bob', 'melt Q, pooled by weight\n  in A\n  in B\n  add silver 150.0 g\n  out Qb 270.0 g shot');
  expect(says(text)).toEqual([ASKED.replace('metal of ann', 'metal of ann and bob')]);
});

test('nothing is asked of copper, of metal of the shop, and where the shop has its part', () => {
  expect(says(page('ann', 'melt Q\n  in A\n  add copper 20.0 g\n  out Qb 80.0 g shot'))).toEqual([]);
  expect(says(page('ann', 'melt Q\n  in S\n  add silver 150.0 g\n  out Qb 210.0 g shot'))).toEqual([]);
  const pool = 'melt Q, pooled by weight\n  in A\n  in S\n  add silver 150.0 g\n  out Qb 270.0 g shot';
  expect(says(page('ann', pool))).toEqual([]);
});

/** What an account of a metal lists. */
import { expect, test } from 'vitest';
import { lossLines } from '../../server/reports/account';
import { accountsOf } from '../../server/workspace/accounts';
import { pageWorkspace } from '../support/workspace';

test('a step has a line where its metal comes to a figure, and none where it is a trace', () => {
  const workspace = pageWorkspace(`2026-05-04
receive A 10.00 g
assay A by fire
  Ag 99.90 ±0.02 %, Au 0.001 ±0.0002 %
melt M
  in A
  out B 9.80 g
assay B by fire
  Ag 99.90 ±0.02 %, Au 0.001 ±0.0002 %
`);
  const verbsOf = (metal: string): readonly string[] =>
    lossLines(accountsOf(workspace).period(metal)).flatMap(({ verb }) => verb ?? []);
  // 0.2 g of silver; of 0.1 mg gold 2 µg.
  expect(verbsOf('Ag')).toEqual(['melt']);
  expect(verbsOf('Au')).toEqual([]);
});

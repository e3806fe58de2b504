/** How much of a metal a step kept, as a look back tells it. */
import { expect, it } from 'vitest';
import { longViewOf } from '../../../server/workspace/long-view';
import { pageWorkspace } from '../../support/workspace';

// Of 20.00 g of silver parting leaves 0 to 1 % in the gold: 0.10 g, give or take 0.06 g as a standard uncertainty. Of the bar 0.3 % of 9.98 g are
// 0.030 g: 30 % of that, or 70 %, or 20 %; nobody lost two thirds of it. Of gold 9.95 g went in, known by the parting, and 99.6 % of 9.98 g came out.
const PAGE = `2026-05-04
receive A 30.00 g
assay A by fire
  Au 33.20 %, Ag 66.60 %
part P1
  in A 30.00 g
  add nitric-acid 60 mL
  out P1au 10.00 g sponge annealed
  out P1L 0.3 L solution
cast C1
  in P1au 10.00 g
  out BAR-1 9.98 g bar
assay BAR-1 by xrf
  Au 99.6 %, Ag 0.3 %
`;

it('tells no recovery of a metal that may as well be half of it', () => {
  const cast = longViewOf(pageWorkspace(PAGE))
    .done()
    .find(({ step }) => step.entry.verb === 'cast')!;
  expect(cast.metal('Au')?.recovery?.value).toBeCloseTo(1, 2);
  expect(cast.metal('Ag')?.charged.value).toBeLessThan(0.25);
  expect(cast.metal('Ag')?.recovery).toBeUndefined();
});

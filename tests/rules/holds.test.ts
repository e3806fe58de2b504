/** Lots that are not to be touched before a day. */
import { expect, it } from 'vitest';
import { pageWorkspace, said } from '../support/workspace';

const RECEIVED = '2026-05-04\nreceive A 20.00 g, hold until 2026-05-11\n';
const page = (date: string, text: string): string[] => said(pageWorkspace(`${RECEIVED}${date}\n${text}`));

it('a lot on hold may be weighed, tested and sampled, and worked on from the day that its hold ends', () => {
  expect(page('2026-05-06', 'weigh A 20.00 g\nassay A by xrf\n  Au 56 %\nsample A\n  out Q 0.20 g drillings')).toEqual(
    [],
  );
  expect(page('2026-05-11', 'cast C1\n  in A 20.00 g\n  out B 19.98 g bar')).toEqual([]);
});

it('before it is asked about once, where it first happens', () => {
  const twice = 'cast C1\n  in 10.00 g of A\n  out B 9.99 g bar\ncast C2\n  in A\n  out D 9.99 g bar';
  expect(page('2026-05-06', twice)).toEqual(['lot-on-hold at "A"']);
  expect(page('2026-05-10', 'assay A by xrf\n  Au 56 %\nship V1 to quay\n  in A')).toEqual(['lot-on-hold at "A"']);
  expect(page('2026-05-10', 'note x\nplan melt M1\n  in A').filter((one) => one.startsWith('lot-on-hold'))).toEqual([
    'lot-on-hold at "A"',
  ]);
});

it('a hold without a lot that goes says nothing', () => {
  expect(said(pageWorkspace(RECEIVED))).toEqual([]);
});

/** More out of a heat than went in: what its crucible held last stands beside the finding. */
import { expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { locate } from '../../server/workspace/workspace';
import { workspaceOf } from '../support/workspace';

const APRIL = `2026-04-28
receive H1 50.00 g
melt M1, crucible C5
  in H1
  out H1b 49.95 g button
`;

const MAY = `2026-05-05
receive A1 100.00 g
melt M2, crucible C5
  in A1
  out A1b 100.80 g button
`;

const besides = (pages: Record<string, string>, histories: 'none' | 'short' = 'short') => {
  const workspace = workspaceOf(pages);
  return findingsOf(workspace, 'may.melt', histories).map(({ code, related = [] }) => [
    code,
    ...related.map(({ says, place }) => `${locate(workspace, place).file}: ${says}`),
  ]);
};

test('a gain names the heat before in its crucible, on whatever page it stands', () => {
  expect(besides({ 'april.melt': APRIL, 'may.melt': MAY })).toEqual([
    ['more-out-than-in', 'april.melt: C5 last held H1 (melt M1): look for its metal'],
  ]);
});

test('not a heat in another crucible, one behind it, or one that a wash with flux alone came after', () => {
  const alone = [['more-out-than-in']];
  expect(besides({ 'april.melt': APRIL.replace('C5', 'C4'), 'may.melt': MAY })).toEqual(alone);
  expect(besides({ 'april.melt': APRIL.replace('04-28', '05-28'), 'may.melt': MAY })).toEqual(alone);
  const washed = `${APRIL}melt W1, crucible C5\n  add borax-glass 20 g\n  out 20 g slag, discard\n`;
  expect(besides({ 'april.melt': washed, 'may.melt': MAY })).toEqual(alone);
});

test('and not while somebody types', () => {
  expect(besides({ 'april.melt': APRIL, 'may.melt': MAY }, 'none')).toEqual([['more-out-than-in']]);
});

test('a cupel that was weighed counts in the balance, so its weights are pointed at too', () => {
  const page = `2026-05-05
receive A 30.00 g
  material silver
cupel K1
  cupel-body c3, before 128.0 g, after 210.0 g
  in A
  add lead 60.0 g
  out B 29.50 g bead
`;
  const [, ...related] = besides({ 'may.melt': page }).find(([code]) => code === 'more-out-than-in')!;
  expect(related.at(-1)).toBe('may.melt: c3 weighed before and after');
});

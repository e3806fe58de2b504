/** A lot used before it exists: by the day, by the clock, and not by a clock of another day. */
import { expect, it } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { workspaceOf } from '../support/workspace';

const saysOf = (page: string): readonly string[] =>
  findingsOf(workspaceOf({ 'page.melt': page }), 'page.melt')
    .filter(({ code }) => code === 'lot-before-made')
    .map(({ says }) => says);

const burnt = (times: string): string => `2026-07-03
receive SW-1 100.0 g
burn A1
  in SW-1
${times}  out SW-1a 90.4 g ash
magnet G1
  in SW-1a 90.4 g
  out SW-1m 6.2 g tails
  out SW-1n 84.1 g ash
melt M1
  in SW-1n 84.1 g
  10:30 charged
  out B1 84.0 g button
`;

it('says by which times, where two entries of one day stand otherwise', () => {
  expect(saysOf(burnt('  08:00 700 °C\n  12:00 out\n'))).toEqual([
    'SW-1n is made later, in magnet G1: that stands at 12:00, the time of the entry above it, this at 10:30.',
  ]);
});

it('the day before orders nothing of this day, and neither does the next', () => {
  expect(saysOf(burnt('  2026-07-02 14:00 700 °C\n  18:00 out\n'))).toEqual([]);
  expect(saysOf(burnt('  2026-07-04 11:00 out\n'))).toEqual([]);
});

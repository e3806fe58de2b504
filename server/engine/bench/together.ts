/** What a material holds, each constituent within its own bounds, and all of them together no more than the whole. */
import type { MaterialLike } from '../../vocabulary/materials';
import type { ChargeItem } from '../gas';
import type { Estimate } from './result';

/**
 * From the least to the most of something that the constituents bring in different measure, per gram of the material: 0.9 pyrite leaves no room
 * for 0.3 arsenopyrite. `worth` is what a gram of each brings, 0 and more; `ofRest` what a gram of the rest does, whose make is not known.
 */
export function heldTogether(
  composition: MaterialLike['composition'],
  worth: (what: string) => number,
  ofRest = 0,
): Estimate {
  const rows = composition.map(({ what, fraction, low = fraction, high = fraction }) => ({
    worth: worth(what),
    fraction,
    low,
    high,
  }));
  const sum = (pick: (row: (typeof rows)[number]) => number): number => rows.reduce((so, row) => so + pick(row), 0);
  const low = sum((row) => row.worth * row.low);
  let room = Math.max(0, 1 - sum((row) => row.low));
  let high = low;
  // Where the best values come to the whole there is no rest.
  const rest = sum((row) => row.fraction) < 1 - 1e-9 ? ofRest : 0;
  for (const row of [...rows].sort((a, b) => b.worth - a.worth)) {
    if (row.worth <= rest) break;
    const more = Math.min(room, row.high - row.low);
    high += more * row.worth;
    room -= more;
  }
  const best = sum((row) => row.worth * row.fraction);
  return { low, best, high: Math.max(best, high + room * rest) };
}

/** The same of a whole charge, g. */
export function heldInCharge(charge: readonly ChargeItem[], worth: (what: string) => number, ofRest = 0): Estimate {
  let [low, best, high] = [0, 0, 0];
  for (const { material, massGrams } of charge) {
    const each = heldTogether(material.composition, worth, ofRest);
    low += massGrams * each.low;
    best += massGrams * each.best;
    high += massGrams * each.high;
  }
  return { low, best, high };
}

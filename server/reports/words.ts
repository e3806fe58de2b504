/** Words for entries, slips and sizes, the same in findings, hints, hovers and reports. */
import type { Slip } from '../engine/book';
import type { Entry, Flow } from '../engine/entry';
import { element } from '../vocabulary/elements';

/** `gold`; `gold and silver` where they are not told apart. */
export const metalWords = (symbol: string): string =>
  symbol === 'Au+Ag' ? 'gold and silver' : (element(symbol)?.name ?? symbol);

/** `melt M57`; `receive A`. */
export const stepWords = (entry: Entry): string => (entry.name ? `${entry.verb} ${entry.name.name}` : entry.verb);

export const SLIP_WORDS: Readonly<Record<Slip['kind'], string>> = {
  swap: 'two digits swapped',
  digit: 'one digit wrong',
  zero: 'a nought too many or too few',
  double: 'a digit doubled or dropped',
  point: 'the point moved',
  unit: 'another unit',
  tare: 'a tare forgotten or taken twice',
  copied: 'copied from another line',
  jump: 'two digits changed places',
  side: 'booked on the wrong side',
};

/** How many times more than weighing explains, in a word: `1.3 times`, `9 times`, `over 1000 times`. */
export const timesWords = (times: number): string => {
  if (!(times < 1000)) return 'over 1000 times';
  if (times < 2) return `${Math.ceil(10 * times) / 10} times`;
  return times < 10 ? `${Math.round(times)} times` : `${Math.round(times / 5) * 5} times`;
};

/** `B57`, `borax-glass`, `slag`: what a line is about. */
export const flowWords = ({ lot, material, kind, word }: Flow): string => lot?.name ?? material?.name ?? kind ?? word;

/** `A`, `A and B`, `A, B and 3 more`. */
export const listWords = (names: readonly string[], most = 4): string => {
  if (names.length <= 1) return names[0] ?? '';
  if (names.length > most) return `${names.slice(0, most - 1).join(', ')} and ${names.length - most + 1} more`;
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
};

/** Words for entries, slips and sizes, the same in findings, hints, hovers and reports. */
import type { Slip, Step } from '../engine/book';
import type { Entry } from '../engine/entry';

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

/** How many times more than weighing explains, in a word: `9 times`, `1000 times and more`. */
export const timesWords = (times: number): string => {
  if (!(times < 1000)) return 'over 1000 times';
  return times < 10 ? `${Math.round(times)} times` : `${Math.round(times / 5) * 5} times`;
};

/** More out than in, for a step: `0.90 g more came out of cast C1 than went in.` */
export const gainWords = (step: Step, grams: string): string =>
  `${grams} more came out of ${stepWords(step.entry)} than went in.`;

export const lossWords = (step: Step, grams: string, usual: string): string =>
  `${grams} is missing in ${stepWords(step.entry)}, more than such a step usually loses (${usual}).`;

/** A settlement at the price of another day. */
import { LINES_TOLD } from '../workspace/selling/differences';
import { EXAMPLE, EXAMPLE_TERMS, exampleWith, settledRule } from './settled';

export const settledPrice = settledRule(LINES_TOLD['settled-price'], {
  code: 'settled-price',
  severity: 'warning',
  atOnce: false,
  title: 'a settlement at the price of another day',
  why: 'Where the terms say whose day’s price holds (`price day`) and that day’s quote is written, the two must be the same, but for a coin of either price and for what rounding each line to a coin leaves open in the sum: a price that was put into another unit has few digits. Without that, a price more than 3 % from the last quote is asked about: it may be of another day, or for another weight.',
  wrong: exampleWith('price Au 2500.00', 'price Au 2480.00', '4243.10'),
  right: EXAMPLE,
  workshop: EXAMPLE_TERMS,
  source: 'more than 3 %: a market rarely moves so far in a day (common practice, no source)',
});

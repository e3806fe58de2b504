/** A total, or another sum of the sheet, that does not follow from its lines. */
import { LINES_TOLD } from '../workspace/selling/differences';
import { EXAMPLE, EXAMPLE_TERMS, exampleWith, settledRule } from './settled';

export const settledTotal = settledRule(LINES_TOLD['settled-total'], {
  code: 'settled-total',
  severity: 'warning',
  atOnce: false,
  title: 'a total that does not follow from its lines',
  why: 'Every line of the settlement is worked through again: weight, assay, payable share, price, charges, each rounded once to the smallest coin. A difference of no more than a coin for each line is rounding; any other is a slip in their sum, or a line that was not written down. Payable metal and its money, where they are written as the sheet prints them (`payable`, `worth`), are worked through too, to one in their last place. Metal that they give back in place of money (`returns`) is held against what is payable of it. A sheet of a sum and no lines is held against our own weight and assay by the terms, as far as these are known. Where one slip alone makes the total, it is named: a line left out, taken twice or on the wrong side, or two digits exchanged.',
  wrong: exampleWith('total 4277.66', 'total 4177.66'),
  right: EXAMPLE,
  workshop: EXAMPLE_TERMS,
});

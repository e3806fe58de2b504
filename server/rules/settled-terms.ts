/** A settlement by other terms than those on file. */
import { LINES_TOLD } from '../workspace/selling/differences';
import { EXAMPLE, EXAMPLE_TERMS, exampleWith, settledRule } from './settled';

export const settledTerms = settledRule(LINES_TOLD['settled-terms'], {
  code: 'settled-terms',
  severity: 'warning',
  atOnce: false,
  title: 'a settlement by other terms than those on file',
  why: 'Payable shares, deductions and charges are held against what the party agreed to in the workshop file, as it stood on the day of the shipment. If the terms have changed, write the new ones there under their date.',
  wrong: exampleWith('pays Au 98 %', 'pays Au 97 %', '4233.58'),
  right: EXAMPLE,
  workshop: EXAMPLE_TERMS,
});

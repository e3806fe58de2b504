/** A settlement that weighs the lot otherwise. */
import { LINES_TOLD } from '../workspace/selling/differences';
import { EXAMPLE, EXAMPLE_TERMS, exampleWith, settledRule } from './settled';

export const settledWeight = settledRule(LINES_TOLD['settled-weight'], {
  code: 'settled-weight',
  severity: 'warning',
  atOnce: false,
  title: 'a settlement that weighs the lot otherwise',
  why: 'What they received is held against what was weighed as it left, and what their melt left against what was received. What weighing does not explain, and a melt that loses more than was agreed, is asked about: for their weighing, their slag, or a photo of the lot on the scale before it was sealed.',
  wrong: exampleWith('received 60.00 g, melted 59.90 g', 'received 59.60 g, melted 59.50 g', '4248.79'),
  right: EXAMPLE,
  workshop: EXAMPLE_TERMS,
  source:
    'loss in melt where none is agreed: metal alone loses under 0.5 % (a refiner’s answer on a metal-finishing forum)',
});

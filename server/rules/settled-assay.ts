/** A settlement by another assay than one’s own. */
import { LINES_TOLD } from '../workspace/selling/differences';
import { EXAMPLE, EXAMPLE_TERMS, exampleWith, settledRule } from './settled';

export const settledAssay = settledRule(LINES_TOLD['settled-assay'], {
  code: 'settled-assay',
  severity: 'warning',
  atOnce: false,
  title: 'a settlement by another assay than one’s own',
  why: 'Their assay is held against your own: within the splitting limit of the terms it stands, and without one within what both assays explain. Beyond it an umpire decides, on a sample that was sealed and kept; within it an umpire’s result changes nothing. Where assays are exchanged, write theirs as `assay LOT by fire at PARTY` and the umpire’s with `umpire`: then what settles is worked out.',
  wrong: exampleWith('Au 91.55 %, Ag', 'Au 90.55 %, Ag', '4230.48'),
  right: EXAMPLE,
  workshop: EXAMPLE_TERMS,
  source:
    'splitting limits and umpires: published assaying terms of a refinery, name withheld; without a limit, twice the combined standard uncertainty (GUM)',
});

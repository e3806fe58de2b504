/** Too little acid to part, or to dissolve gold: told by the bench (`advice`). */
import { ACID_SOURCE } from '../advice/parting';
import { benchRule } from './bench';

export const acidShort = benchRule({
  code: 'acid-short',
  severity: 'warning',
  atOnce: false,
  title: 'too little acid to dissolve the metal',
  why: 'A gram of silver takes 0.58 g of pure nitric acid into its nitrate, a gram of copper nearly 2 g, and the gas takes more. With less than the nitrates hold, the metal cannot all dissolve, however long it stands: silver or copper stays with the gold, or silver is thrown down again on copper that is left. Where hydrochloric acid stands beside it, gold wants 0.56 g of pure hydrochloric acid a gram for its chloride alone.',
  wrong:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 28.0 %, Ag 70.0 %\nplan part P1\n  in A\n  add nitric-acid 15 mL, add water 15 mL',
  right:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 28.0 %, Ag 70.0 %\nplan part P1\n  in A\n  add nitric-acid 60 mL, add water 60 mL',
  source: ACID_SOURCE,
});

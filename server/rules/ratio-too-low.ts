/** Too little silver to part: told by the bench (`advice`). */
import { RATIO_SOURCE } from '../advice/parting';
import { benchRule } from './bench';

export const ratioTooLow = benchRule({
  code: 'ratio-too-low',
  severity: 'warning',
  atOnce: false,
  title: 'too little silver to part',
  why: 'Nitric acid gets into an alloy of gold and silver only where silver is more than about 1.7 to 1 of gold. Below that a skin of gold closes it: half an hour in acid may leave two thirds of the silver, and what is weighed as gold is not. Inquart first: melt it with fine silver to 2.5 to 1.',
  wrong:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 50.0 %, Ag 45.0 %\nplan part P1\n  in A\n  add nitric-acid 80 mL, add water 80 mL',
  right:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 28.0 %, Ag 70.0 %\nplan part P1\n  in A\n  add nitric-acid 80 mL, add water 80 mL',
  source: RATIO_SOURCE,
});

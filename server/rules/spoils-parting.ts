/** Tin or antimony in a parting: told by the bench (`advice`). */
import { benchRule } from './bench';

export const spoilsParting = benchRule({
  code: 'spoils-parting',
  severity: 'warning',
  atOnce: false,
  title: 'a metal that spoils the parting',
  why: 'Nitric acid turns tin and antimony to a white slime. It clogs the filter, is weighed with the gold, and holds some. Solder brings it: what was cupelled has none. Slime that is there already settles in a day; filtered off, it goes with the next smelt.',
  wrong:
    '2026-05-04\nreceive A 12.00 g\nassay A by xrf\n  Au 24.0 %, Ag 65.0 %, Cu 6.0 %, Sn 5.0 %\nplan part P1\n  in A',
  right: '2026-05-04\nreceive A 12.00 g\nassay A by xrf\n  Au 24.0 %, Ag 65.0 %, Cu 11.0 %\nplan part P1\n  in A',
  source: 'from memory; from 1 % on: a guess',
});

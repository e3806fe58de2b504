/** A bead that still holds lead or base metal: told by the bench (`advice`). */
import { benchRule } from './bench';

export const beadUnfinished = benchRule({
  code: 'bead-unfinished',
  severity: 'warning',
  atOnce: false,
  title: 'a bead that still holds lead or base metal',
  why: 'A finished bead is gold, silver and what platinum there was, to a part in six hundred, and a little of them is in the cupel. A bead above what the assays of the charge allow still holds lead or copper, or a weight or an assay is wrong. Cupel it again before it is assayed, sold or parted.',
  wrong:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 60.0 %, Ag 30.0 %\ncupel K1\n  in A 60.00 g\n  add lead 100.0 g\n  out B 57.20 g bead',
  right:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 60.0 %, Ag 30.0 %\ncupel K1\n  in A 60.00 g\n  add lead 100.0 g\n  out B 53.60 g bead',
  source:
    'tested silver beads averaged 99.85 % silver: Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904; the most that the assays allow, with k times their uncertainty',
});

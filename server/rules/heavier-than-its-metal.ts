/** Gold from the acid, or what was brought down, above what the metal there allows: told by the bench (`advice`). */
import { benchRule } from './bench';

export const heavierThanItsMetal = benchRule({
  code: 'heavier-than-its-metal',
  severity: 'warning',
  atOnce: false,
  title: 'wet product heavier than the metal in it allows',
  why: 'What nitric acid leaves is gold with less than half a per cent of silver after one acid, less after two. What copper or salt brings down is the silver that was in the solution, as metal or as chloride, and copper that was not used up. A product above that holds silver that the acid did not reach, salts that were not washed out, or water; or a weight or an assay is wrong. Taken for fine metal it is sold or booked as more than there is.',
  wrong:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 25.0 %, Ag 74.0 %\npart P1\n  in A 60.00 g\n  add nitric-acid 100 mL, add water 100 mL\n  out G 17.20 g sponge annealed\n  out L 0.25 L solution',
  right:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 25.0 %, Ag 74.0 %\npart P1\n  in A 60.00 g\n  add nitric-acid 100 mL, add water 100 mL\n  out G 15.02 g sponge annealed\n  out L 0.25 L solution',
  source:
    'silver kept after two acids 0.05 to 0.12 %, three to four times that after one: Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904; chloride by IUPAC atomic weights; beyond k times the uncertainty of weights and assays; two per cent of salts and damp after washing and drying: common practice, no source',
});

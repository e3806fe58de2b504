/** Tin, antimony, nickel and their like in a cupellation: told by the bench (`advice`). */
import { benchRule } from './bench';

export const spoilsCupel = benchRule({
  code: 'spoils-cupel',
  severity: 'warning',
  atOnce: false,
  title: 'a metal that spoils the cupel',
  why: 'Lead takes copper into the cupel, and hardly tin, antimony, arsenic, nickel or iron: they leave scoria in which metal hangs, crack the cupel or corrode it. Melted with much lead and a little borax first they go into that slag, and the lead button cupels clean. A bead whose assay shows it clean is not doubted.',
  wrong:
    '2026-05-04\nreceive A 12.00 g\nassay A by xrf\n  Au 40.0 %, Ag 30.0 %, Cu 20.0 %, Sn 8.0 %\nplan cupel K1\n  in A\n  add lead 60 g',
  right:
    '2026-05-04\nreceive A 12.00 g\nassay A by xrf\n  Au 40.0 %, Ag 30.0 %, Cu 28.0 %, Sn 0.4 %\nplan cupel K1\n  in A\n  add lead 60 g',
  source:
    'Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904 (antimony, tin, arsenic, iron); ISO 11426 (nickel); Rose, The Metallurgy of Gold (tellurium); from which share on: a guess, from memory',
});

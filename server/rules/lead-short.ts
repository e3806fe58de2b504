/** Too little lead for the base metal: told by the bench (`advice`). */
import { LEAD_SHORT_SOURCE } from '../advice/cupel-lead';
import { benchRule } from './bench';

export const leadShort = benchRule({
  code: 'lead-short',
  severity: 'warning',
  atOnce: false,
  title: 'too little lead for the base metal',
  why: "Lead carries base metal into the cupel as litharge carries its oxide. With far too little, copper oxide stays on the bead: it spreads, freezes and sticks to a blackened cupel. Add lead before it is charged; more lead costs a little more silver, and that is in the cupel, not gone. Base metal that is only what gold and silver leave may be lead itself: it is told only under half of the charge's own weight too.",
  wrong:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 30.0 %, Ag 50.0 %, Cu 20.0 %\nplan cupel K1\n  in A\n  add lead 60 g',
  right:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 30.0 %, Ag 50.0 %, Cu 20.0 %\nplan cupel K1\n  in A\n  add lead 200 g',
  source: LEAD_SHORT_SOURCE,
});

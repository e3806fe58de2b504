/** A muffle too hot for silver: told by the bench (`advice`). */
import { benchRule } from './bench';

export const cupelTooHot = benchRule({
  code: 'cupel-too-hot',
  severity: 'hint',
  atOnce: false,
  title: 'a muffle too hot for silver',
  why: 'The hotter the muffle, the more silver goes into the cupel and off with the fume: at a clear yellow two and a half times as much as at bright red. Gold stands it. Let the muffle go back while the cupel drives, and raise it for the last lead only.',
  wrong:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 1.0 %, Ag 92.5 %\ncupel K1\n  in A 60.00 g\n  add lead 60.00 g\n  10:20 driving 980 °C\n  11:58 blick\n  out B 55.00 g bead',
  right:
    '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 1.0 %, Ag 92.5 %\ncupel K1\n  in A 60.00 g\n  add lead 60.00 g\n  10:20 driving 850 °C\n  11:58 blick\n  out B 55.00 g bead',
  source:
    'two and a half times: Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904; 900 °C while driving and 1000 °C to finish: from memory; told from 15 °C above, for a thermocouple is good to 5 to 15 °C (from memory)',
});

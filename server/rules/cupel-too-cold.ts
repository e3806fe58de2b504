/** A muffle too cold for the cupel: told by the bench (`advice`). */
import { benchRule } from './bench';

export const cupelTooCold = benchRule({
  code: 'cupel-too-cold',
  severity: 'warning',
  atOnce: false,
  title: 'a muffle too cold for the cupel',
  why: 'A cupel takes up litharge only from about 840 °C; while it drives the muffle may fall to 770 °C, and the last lead wants 910 °C or more. Below that litharge stays on the button, it freezes, or the bead keeps lead. Let the heat come up before the lead goes in, and raise it to finish.',
  wrong:
    '2026-05-04\nreceive A 60.00 g\ncupel K1\n  in A 60.00 g\n  add lead 60.00 g\n  10:20 driving 700 °C\n  11:58 blick\n  out B 55.00 g bead',
  right:
    '2026-05-04\nreceive A 60.00 g\ncupel K1\n  in A 60.00 g\n  add lead 60.00 g\n  10:20 driving 840 °C\n  11:58 blick\n  out B 55.00 g bead',
  source:
    '840, 770 and 910 °C: T. K. Rose, The Metallurgy of Gold; told from 15 °C below, for a thermocouple is good to 5 to 15 °C (from memory)',
});

/** A melt in less time than its furnace can do it in. */
import { benchRule } from './bench';

export const tooQuick = benchRule({
  code: 'too-quick',
  severity: 'hint',
  atOnce: false,
  title: 'a melt too quick for its furnace',
  why: 'With all of its power in the charge a furnace cannot be quicker than heat over power, and crucible and lining take most of it. A shorter time by the clock means a wrong time, a wrong furnace, or a crucible that was hot already.',
  wrong:
    '2026-05-04\nreceive A 1200.00 g\n  material silver\ncast C1, furnace F1\n  in A\n  10:20 charged\n  10:21 poured 1050 °C\n  out B 1199.80 g bar',
  right:
    '2026-05-04\nreceive A 1200.00 g\n  material silver\ncast C1, furnace F1\n  in A\n  10:20 charged\n  10:51 poured 1050 °C\n  out B 1199.80 g bar',
  source: 'conservation of energy; heats of the metals from unary data of Dinsdale (SGTE), others as the bench says',
  workshop: 'furnaces:\n  F1:\n    power: 2 kW\n',
});

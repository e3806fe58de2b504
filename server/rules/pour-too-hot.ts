/** A pour far above the liquidus of its alloy. */
import { benchRule } from './bench';

export const pourTooHot = benchRule({
  code: 'pour-too-hot',
  severity: 'hint',
  atOnce: false,
  title: 'a pour far above the liquidus',
  why: 'Metal much hotter than it must be takes up gas, eats the crucible and goes off as fume; silver spits as it freezes. It may also be that the alloy is not what it is taken for, or the temperature was misread.',
  wrong:
    '2026-05-04\nreceive A 100.00 g\n  material silver\ncast C1\n  in A\n  10:20 poured 1250 °C\n  out B 99.97 g bar',
  right:
    '2026-05-04\nreceive A 100.00 g\n  material silver\ncast C1\n  in A\n  10:20 poured 1050 °C\n  out B 99.97 g bar',
  source:
    'twice the usual 70 to 105 K of a jewellery forum; with slag up to 1250 °C (from memory); loss of gold four times larger at 1250 than at 1100 °C: Rose, The Metallurgy of Gold',
});

/** A pour below the liquidus of its alloy. */
import { benchRule } from './bench';

export const pourTooCold = benchRule({
  code: 'pour-too-cold',
  severity: 'warning',
  atOnce: false,
  title: 'a pour below the liquidus',
  why: 'Below the liquidus part of the metal is solid: it pours thick, freezes in the lip, and what is left in the crucible is of another make than what ran out. Mostly a temperature was misread or the alloy is not what it is taken for.',
  wrong:
    '2026-05-04\nreceive A 100.00 g\n  material silver\ncast C1\n  in A\n  10:20 poured 900 °C\n  out B 99.97 g bar',
  right:
    '2026-05-04\nreceive A 100.00 g\n  material silver\ncast C1\n  in A\n  10:20 poured 1050 °C\n  out B 99.97 g bar',
  source:
    'melting points of the elements; two-phase equations of gold-silver-copper, ± 5 to 15 K; a reading taken good to ± 10 K (from memory)',
});

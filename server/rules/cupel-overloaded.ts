/** More than the cupel can take up: told by the bench (`advice`). */
import { benchRule } from './bench';

export const cupelOverloaded = benchRule({
  code: 'cupel-overloaded',
  severity: 'warning',
  atOnce: false,
  title: 'more than the cupel can take up',
  why: 'A cupel takes up a weight of oxides that hangs on its body and its own weight. What is beyond it stays on the bead, or runs through and eats the floor of the muffle, and takes silver along. Take a heavier cupel, or divide the button over several.',
  wrong: '2026-05-04\nreceive A 60.00 g\nplan cupel K1\n  cupel-body bone-1\n  in A\n  add lead 60 g',
  right: '2026-05-04\nreceive A 60.00 g\nplan cupel K1\n  cupel-body bone-4\n  in A\n  add lead 60 g',
  workshop: 'cupels:\n  bone-1: { weight: 35 g, material: bone-ash }\n  bone-4: { weight: 90 g, material: bone-ash }\n',
  source:
    "bone ash about its own weight: Villavecchia, Treatise on Applied Analytical Chemistry; magnesia two thirds, cement three quarters: a supplier's page repeating a textbook; told where the best value is above the whole; a spread of about a fifth, and up to 15 % of the litharge gone as fume, from memory",
});

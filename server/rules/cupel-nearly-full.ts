/** So much for a cupel that little room is left: told by the bench (`advice`). */
import { benchRule } from './bench';

export const cupelNearlyFull = benchRule({
  code: 'cupel-nearly-full',
  severity: 'hint',
  atOnce: false,
  title: 'a cupel that will be nearly full',
  why: 'How much a cupel takes up differs from one to the next by a fifth and more. Above nine tenths the last litharge may find no room: it stays under the bead, and more lead cannot be given later. Take a heavier cupel, or divide the button over two. Once the bead is weighed nothing is said of it.',
  wrong: '2026-05-04\nreceive A 30.00 g\nplan cupel K1\n  cupel-body bone-1\n  in A\n  add lead 31 g',
  right: '2026-05-04\nreceive A 30.00 g\nplan cupel K1\n  cupel-body bone-4\n  in A\n  add lead 31 g',
  workshop: 'cupels:\n  bone-1: { weight: 35 g, material: bone-ash }\n  bone-4: { weight: 90 g, material: bone-ash }\n',
  source:
    "nine tenths: common practice, no source; what a cupel takes up: Villavecchia, Treatise on Applied Analytical Chemistry, for bone ash; a supplier's page repeating a textbook for magnesia and cement",
});

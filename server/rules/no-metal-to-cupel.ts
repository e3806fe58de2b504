/** Ore, sweeps or chloride on a cupel: told by the bench (`advice`). */
import { benchRule } from './bench';

export const noMetalToCupel = benchRule({
  code: 'no-metal-to-cupel',
  severity: 'warning',
  atOnce: false,
  title: 'what is no metal goes to the cupel',
  why: 'A cupel drinks the oxides of lead and base metal, and nothing of sand, ash, sulphide or salt: these lie on it as a crust and keep their gold. What is no metal is smelted with flux first, with litharge or lead where it is poor, and the button is cupelled. A lot whose assay shows that it is metal is not doubted.',
  wrong: '2026-05-04\nreceive A 40.00 g\n  material black-sand\nplan cupel K1\n  in A\n  add lead 40 g',
  right:
    '2026-05-04\nreceive A 40.00 g\n  material black-sand\nmelt M1\n  in A\n  add litharge 60 g\n  add flour 3.2 g\n  add borax-glass 20 g\n  out B 28.0 g button\n  out S 90 g slag\nplan cupel K1\n  in B',
  source: 'common practice, no source',
});

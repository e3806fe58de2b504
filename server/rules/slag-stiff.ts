/** A slag with much alumina or titania. */
import { benchRule } from './bench';

export const slagStiff = benchRule({
  code: 'slag-stiff',
  severity: 'warning',
  atOnce: false,
  title: 'a stiff slag',
  why: 'From about a fifth of alumina and titania on a slag stays stiff whatever its silica, and holds prills: ilmenite sand, clay and emery do it. Add borax, until a fifth of the slag and more is borate, and a little fluorspar, whose fume is harmful; heat longer.',
  wrong:
    '2026-05-04\nreceive A 60.0 g\n  material ilmenite\nmelt M1\n  in A\n  add soda-ash 50.0 g\n  add silica 30.0 g\n  out S 119.0 g slag',
  right:
    '2026-05-04\nreceive A 60.0 g\n  material ilmenite\nmelt M1\n  in A\n  add borax-glass 70.0 g\n  add silica 10.0 g\n  out S 138.0 g slag',
  workshop: 'materials:\n  ilmenite:\n    composition: { FeTiO3: 95 %, SiO2: 5 %}\n',
  source: 'a fifth of alumina and titania: from memory',
});

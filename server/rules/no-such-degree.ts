/** A silicate degree that no slag can have. */
import { benchRule } from './bench';

export const noSuchDegree = benchRule({
  code: 'no-such-degree',
  severity: 'error',
  atOnce: false,
  title: 'no such silicate degree',
  why: 'A silicate degree is the acid oxygen of a slag over its base oxygen: 1 to 2 for most, and 6 for borax glass alone. What is beyond that, or no figure, cannot be made, and flux is worked out as if nothing were written.',
  wrong:
    '2026-05-04\nreceive A 50.0 g\n  material quartz\nmelt M1\n  in A\n  silicate-degree 12\n  add soda-ash 88.5 g\n  out S 101.5 g slag',
  right:
    '2026-05-04\nreceive A 50.0 g\n  material quartz\nmelt M1\n  in A\n  silicate-degree 2\n  add soda-ash 88.5 g\n  out S 101.5 g slag',
  source: 'the highest is that of borax glass, Na2B4O7: six acid oxygens to one of base',
});

/** A slag that is short of acid. */
import { benchRule } from './bench';

export const slagTooBasic = benchRule({
  code: 'slag-too-basic',
  severity: 'warning',
  atOnce: false,
  title: 'a slag too basic',
  why: 'Soda, lime and iron oxide without silica or borax take their acid from the crucible: it thins and may fail in the heat. Counted is acid oxygen over base oxygen, with whatever of the feed is not known taken for silica. Add silica, crushed glass or borax.',
  wrong:
    '2026-05-04\nreceive A 50.0 g\n  material iron-rust\nmelt M1\n  in A\n  add soda-ash 50.0 g\n  add silica 10.0 g\n  out S 102.0 g slag',
  right:
    '2026-05-04\nreceive A 50.0 g\n  material iron-rust\nmelt M1\n  in A\n  add soda-ash 50.0 g\n  add silica 45.0 g\n  out S 123.0 g slag',
  source:
    'mono- to sesquisilicate, more rarely bisilicate: C. H. Fulton, A Manual of Fire Assaying; the bounds from memory, so that charges of Beringer and Beringer (1904) at 0.8 and 2.3 stay silent',
});

/** A slag with more acid than its bases can carry. */
import { benchRule } from './bench';

export const slagTooAcid = benchRule({
  code: 'slag-too-acid',
  severity: 'warning',
  atOnce: false,
  title: 'a slag too acid',
  why: 'With too little soda or other base for its silica a slag is stiff: metal hangs in it as prills and does not come down. Counted is acid oxygen over base oxygen, with whatever of the feed is not known taken for a base; a slag with a fifth of borate runs all the same. Add soda ash, or borax, and heat again.',
  wrong: '2026-05-04\nreceive A 50.0 g\n  material quartz\nmelt M1\n  in A\n  add soda-ash 30.0 g\n  out S 67.5 g slag',
  right:
    '2026-05-04\nreceive A 50.0 g\n  material quartz\nmelt M1\n  in A\n  add soda-ash 88.5 g\n  out S 101.5 g slag',
  source:
    'mono- to sesquisilicate, more rarely bisilicate: C. H. Fulton, A Manual of Fire Assaying; the bounds from memory, so that charges of Beringer and Beringer (1904) at 0.8 and 2.3 stay silent',
});

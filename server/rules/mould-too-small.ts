/** A pour that does not go into its mould. */
import { benchRule } from './bench';

export const mouldTooSmall = benchRule({
  code: 'mould-too-small',
  severity: 'warning',
  atOnce: false,
  title: 'a mould too small for the pour',
  why: 'What does not go into the mould runs over its edge, onto floor and feet, and the metal with it. Counted is what the metal and slag take molten, at the least; a mould is filled to nine tenths at most. Take a larger one, or pour the slag into another.',
  wrong:
    '2026-05-04\nreceive A 200.0 g\n  material silver\nmelt M1\n  in A\n  10:40 poured 1080 °C into bar-1\n  out B 199.8 g bar',
  right:
    '2026-05-04\nreceive A 200.0 g\n  material silver\nmelt M1\n  in A\n  10:40 poured 1080 °C into bar-2\n  out B 199.8 g bar',
  workshop: 'moulds:\n  bar-1: 12 mL\n  bar-2: 40 mL\n',
  source: 'nine tenths: common practice, no source; densities of molten metal and slag from memory',
});

/** A product that does not hold what it was to hold. */
import { benchRule } from './bench';

export const offTarget = benchRule({
  code: 'off-target',
  severity: 'warning',
  atOnce: false,
  title: 'a product off its target',
  why: 'What goes in and the product, or its assay, say another fineness than `expect` asked for. Below it the piece cannot be marked; above it gold is given away. Assay it again, and bring it up or down before it is worked.',
  wrong:
    '2026-05-04\nreceive A 50.00 g\nassay A by fire, corrected\n  Au 58.33 %\ncast C1\n  in A\n  add gold 20.00 g\n  out B 69.98 g bar\n  expect Au 18 k',
  right:
    '2026-05-04\nreceive A 50.00 g\nassay A by fire, corrected\n  Au 58.33 %\ncast C1\n  in A\n  add gold 33.34 g\n  out B 83.31 g bar\n  expect Au 18 k',
  source:
    'three parts in a thousand, the tolerance of plumb-gold law as a gem-trade study of assay methods quotes it, and what the figures leave open beside; ISO 9202 has no minus tolerance',
});

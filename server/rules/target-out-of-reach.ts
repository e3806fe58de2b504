/** A target that what is charged and added cannot come to. */
import { benchRule } from './bench';

export const targetOutOfReach = benchRule({
  code: 'target-out-of-reach',
  severity: 'warning',
  atOnce: false,
  title: 'a target out of reach',
  why: 'An addition brings a melt towards its own fineness only: gold brings it up, copper down. With what the plan names the target cannot be met, or what goes in is not known well enough to say. Better found before the melt than after.',
  wrong:
    '2026-05-04\nreceive A 50.00 g\n  expect Au 58.3 %\nplan cast C1\n  in A\n  add copper ?\n  expect Au 18 k\n  out B 80 g bar',
  right:
    '2026-05-04\nreceive A 50.00 g\n  expect Au 58.3 %\nplan cast C1\n  in A\n  add gold ?\n  expect Au 18 k\n  out B 80 g bar',
  source: 'balance of mass and of each metal',
});

/** More heat than the furnace has. */
import { benchRule } from './bench';

export const beyondFurnace = benchRule({
  code: 'beyond-furnace',
  severity: 'warning',
  atOnce: false,
  title: 'more heat than the furnace has',
  why: 'The workshop file says how hot a furnace goes. A higher temperature in the journal is a slip, another furnace, or a figure of the workshop file that is no longer true; and metal that melts above it was not molten in it.',
  wrong:
    '2026-05-04\nreceive A 100.00 g\n  material silver\ncast C1, furnace F1\n  in A\n  10:20 poured 1150 °C\n  out B 99.97 g bar',
  right:
    '2026-05-04\nreceive A 100.00 g\n  material silver\ncast C1, furnace F1\n  in A\n  10:20 poured 1050 °C\n  out B 99.97 g bar',
  source: 'the furnace as the workshop file has it',
  workshop: 'furnaces:\n  F1:\n    highest: 1100 °C\n',
});

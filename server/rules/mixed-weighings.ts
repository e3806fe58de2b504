/** Sums and repeats mixed. */
import { formRule } from './rule';

export const mixedWeighings = formRule({
  code: 'mixed-weighings',
  severity: 'error',
  atOnce: true,
  title: 'sums and repeats mixed',
  why: '`+` adds several goes, `/` lists the same thing weighed again. One amount is the one or the other.',
  wrong: '2026-05-04\nreceive A 20.11 + 38.05 / 38.06 g',
  right: '2026-05-04\nreceive A 20.11 + 38.05 g',
  says: () => '`+` adds several goes, `/` repeats one weighing. Use one of them.',
});

/** A detail that belongs to no entry. */
import { formRule } from './rule';

export const looseLine = formRule({
  code: 'loose-line',
  severity: 'error',
  atOnce: false,
  title: 'a detail that belongs to no entry',
  why: 'An indented line belongs to the entry above it. Here there is none.',
  wrong: '2026-05-04\n  in A 20.00 g',
  right: '2026-05-04\nreceive A 20.00 g',
  says: () => 'This line stands under no entry.',
});

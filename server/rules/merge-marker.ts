/** An unfinished merge. */
import { formRule } from './rule';

export const mergeMarker = formRule({
  code: 'merge-marker',
  severity: 'error',
  atOnce: true,
  title: 'an unfinished merge',
  why: 'Two versions of the page stand here side by side. What each says is compared; keep one and take the marker lines out; until then the entry is not computed. `fineweight merge`, as a merge driver of git, joins days and entries by what they are, so that this is left only where both changed the same entry.',
  wrong: '2026-05-04\nreceive A 20.00 g\n<<<<<<< ours\nnote one\n=======\nnote two\n>>>>>>> theirs',
  right: '2026-05-04\nreceive A 20.00 g\nnote one',
  says: () => 'Two versions stand here side by side. Keep one and take out the marker lines.',
});

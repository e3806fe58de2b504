/** A seal that closes nothing yet. */

import type { SealDraft } from '../record/draft';
import { isSeal } from '../record/periods';
import { placeIn } from '../text/place';
import { type Fix, rule } from './rule';

export const sealWithoutDigest = rule({
  code: 'seal-without-digest',
  severity: 'warning',
  atOnce: false,
  title: 'a seal without its digest',
  why: 'The digest is what shows that nothing was changed: a seal without one closes nothing. The quick fix writes it, as `fineweight seal DATE` does on a page of its own.',
  wrong: '2026-05-04\nreceive A 20.00 g\n\n2026-06-01\nseal 2026-05-31',
  right:
    '2026-05-04\nreceive A 20.00 g\n\n2026-06-01\nseal 2026-05-31 digest s1-ca8bf00c86ac16ef3a0901fbff5e61104af9a11748b07c13e9eea0bcc87fa9bf\n  marks 2026-05-04 92262dee',
  record: function* ({ entry, section, written }) {
    if (!entry || !isSeal(entry) || entry.digest) return;
    const draft = written();
    yield { place: entry.head, says: `This seal has no digest yet${reason(draft)}.`, fixes: fixesFor(draft) };

    function fixesFor(of: SealDraft): readonly Fix[] {
      if (of.kind !== 'ready') return [];
      const { comment, end } = section.lines[0]!;
      const head = section.text.slice(0, comment?.start ?? end).trimEnd().length;
      const newline = section.text.includes('\r\n') ? '\r\n' : '\n';
      const lines = of.lines.map((line) => `${newline}${line}`).join('');
      const text = ` digest ${of.digest}${section.text.slice(head, end)}${lines}`;
      const edits = [{ at: placeIn(section, { start: head, end }), text }];
      return [{ title: `Seal the record up to ${entry!.ofDate}`, edits, safe: false, preferred: true }];
    }
  },
});

const reason = (draft: SealDraft): string => {
  if (draft.kind === 'unchained') return `; the one of ${draft.before} comes first`;
  if (draft.kind === 'ready') return '';
  const [missing] = draft.missing;
  return missing === undefined ? '' : `, and ${missing} is not there to be sealed`;
};

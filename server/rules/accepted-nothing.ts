/** An acceptance that silences nothing. */
import type { Accepted } from '../journal/accepted';
import { type Match, rule } from './rule';

const page = rule({
  code: 'accepted-nothing',
  severity: 'warning',
  atOnce: false,
  title: 'an acceptance of nothing',
  why: 'What was accepted is no longer found here. An acceptance left behind would hide the next slip.',
  wrong: '2026-05-04\nreceive A 20.00 g\n# accepted which-unit: grains, on an old pan balance',
  right: '2026-05-04\nreceive A 20 gr  # accepted which-unit: grains, on an old pan balance',
});

export const acceptedNothing = {
  ...page,
  match: (by: Accepted): Match => ({
    place: by.place,
    says: `Nothing here is found as \`${by.code}\`: take this line out.`,
    fixes: [{ title: 'Take the acceptance out', edits: [{ at: by.place, text: '' }], safe: false }],
  }),
};

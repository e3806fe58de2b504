/** An acceptance that gives no reason. */
import type { Accepted } from '../journal/accepted';
import { type Match, rule } from './rule';

const page = rule({
  code: 'accepted-without-reason',
  severity: 'warning',
  atOnce: false,
  title: 'an acceptance without its reason',
  why: 'A finding may be accepted, but the record must say why: `# accepted CODE: reason`. Without a reason nothing is silenced.',
  wrong: '2026-05-04\nreceive A 20.00 g\n# accepted which-unit',
  right: '2026-05-04\nreceive A 20 gr  # accepted which-unit: grains, on an old pan balance',
});

export const acceptedWithoutReason = {
  ...page,
  match: (by: Accepted): Match => ({
    place: by.place,
    says: `Say why \`${by.code}\` is accepted: write a colon and the reason.`,
  }),
};

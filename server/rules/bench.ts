/** Rules that tell what the bench finds amiss. The words are those of the advice; the page is the rule's own. */
import { jobOf } from '../advice/job';
import { adviceOn } from '../advice/topics';
import type { Rule, RulePage } from './rule';

export const benchRule = (page: RulePage): Rule => ({
  ...page,
  ofPlans: true,
  metal: function* ({ workspace, entry }) {
    const job = jobOf(workspace, entry);
    if (!job) return;
    for (const { wrong = [] } of adviceOn(job)) {
      for (const { code, ...match } of wrong) if (code === page.code) yield match;
    }
  },
});

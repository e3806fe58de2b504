/** Rules that tell what the bench finds amiss. The words are those of the advice; the page is the rule's own. */
import type { Wrong } from '../advice/advice';
import { jobOf } from '../advice/job';
import { adviceOn } from '../advice/topics';
import type { Entry } from '../engine/entry';
import type { Workspace } from '../workspace/workspace';
import type { Rule, RulePage } from './rule';

/** A rule without a check of its own: the bench is asked once for all of them. */
export const benchRule = (page: RulePage): Rule => ({ ...page, ofPlans: true });

/** What is amiss in an entry, each with the code of its rule. */
export const wrongsOf = (workspace: Workspace, entry: Entry): readonly Wrong[] => {
  const job = jobOf(workspace, entry);
  return job ? adviceOn(job).flatMap(({ wrong = [] }) => wrong) : [];
};

/** What the bench works out beside a line of what was done. */
import type { Advice } from '../../advice/advice';
import { jobOf } from '../../advice/job';
import { adviceOn } from '../../advice/topics';
import { workingMarkdown } from '../../advice/words';
import { type Draft, type HintFamily, RANK, type Subject } from './draft';

export const benchDrafts = ({ workspace, entry }: Subject): readonly Draft[] => {
  const job = jobOf(workspace, entry);
  return job ? adviceOn(job).flatMap((advice) => benchDraft(advice, 'bench')) : [];
};

const RANKS: Readonly<Record<Advice['rank'], number>> = {
  doubt: RANK.doubt,
  result: RANK.weight,
  // Good to know, and behind the figures that were weighed.
  extra: RANK.extra + 1,
};

/** None for what has nothing to show at the end of a line. */
export const benchDraft = (advice: Advice, family: HintFamily): readonly Draft[] => {
  const { at, label, short, rank, working } = advice;
  if (label === undefined) return [];
  const tooltip = (): string => workingMarkdown(working());
  return [{ at, label, ...(short === undefined ? {} : { short }), tooltip, family, rank: RANKS[rank] }];
};

/** Cautions on the first line of the entry that first sets them off on its day; of a plan always. */
import { cautionLabel, cautionWorking, newCautions } from '../../advice/cautions';
import { jobOf } from '../../advice/job';
import { workingMarkdown } from '../../advice/words';
import { paragraphs } from '../../reports/markdown';
import { type Draft, RANK, type Subject } from './draft';

export const cautionDrafts = ({ workspace, entry }: Subject): readonly Draft[] => {
  const job = jobOf(workspace, entry);
  const cautions = job ? newCautions(job) : [];
  if (cautions.length === 0) return [];
  const tooltip = (): string => paragraphs(...cautions.map((one) => workingMarkdown(cautionWorking(one))));
  return [{ at: entry.head, label: cautionLabel(cautions), tooltip, family: 'caution', rank: RANK.extra + 2 }];
};

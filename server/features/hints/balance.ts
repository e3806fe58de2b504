/** The balance of a step, at the end of its first line. */
import { balanceLabel } from '../../reports/wording';
import { isAsIf } from '../../workspace/as-if';
import { balanceMarkdown } from '../balance';
import { type Draft, familyOf, RANK, type Subject } from './draft';

export const balanceDrafts = ({ workspace, account, entry }: Subject): Draft[] => {
  const { step } = account;
  const label = step && balanceLabel(step, workspace.workshop);
  if (!step || label === undefined) return [];
  const isDoubt = step.verdict === 'gain' || step.verdict === 'high';
  // The products of a plan are made up so that it balances: what it will lose the bench tells.
  const isMadeUp = !isDoubt || step.unaccounted?.guessed;
  if (isAsIf(workspace) && isMadeUp && (step.usual || step.openBecause === 'nothing out')) return [];
  return [
    {
      at: entry.head,
      label,
      tooltip: (now) => balanceMarkdown(step, now),
      family: familyOf(entry.verb),
      rank: isDoubt ? RANK.doubt : RANK.balance,
    },
  ];
};

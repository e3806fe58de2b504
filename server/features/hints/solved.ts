/** The one weight that a balance was solved for, on the line where it is missing. */
import { showMass, showQuantity } from '../../quantity/show';
import { balanceRows } from '../../reports/balance';
import { fitting, spreadWords } from '../../reports/figures';
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { sumLines } from '../../reports/sum';
import { adviceWords, verdictWords } from '../../reports/wording';
import { type Draft, familyOf, RANK, type Subject } from './draft';

export const solvedDrafts = ({ workspace, account, entry }: Subject): Draft[] => {
  const { step } = account;
  if (!step?.solved || step.solved.flow.place.anchor !== entry.anchor) return [];
  const { flow, mass } = step.solved;
  const spread = spreadWords(mass);
  const figure = showMass(mass);
  const label = fitting(...(spread ? [`${figure} ${spread}, by balance`] : []), `${figure}, by balance`);
  const tooltip: Draft['tooltip'] = () =>
    paragraphs(
      escapeMarkdown(verdictWords(step, workspace.workshop)),
      fenced(sumLines(balanceRows(step))),
      escapeMarkdown(
        `Good to ${spread ?? 'what was weighed'}: weighing, and what such a step usually loses (${step.usual?.why ?? 'nothing'}).`,
      ),
      escapeMarkdown(adviceWords(step) ?? showQuantity(mass, 'g')),
    );
  return [{ at: flow.place, label, tooltip, family: familyOf(entry.verb), rank: RANK.balance }];
};

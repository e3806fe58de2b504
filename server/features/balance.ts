/** The balance of a step as Markdown: the verdict, the sum line by line, what it rests on, what to do. The same in hints and hovers. */
import type { Step } from '../engine/book';
import { balanceRows } from '../reports/balance';
import { escapeMarkdown, fenced, paragraphs } from '../reports/markdown';
import { sumLines } from '../reports/sum';
import { adviceWords, groundWords, verdictWords } from '../reports/wording';
import type { Workspace } from '../workspace/workspace';

export const balanceMarkdown = (step: Step, { workshop }: Workspace): string => {
  const rows = balanceRows(step);
  return paragraphs(
    escapeMarkdown(verdictWords(step, workshop)),
    rows.length > 0 ? fenced(sumLines(rows)) : undefined,
    step.unaccounted && step.usual ? escapeMarkdown(usualWords(step)) : undefined,
    escapeMarkdown(groundWords(step)),
    escapeMarkdown(adviceWords(step) ?? ''),
  );
};

const usualWords = ({ usual }: Step): string => {
  const from = usual?.from === 'workshop' ? '' : 'Usual: ';
  return `${from}${usual?.why ?? ''}.`;
};

/** On a verb: what such a step usually loses, by the workshop file, by this journal, by the trade. */
import type { Entry } from '../../engine/entry';
import { learntWords } from '../../engine/learnt';
import { balanceRow } from '../../engine/usual';
import { usualOf, usualRange } from '../../engine/usual-table';
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import type { Workspace } from '../../workspace/workspace';

export const usualMarkdown = (workspace: Workspace, entry: Entry, word: string): string | undefined => {
  const row = entry.verb === word ? balanceRow(word) : undefined;
  if (!row || row.kind === 'sample') return undefined;
  const trade = usualOf(word);
  const sources = [...new Set(trade.map(({ why }) => why))];
  return paragraphs(
    escapeMarkdown(`Usually missing. ${row.means}`),
    fenced(trade.map((one) => `${usualRange(one).padEnd(32)}${one.charge.replaceAll('`', '')}`)),
    escapeMarkdown(`Rests on: ${sources.join('; ')}.`),
    own(workspace, word),
    learnt(workspace, entry),
  );
};

const own = ({ workshop: { limits } }: Workspace, verb: string): string | undefined => {
  const said = [...limits.usualLoss].filter(([of]) => of === verb || of.startsWith(`${verb} `));
  if (said.length === 0) return undefined;
  const words = said.map(([of, { low, high }]) => `${of} ${percent(low)}..${percent(high)} %`);
  return escapeMarkdown(`By the workshop file: ${words.join(', ')}.`);
};

const percent = (share: number): string => `${Number((100 * share).toFixed(2))}`;

const learnt = ({ book }: Workspace, entry: Entry): string | undefined => {
  const lesson = book.account(entry).step?.history?.learnt;
  return lesson && escapeMarkdown(`By this journal: ${learntWords(lesson, balanceRow(entry.verb)?.many ?? 'steps')}.`);
};

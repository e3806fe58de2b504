/** A step: its balance in full. */
import type { Entry } from '../../engine/entry';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import { balanceLabel } from '../../reports/wording';
import { listWords, stepWords } from '../../reports/words';
import type { Workspace } from '../../workspace/workspace';
import { balanceMarkdown } from '../balance';

/** Of the entry that the name stands in. */
export const stepMarkdown = (workspace: Workspace, entry: Entry): string => {
  const title = `**${escapeMarkdown(stepWords(entry))}**`;
  if (entry.prefix === 'plan') return `${title} · planned, and booked nowhere until it is done`;
  if (entry.prefix === 'void') return `${title} · void: shown, and not counted`;
  const { step, parts } = workspace.book.account(entry);
  if (!step) return `${title} · ${movedBy(entry)}`;
  const label = balanceLabel(step, workspace.workshop);
  const days = [...new Set(parts.flatMap(({ date }) => date ?? []))];
  const when = days.length > 1 ? `On ${listWords(days)}.` : undefined;
  return paragraphs(`${title}${label ? ` · ${escapeMarkdown(label)}` : ''}`, balanceMarkdown(step, workspace), when);
};

const movedBy = (entry: Entry): string => {
  const lots = entry.flows.flatMap(({ lot }) => lot?.name ?? []);
  return lots.length > 0 ? escapeMarkdown(listWords(lots)) : 'nothing in or out of it yet';
};

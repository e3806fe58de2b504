/** A day of the journal: what was done on it. */
import type { JournalPage } from '../../journal/page';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import { listWords, stepWords } from '../../reports/words';
import type { Section } from '../../syntax/tree';

export const dayMarkdown = ({ page, bySection }: JournalPage, day: Section, date: string | undefined): string => {
  const from = page.sections.indexOf(day) + 1;
  const next = page.sections.findIndex((section, index) => index >= from && section.kind === 'day');
  const entries = page.sections
    .slice(from, next < 0 ? undefined : next)
    .flatMap((section) => bySection.get(section) ?? []);
  const count = entries.length === 1 ? '1 entry' : `${entries.length} entries`;
  const names = listWords(entries.map(stepWords), 8);
  return paragraphs(
    `**${date ?? 'No date that there is'}** · ${count}`,
    names === '' ? undefined : escapeMarkdown(`${names}.`),
  );
};

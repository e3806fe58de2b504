/** A party: what they are to us, and what was agreed last. */
import type { Workshop } from '../../engine/workshop';
import { brokenLines, escapeMarkdown, paragraphs } from '../../reports/markdown';
import { termLines } from '../../reports/selling/terms';

export const partyMarkdown = ({ parties, declared }: Workshop, name: string): string => {
  const party = parties.get(name);
  const title = `**${escapeMarkdown(name)}**`;
  if (!party) return `${title} · a party${declared ? ' that the workshop file does not name' : ''}.`;
  const terms = party.terms.at(-1);
  return paragraphs(
    `${title} · ${party.role ?? 'a party'}`,
    terms &&
      brokenLines([`Agreed from ${terms.from}:`, ...termLines(terms, party.role === 'customer').map(escapeMarkdown)]),
    'From the workshop file.',
  );
};

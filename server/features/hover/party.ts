/** A party: what they are to us, and what was agreed last. */
import type { ChargeTerm, Terms, Workshop } from '../../engine/workshop';
import { type Decimal, toPlain } from '../../quantity/decimal';
import { brokenLines, escapeMarkdown, paragraphs } from '../../reports/markdown';

export const partyMarkdown = ({ parties, declared }: Workshop, name: string): string => {
  const party = parties.get(name);
  const title = `**${escapeMarkdown(name)}**`;
  if (!party) return `${title} · a party${declared ? ' that the workshop file does not name' : ''}.`;
  const terms = party.terms.at(-1);
  return paragraphs(
    `${title} · ${party.role ?? 'a party'}`,
    terms && brokenLines([`Agreed from ${terms.from}:`, ...termLines(terms)]),
    'From the workshop file.',
  );
};

const termLines = ({ pays, less, charges, minimumGrams, days }: Terms): (string | undefined)[] => [
  sharesLine('pays', pays),
  sharesLine('takes off', less),
  ...[...charges].map(([word, charge]) => `charge ${escapeMarkdown(word)}: ${escapeMarkdown(chargeWords(charge))}`),
  minimumGrams && `least lot ${toPlain(minimumGrams)} g`,
  days === undefined ? undefined : `pays within ${days} days`,
];

const sharesLine = (title: string, shares: ReadonlyMap<string, Decimal>): string | undefined =>
  shares.size === 0
    ? undefined
    : `${title} ${[...shares].map(([metal, share]) => `${escapeMarkdown(metal)} ${percent(share)}`).join(', ')}`;

const percent = (share: Decimal): string => `${toPlain(share.times(100))} %`;

const chargeWords = ({ amount, currency, per, of }: ChargeTerm): string => {
  const size = currency === undefined ? percent(amount) : `${toPlain(amount)} ${currency}`;
  return `${size}${per ? `/${per.symbol}` : ''}${of ? ` of ${of}` : ''}`;
};

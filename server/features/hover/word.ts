/** Words of the language: what they mean, what they take, a line that uses them. */
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { listWords } from '../../reports/words';
import { SLOT_NOUNS } from '../../syntax/fill';
import { detailsOf } from '../../vocabulary/details';
import type { Slot, WordRow } from '../../vocabulary/slots';
import { toldOf } from '../../vocabulary/told';
import { verb } from '../../vocabulary/verbs';
import { BASES, KINDS, METHODS, POOLS, PREFIXES, STATES } from '../../vocabulary/words';
import type { Target } from './target';

/** A verb, a detail or a remark. */
export const rowMarkdown = (row: WordRow): string => {
  const of = verb(row.word);
  const { meaning, example } = toldOf(row);
  const details = of === row ? detailsOf(of).map(({ word }) => `\`${word}\``) : [];
  return paragraphs(
    `**${row.word}** · ${meaning}`,
    `\`${[row.word, ...row.slots.map(slotWords)].join(' ')}\``,
    details.length > 0 ? `May say: ${details.join(' ')}` : undefined,
    fenced([example]),
  );
};

/** `LOT`, `[AMOUNT]`, `to PARTY`, as in the tables of the reference. */
const slotWords = ({ takes, lead, orLed, optional }: Slot): string => {
  const names = takes.map((one) => one.toUpperCase()).join('/');
  const said = lead ? `${lead} ${names}` : orLed ? `[${orLed}] ${names}` : names;
  return optional ? `[${said}]` : said;
};

/** A word of the small sets. */
export const wordMarkdown = ({ word, takes }: Extract<Target, { kind: 'word' }>): string | undefined => {
  const set = SETS[takes];
  const found = set?.rows.find((row) => row.word === word);
  if (found && set) return `**${word}** · ${found.meaning}\n\n${set.what}`;
  const lead = LEADS.get(word);
  return lead === undefined ? undefined : `**${word}** · ${lead}`;
};

interface SmallSet {
  readonly rows: readonly { readonly word: string; readonly meaning: string }[];
  readonly what: string;
}

const SETS: Readonly<Partial<Record<Extract<Target, { kind: 'word' }>['takes'], SmallSet>>> = {
  prefix: { rows: PREFIXES, what: 'Stands before the verb.' },
  kind: { rows: KINDS, what: 'A kind of product.' },
  state: { rows: STATES, what: 'The state in which something was weighed.' },
  method: { rows: METHODS, what: 'How an assay was made.' },
  basis: { rows: BASES, what: 'What a charge is reckoned on.' },
  pool: { rows: POOLS, what: 'How several owners share what comes out.' },
};

const LEADS: ReadonlyMap<string, string> = new Map([
  ['from', 'From whom it comes.'],
  ['to', 'To whom, or to which new name.'],
  ['of', 'Of which: a part of a lot, the day that is meant, what a charge is reckoned on.'],
  ['by', 'By which method.'],
  ['at', 'At which lab or place.'],
  ['for', 'For so much money.'],
  ['with', 'With whom.'],
  ['until', 'Not before that day.'],
  ['on', 'The scale it was read on.'],
  ['at least', 'Never less than that.'],
  ['digest', 'The digest that chains this seal to the last one.'],
]);

/** A name of no kind that has a record of its own: a person, a label, a file, a place. */
export const plainName = (name: string, takes: keyof typeof SLOT_NOUNS): string => {
  const what = PLAIN.get(takes) ?? SLOT_NOUNS[takes];
  return `**${escapeMarkdown(name)}** · ${what}`;
};

const PLAIN: ReadonlyMap<string, string> = new Map([
  ['person', 'who did it, or saw it'],
  ['file', 'a file in this folder'],
  ['place', 'a place where things are kept'],
  ['label', 'a label, as it was written'],
]);

/** What an undeclared name could be said about. */
export const undeclared = (name: string, what: string, section: string): string =>
  `**${escapeMarkdown(name)}** · ${what} that the workshop file does not name.\n\nDeclare it under \`${section}\`, and ${listWords(USES.get(section) ?? ['it is checked'])}.`;

const USES: ReadonlyMap<string, readonly string[]> = new Map([
  ['scales', ['its division says how good a weight is']],
  ['containers', ['its tare is taken off by name']],
  ['crucibles', ['its fill is reckoned before the heat']],
]);

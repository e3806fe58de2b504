/** What is known of the word, the name or the figure under the pointer. The first line is the answer. */
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import { paragraphs } from '../reports/markdown';
import type { Section } from '../syntax/tree';
import type { Span } from '../text/span';
import type { Workspace } from '../workspace/workspace';
import { amountMarkdown } from './hover/amount';
import { amountAt } from './hover/amounts';
import { clockMarkdown } from './hover/clock';
import { dayMarkdown } from './hover/day';
import { lotMarkdown } from './hover/lot';
import { materialMarkdown } from './hover/material';
import { metalMarkdown } from './hover/metal';
import { moneyAt, moneyMarkdown } from './hover/money';
import { partyMarkdown } from './hover/party';
import { stepMarkdown, waysMarkdown } from './hover/step';
import { type Target, targetAt } from './hover/target';
import { thingMarkdown } from './hover/things';
import { unitMarkdown } from './hover/unit';
import { usualMarkdown } from './hover/usual';
import { plainName, rowMarkdown, wordMarkdown } from './hover/word';
import { workshopHoverAt } from './hover/workshop-file';
import { findingPage } from './rule-pages';
import { sellingMarkdown } from './selling';

export interface HoverText {
  /** Offsets in the file's text. */
  readonly range: Span;
  readonly markdown: string;
}

export const hoverAt = (workspace: Workspace, file: string, offset: number): HoverText | undefined => {
  if (workspace.workshopFile?.file === file) return workshopHoverAt(workspace, workspace.workshopFile, offset);
  const journal = workspace.pages.get(file);
  const section = journal?.page.sections.findLast((one) => journal.page.starts.get(one)! <= offset);
  if (!journal || !section) return undefined;
  const start = journal.page.starts.get(section)!;
  const target = targetAt(section, offset - start);
  const markdown = target && markdownOf({ workspace, journal, section, offset: offset - start }, target);
  return markdown ? { range: { start: start + target.start, end: start + target.end }, markdown } : undefined;
};

interface Asked {
  readonly workspace: Workspace;
  readonly journal: JournalPage;
  readonly section: Section;
  /** From the section's start. */
  readonly offset: number;
}

const markdownOf = (asked: Asked, target: Target): string | undefined => {
  const { workspace, journal, section } = asked;
  const entry = journal.bySection.get(section);
  switch (target.kind) {
    case 'row':
      return paragraphs(
        rowMarkdown(target.row),
        entry && usualMarkdown(workspace, entry, target.row.word),
        entry && target.row.word === entry.verb ? sellingMarkdown(workspace, entry) : undefined,
        entry && target.row.word === entry.verb ? waysMarkdown(workspace, entry) : undefined,
      );
    case 'word':
      return wordMarkdown(target);
    case 'name':
      return nameMarkdown(workspace, entry, target);
    case 'amount':
      return entry && spokenMarkdown(asked, entry, target);
    case 'unit':
      return unitMarkdown(workspace.workshop, target.symbol);
    case 'metal':
      return metalMarkdown(target.symbol);
    case 'money': {
      const money = entry && moneyAt(entry, target.start);
      return money && moneyMarkdown(money);
    }
    case 'day':
      return dayMarkdown(journal, section, target.date);
    case 'clock':
      return entry && clockMarkdown(workspace, entry, target.start);
    case 'comment':
      return commentMarkdown(target.text);
  }
};

const spokenMarkdown = ({ workspace }: Asked, entry: Entry, target: Target): string | undefined => {
  const found = amountAt(entry, target.start);
  return found && amountMarkdown(workspace, entry, found);
};

type NameTarget = Extract<Target, { kind: 'name' }>;

const nameMarkdown = (workspace: Workspace, entry: Entry | undefined, { takes, name }: NameTarget): string => {
  const { workshop } = workspace;
  if (takes === 'lot') return lotMarkdown(workspace, name);
  if (takes === 'step' && entry)
    return entry.verb === 'settle'
      ? settledMarkdown(workspace, entry, name)
      : paragraphs(stepMarkdown(workspace, entry), sellingMarkdown(workspace, entry));
  if (takes === 'party') return partyMarkdown(workshop, name);
  if (takes === 'material') return shelfMarkdown(workspace, name);
  const hand = takes === 'person' ? workshop.hands.get(name) : undefined;
  if (hand !== undefined && hand !== name) return plainName(`${name}: ${hand}`, takes);
  return thingMarkdown(workshop, takes, name) ?? plainName(name, takes);
};

/** A settlement is of a lot or of a shipment. */
const settledMarkdown = (workspace: Workspace, entry: Entry, name: string): string =>
  paragraphs(
    workspace.book.lot(name) ? lotMarkdown(workspace, name) : plainName(name, 'step'),
    sellingMarkdown(workspace, entry),
  );

/** A lot that stands where a material should is asked about: it is shown as what it is. */
const shelfMarkdown = (workspace: Workspace, name: string): string => {
  const { births } = workspace.book.lot(name) ?? { births: [] };
  return births.length > 0 ? lotMarkdown(workspace, name) : materialMarkdown(workspace.workshop, name);
};

const ACCEPTED = 'accepted ';

/** `# accepted CODE: reason` shows the page of that rule. */
const commentMarkdown = (text: string): string | undefined => {
  const said = text.slice(1).trim();
  if (!said.startsWith(ACCEPTED)) return undefined;
  const code = said.slice(ACCEPTED.length).split(':', 1)[0]!.trim();
  const page = findingPage(code);
  if (!page) return undefined;
  return paragraphs(`**${page.code}** · ${page.title}`, page.why, 'Accepted here, and shown no more.');
};

/**
 * The outline of a page: days, their entries with the balance or the weight, and what each entry made; of a workshop file: its sections, and
 * what stands in each.
 */

import type { Account } from '../engine/book';
import type { Entry, Flow } from '../engine/entry';
import { showMass } from '../quantity/show';
import { balanceLabel } from '../reports/wording';
import { stepWords } from '../reports/words';
import { writtenDate } from '../syntax/day';
import type { Section } from '../syntax/tree';
import type { Span } from '../text/span';
import { visible } from '../text/visible';
import { verb } from '../vocabulary/verbs';
import type { OutlineSection } from '../workshop/read';
import type { Workspace } from '../workspace/workspace';

export interface SymbolNode {
  readonly name: string;
  /** A weight or a verdict; may be empty. */
  readonly detail: string;
  readonly kind: 'day' | 'entry' | 'lot' | 'section' | 'thing';
  /** All of it, children included. Offsets in the file's text. */
  readonly range: Span;
  /** What to jump to; within the range. */
  readonly selection: Span;
  readonly children: readonly SymbolNode[];
}

interface Day {
  readonly section: Section;
  readonly start: number;
  readonly children: SymbolNode[];
}

/** Days with their entries; entries above the first day line stand alone. */
export const symbolsOf = (workspace: Workspace, file: string): readonly SymbolNode[] => {
  if (workspace.workshopFile?.file === file) return workspace.workshopFile.outline.map(sectionNode);
  const journal = workspace.pages.get(file);
  if (!journal) return [];
  const top: (SymbolNode | Day)[] = [];
  let day: Day | undefined;
  for (const section of journal.page.sections) {
    const start = journal.page.starts.get(section)!;
    const entry = journal.bySection.get(section);
    if (section.kind === 'day') {
      day = { section, start, children: [] };
      top.push(day);
    } else if (entry) (day?.children ?? top).push(entryNode(workspace, entry, start));
  }
  return top.map((node) => ('section' in node ? dayNode(node) : node));
};

const sectionNode = ({ section, at, whole, names }: OutlineSection): SymbolNode => ({
  name: section,
  detail: '',
  kind: 'section',
  range: whole,
  selection: at,
  children: names.map((thing) => ({
    name: visible(thing.name),
    detail: '',
    kind: 'thing',
    range: thing.whole,
    selection: thing.at,
    children: [],
  })),
});

const dayNode = ({ section, start, children }: Day): SymbolNode => {
  const line = section.lines[0]!;
  const written = writtenDate(section.text, line);
  const date = section.date ?? section.text.slice(written.start, written.end);
  const selection = { start: start + line.start, end: start + line.end };
  return {
    name: visible(date),
    detail: visible(section.text.slice(written.end, line.end).trim()),
    kind: 'day',
    range: { start: selection.start, end: children.at(-1)?.range.end ?? selection.end },
    selection,
    children,
  };
};

const entryNode = (workspace: Workspace, entry: Entry, start: number): SymbolNode => {
  const place = (of: Span): Span => ({ start: start + of.start, end: start + of.end });
  const account = workspace.book.account(entry);
  const lots = entry.flows.filter(({ word, lot, none }) => word === 'out' && lot && !none);
  return {
    name: visible([entry.prefix, stepWords(entry) || firstWord(entry)].filter(Boolean).join(' ')),
    detail: detailOf(workspace, account),
    kind: 'entry',
    range: place(entry.place),
    selection: place(entry.name?.place ?? (entry.verb ? entry.verbPlace : entry.head)),
    children: lots.map((flow) => lotNode(account, flow, place)),
  };
};

const firstWord = ({ anchor, head }: Entry): string => {
  const line = (anchor as Section).text.slice(head.start, head.end).trim();
  return line.split(/[ \t]/, 1)[0] ?? '';
};

const detailOf = ({ workshop }: Workspace, { entry, step, lots }: Account): string => {
  if (entry.prefix === 'plan' || entry.prefix === 'void' || entry.broken) return '';
  const balance = step && balanceLabel(step, workshop);
  if (balance !== undefined) return balance;
  const own = entry.name && verb(entry.verb)?.names !== 'step' ? lots.get(entry.name.name) : undefined;
  const event = own?.events.find((one) => one.entry.anchor === entry.anchor);
  const mass = event?.weight.mass ?? event?.after;
  return mass ? showMass(mass) : '';
};

const lotNode = ({ step, lots }: Account, flow: Flow, place: (of: Span) => Span): SymbolNode => {
  const name = flow.lot!.name;
  const event = lots.get(name)?.events.find((one) => one.flow?.place === flow.place);
  const mass = step?.solved?.flow.place === flow.place ? step.solved.mass : event?.weight.mass;
  const kind = flow.kind && !name.endsWith(`.${flow.kind}`) ? ` ${flow.kind}` : '';
  return {
    name: visible(name),
    detail: `${mass ? showMass(mass) : ''}${kind}`.trim(),
    kind: 'lot',
    range: place(flow.place),
    selection: place(flow.lot!.place),
    children: [],
  };
};

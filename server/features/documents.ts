/** Documents in an editor: what a kind can be made of, and what the cursor stands on of it. */
import type { Choice } from '../documents/choice';
import { countedEntries } from '../documents/entries';
import type { Kind } from '../documents/kinds/kind';
import type { Entry } from '../engine/entry';
import { stepWords } from '../reports/words';
import type { Section } from '../syntax/tree';
import { lastDateOf, monthsBetween } from '../text/calendar';
import { verb } from '../vocabulary/verbs';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { nameAt } from './names';

/** One thing that a document can be made of. */
export interface Candidate {
  readonly label: string;
  /** Behind it, dimmed. */
  readonly detail: string;
  readonly choice: Choice;
}

/** The newest first, as far as there is an order; nothing is left out. */
export const candidatesOf = (workspace: Workspace, kind: Kind): readonly Candidate[] => {
  switch (kind.needs) {
    case 'entry':
      return countedEntries(workspace)
        .filter((entry) => entry.name && !entry.prefix && isOfKind(kind, entry))
        .map((entry) => ({ label: stepWords(entry), detail: entry.date ?? '', choice: { entry: entry.name!.name } }))
        .reverse();
    case 'lot':
      return [...workspace.book.lotNames()]
        .flatMap((lot) => {
          const [birth] = workspace.book.lot(lot)!.births;
          return birth ? [{ label: lot, detail: birth.entry.date ?? '', choice: { lot } }] : [];
        })
        .sort((a, b) => (a.detail > b.detail ? -1 : a.detail < b.detail ? 1 : 0));
    case 'party':
      return [...workspace.workshop.parties.values()]
        .filter(({ role }) => role === 'customer')
        .map(({ name }) => ({ label: name, detail: 'customer', choice: { party: name } }));
    case 'day':
      return daysOf(workspace)
        .map((day) => ({ label: day, detail: '', choice: { day } }))
        .reverse();
    default:
      return kind.takes.includes('from') ? periodsOf(workspace) : [WHOLE];
  }
};

const WHOLE: Candidate = { label: 'The whole record', detail: '', choice: {} };

const isOfKind = ({ code }: Kind, entry: Entry): boolean =>
  code === 'shipment' ? entry.verb === 'ship' : verb(entry.verb)?.flows === true;

const daysOf = (workspace: Workspace): readonly string[] => [
  ...new Set(countedEntries(workspace).flatMap(({ date }) => date ?? [])),
];

const periodsOf = (workspace: Workspace): readonly Candidate[] => {
  const days = daysOf(workspace);
  const [first, last] = [days[0], days.at(-1)];
  const months = first && last ? monthsBetween(first, last) : [];
  return [WHOLE, ...months.map((month) => ({ label: month, detail: 'month', choice: monthOf(month) })).reverse()];
};

const monthOf = (month: string): Choice => ({ from: `${month}-01`, to: lastDateOf(month) });

/** What the cursor stands on of it; undefined where it stands on nothing that such a document can be made of. */
export const choiceAt = (workspace: Workspace, kind: Kind, file: string, offset: number): Choice | undefined => {
  const page = workspace.pages.get(file);
  const section = page?.page.sections.findLast((one: Section) => page.page.starts.get(one)! <= offset);
  const entry = section && page?.bySection.get(section);
  const day = entry?.date ?? section?.date;
  switch (kind.needs) {
    case 'entry':
      return entry?.name && isOfKind(kind, entry) ? { entry: entry.name.name } : undefined;
    case 'lot': {
      const lot = lotAt(workspace, entry, file, offset);
      return lot === undefined ? undefined : { lot };
    }
    case 'party': {
      const party = partyAt(workspace, entry, file, offset);
      return party === undefined ? undefined : { party };
    }
    case 'day':
      return day === undefined ? undefined : { day };
    default:
      return day !== undefined && kind.takes.includes('from') ? monthOf(day.slice(0, 7)) : {};
  }
};

/** The lot under the cursor, else the first that its entry speaks of. */
const lotAt = (workspace: Workspace, entry: Entry | undefined, file: string, offset: number): string | undefined => {
  const named = nameAt(workspace, file, offset);
  const names = [
    named?.kind === 'lot' ? named.name : undefined,
    entry?.name?.name,
    ...(entry?.flows ?? []).map(({ lot }) => lot?.name),
  ];
  return names.find((name) => name !== undefined && (workspace.book.lot(name)?.births.length ?? 0) > 0);
};

/** Whose the lots of the entry are, if they are a customer's. */
const partyAt = (workspace: Workspace, entry: Entry | undefined, file: string, offset: number): string | undefined => {
  const named = nameAt(workspace, file, offset);
  if (named?.kind === 'party') return named.name;
  const accounts = accountsOf(workspace);
  const lots = entry ? [entry.name?.name, ...entry.flows.map(({ lot }) => lot?.name)] : [];
  const owners = lots.flatMap((lot) => {
    const segment = lot === undefined ? undefined : accounts.metals.lineage.segmentAt(lot);
    return segment ? accounts.namesOf(accounts.owners(segment)) : [];
  });
  return owners.find((name) => name !== accounts.shop);
};

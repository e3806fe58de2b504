/** What changed between two versions of a journal in what it says and what follows from it: not in spacing, pages or comments. */

import type { Entry } from '../engine/entry';
import { showMass } from '../quantity/show';
import { differencesBetween, type Difference as OfEntry } from '../record/conflict';
import { fineWords, preciousIn } from '../reports/fine';
import { type StockRow, stockList } from '../reports/stock';
import { balanceLabel } from '../reports/wording';
import { stepWords } from '../reports/words';
import { findingsOf } from '../rules/findings';
import type { Section } from '../syntax/tree';
import type { Place } from '../text/place';
import { Report } from '../workshop/problem';
import { type Item, readTree } from '../workshop/tree';
import type { Workspace } from '../workspace/workspace';

export type Part = 'entries' | 'workshop' | 'lots' | 'balances' | 'on hand' | 'findings';

export interface Change {
  readonly part: Part;
  /** `melt M57`, `B57c`, a finding's words. */
  readonly what: string;
  readonly was: string | undefined;
  readonly now: string | undefined;
  /** In the later version, where it is there. */
  readonly place: Place | undefined;
}

/** Of a whole journal, or of one of its pages: then of what stands on that page, with what follows anywhere. */
export const changesBetween = (before: Workspace, after: Workspace, page?: string): readonly Change[] => [
  ...entryChanges(before, after, page),
  ...(page === undefined ? compared('workshop', valuesIn(before), valuesIn(after)) : []),
  ...compared('balances', balancesIn(before), balancesIn(after)),
  ...compared('lots', lotsIn(before), lotsIn(after)),
  ...compared('on hand', onHandIn(before), onHandIn(after)),
  ...findingChanges(before, after),
];

interface Said {
  readonly words: string;
  readonly place: Place | undefined;
}

type Table = ReadonlyMap<string, Said>;

const compared = (part: Part, was: Table, now: Table): readonly Change[] =>
  [...new Set([...now.keys(), ...was.keys()])].flatMap((what) => {
    const [old, is] = [was.get(what), now.get(what)];
    return old?.words === is?.words ? [] : [{ part, what, was: old?.words, now: is?.words, place: is?.place }];
  });

/** Entries by day, whatever page they stand on. */
const entryChanges = (before: Workspace, after: Workspace, page: string | undefined): readonly Change[] => {
  const [was, now] = [daysIn(before, page), daysIn(after, page)];
  return [...new Set([...was.keys(), ...now.keys()])].sort().flatMap((day) => {
    const [old, is] = [was.get(day), now.get(day)];
    if (old?.text === is?.text) return [];
    return differencesBetween({ ours: old?.text ?? '', theirs: is?.text ?? '' }).flatMap((one) =>
      entryChange(day, one, is?.entries ?? []),
    );
  });
};

const entryChange = (day: string, one: OfEntry, entries: readonly Entry[]): readonly Change[] => {
  const place = entries.find((entry) => nameOf(entry) === one.what)?.head;
  const what = `${day === '' ? '' : `${day} `}${one.what}`;
  if (one.kind === 'ours only') return [{ part: 'entries', what, was: 'there', now: undefined, place }];
  if (one.kind === 'theirs only') return [{ part: 'entries', what, was: undefined, now: 'new', place }];
  return one.lines.map(({ ours, theirs }) => ({ part: 'entries', what, was: ours, now: theirs, place }));
};

const nameOf = ({ prefix, verb, name }: Entry): string =>
  [prefix, verb, name?.name].filter((word) => word !== undefined).join(' ');

interface Day {
  readonly text: string;
  readonly entries: readonly Entry[];
}

const daysIn = ({ pages }: Workspace, page: string | undefined): ReadonlyMap<string, Day> => {
  const days = new Map<string, { texts: string[]; entries: Entry[] }>();
  for (const [file, { entries }] of [...pages].sort(([a], [b]) => (a < b ? -1 : 1))) {
    if (page !== undefined && file !== page) continue;
    for (const entry of entries) {
      const day = days.get(entry.date ?? '') ?? { texts: [], entries: [] };
      days.set(entry.date ?? '', day);
      day.texts.push(`${(entry.anchor as Section).text.trimEnd()}\n`);
      day.entries.push(entry);
    }
  }
  return new Map([...days].map(([date, { texts, entries }]) => [date, { text: texts.join(''), entries }]));
};

/** Every value of the workshop file, by its keys: `scales bench division`. */
const valuesIn = ({ workshopFile }: Workspace): Table => {
  const table = new Map<string, Said>();
  if (!workshopFile) return table;
  const { file, text } = workshopFile;
  const tree = readTree(text, new Report({ file }));
  const take = (item: Item, keys: readonly string[]): void => {
    if (item.kind === 'map') for (const { key, value } of item.pairs) value && take(value, [...keys, key]);
    else table.set(keys.join(' '), { words: text.slice(item.start, item.end).replace(/\s+/g, ' '), place: undefined });
  };
  if (tree) take(tree, []);
  return table;
};

const balancesIn = ({ pages, book, workshop }: Workspace): Table => {
  const table = new Map<string, Said>();
  for (const { entries } of pages.values()) {
    for (const entry of entries) {
      const step = entry.prefix ? undefined : book.step(entry);
      const words = step && balanceLabel(step, workshop);
      if (words) table.set(stepWords(entry), { words, place: entry.head });
    }
  }
  return table;
};

/** What each lot weighed when it came to be. */
const lotsIn = ({ book }: Workspace): Table => {
  const table = new Map<string, Said>();
  for (const name of book.lotNames()) {
    const birth = book.lot(name)?.births[0];
    if (birth)
      table.set(name, { words: birth.weight.mass ? showMass(birth.weight.mass) : 'not weighed', place: birth.place });
  }
  return table;
};

const onHandIn = (workspace: Workspace): Table => {
  const table = new Map<string, Said>();
  for (const { owner, rows } of stockList(workspace).owners)
    for (const row of rows) table.set(row.lot, { words: rowWords(row, owner), place: row.place });
  return table;
};

const rowWords = ({ amount, fine, at, with: party }: StockRow, owner: string): string =>
  [
    amount ? showMass(amount) : 'not weighed',
    ...preciousIn(fine).map((one) => `${one.metal} ${fineWords(one)}`),
    owner,
    ...(at === undefined ? [] : [`at ${at}`]),
    ...(party === undefined ? [] : [`with ${party}`]),
  ].join(', ');

/** A finding is the same where its entry and its words are: lines above it may have come and gone. */
const findingChanges = (before: Workspace, after: Workspace): readonly Change[] => {
  const [was, now] = [findingsIn(before), findingsIn(after)];
  return compared('findings', was, now);
};

const findingsIn = (workspace: Workspace): Table => {
  const table = new Map<string, Said>();
  for (const [file, page] of workspace.pages) {
    for (const { code, says, place } of findingsOf(workspace, file)) {
      const entry = page.bySection.get(place.anchor as Section);
      const what = `${entry ? `${nameOf(entry)}: ` : ''}${says} [${code}]`;
      table.set(what, { words: 'found', place });
    }
  }
  return table;
};

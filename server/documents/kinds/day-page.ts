/** One day on one page: what was done and how it balanced, what is still open, what is waited for, what can hurt. */
import { segmentsOf } from '../../engine/accounts/segments';
import type { Entry, Flow } from '../../engine/entry';
import { ownerShares, shareWords } from '../../reports/shares';
import { balanceLabel } from '../../reports/wording';
import { flowWords, listWords, stepWords } from '../../reports/words';
import { dayNumber, nextDate } from '../../text/calendar';
import { verb } from '../../vocabulary/verbs';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { ASSAY_COLUMNS, assayRow, readingWords } from '../assay-rows';
import { count, fine as fineCell, typed, typedMoney } from '../cells';
import { Refused } from '../choice';
import { heatDrawn } from '../drawn';
import { countedEntries } from '../entries';
import { type Block, type Row, type Section, section, table, words } from '../model';
import { waitingOn } from '../out';
import { cautionsSection, fact, findingsSection, notesOf, unfinishedSection } from '../parts';
import type { Kind } from './kind';

export const dayPage: Kind = {
  code: 'day-page',
  title: 'Day page',
  means: 'one day: what was done and how it balanced, what is open, what is waited for and since when',
  needs: 'day',
  takes: ['day'],
  make: (workspace, { day }) => {
    if (day === undefined) throw new Refused('A day page wants a day: --day 2026-05-04.');
    const entries = countedEntries(workspace).filter(({ date }) => date === day);
    const titles = dayTexts(workspace, day);
    const heats = entries.filter((entry) => verb(entry.verb)?.hot && !entry.prefix).length;
    return {
      title: `Day page: ${day}`,
      until: day,
      facts: [
        ...titles.flatMap((text) => fact('day', text)),
        ...fact('entries', count(entries.length)),
        ...fact('heats', heats > 0 ? count(heats) : undefined),
      ],
      sections: [
        ...section(
          'What was done',
          table(
            DONE,
            entries.map((entry) => doneRow(workspace, entry)),
          ),
        ),
        ...section('Heats', ...heatsOf(workspace, entries)),
        ...section('Assays', table(ASSAY_COLUMNS, entries.filter(({ verb: word }) => word === 'assay').map(assayRow))),
        ...notesOf(entries),
        ...unfinishedSection(workspace, entries),
        ...findingsSection(workspace, entries),
        ...waitingSection(workspace, day),
        ...customersSection(workspace, day),
        ...cautionsSection(workspace, entries),
      ],
    };
  },
};

/** Their time lines. */
const heatsOf = (workspace: Workspace, entries: readonly Entry[]): readonly (Block | undefined)[] =>
  entries.filter(({ prefix }) => !prefix).map((entry) => heatDrawn(workspace, workspace.book.account(entry).parts));

/** What stands behind the date. */
const dayTexts = ({ pages }: Workspace, day: string): readonly string[] => {
  const texts = [...pages.values()].flatMap(({ page }) =>
    page.sections
      .filter(({ kind, date }) => kind === 'day' && date === day)
      .map(({ text }) => text.split('\n')[0]!.trim().slice(day.length).trim()),
  );
  return texts.filter((text) => text !== '' && !text.startsWith('#'));
};

const DONE = [
  { head: 'what' },
  { head: 'from, to' },
  { head: 'went in, was added' },
  { head: 'came out' },
  { head: 'balance' },
  { head: 'hand' },
] as const;

/** Without its word such a lot would be taken for a product. */
const TOLD: ReadonlySet<string> = new Set(['back', 'found', 'missing']);

const doneRow = (workspace: Workspace, entry: Entry): Row => {
  const step = entry.prefix === 'more' ? undefined : workspace.book.step(entry);
  const flows = (word: readonly string[]): string =>
    entry.flows
      .filter((flow) => word.includes(flow.word))
      .map((flow) =>
        [
          flow.lot && TOLD.has(flow.word) ? flow.word : '',
          flowWords(flow),
          flow.amount ? typed(flow.amount) : usedWords(flow),
        ]
          .filter(Boolean)
          .join(' '),
      )
      .join(', ');
  const [first, last] = [entry.clocks[0], entry.clocks.at(-1)];
  return {
    cells: [
      words(
        [
          entry.prefix,
          stepWords(entry),
          entry.verb === 'count' && entry.said.at?.name,
          entry.verb === 'ship' && entry.party && `to ${entry.party.name}`,
        ]
          .filter(Boolean)
          .join(' '),
      ),
      words(first === last ? first?.time : `${first?.time ?? ''} to ${last?.time ?? ''}`),
      words(flows(['in', 'add'])),
      words(
        [
          flows(['out', 'back', 'found', 'missing', 'lost']),
          ...entry.readings.map(({ reading }) => readingWords(reading)),
          moneyWords(entry),
          entry.flows.length === 0 ? ownWords(entry) : '',
        ]
          .filter(Boolean)
          .join('; '),
      ),
      words(step && balanceLabel(step, workspace.workshop)),
      words(entry.said.hand?.name),
    ],
    place: entry.head,
  };
};

/** What was used, where it was weighed before and after. */
const usedWords = ({ said: { before, after } }: Flow): string =>
  before && after ? `${typed(before)} to ${typed(after)}` : '';

/** Of an entry without flows: its weight, its party, its money. */
const ownWords = (entry: Entry): string =>
  [
    ...entry.amounts.map(({ amount }) => typed(amount)),
    entry.amounts.length === 0 && entry.amount ? typed(entry.amount) : undefined,
    entry.party && `${entry.verb === 'receive' ? 'from' : entry.verb === 'assay' ? 'at' : 'with'} ${entry.party.name}`,
    entry.toLot && `to ${entry.toLot.name}`,
    entry.money &&
      `${entry.money.digits.text} ${entry.money.currency}${entry.money.per ? `/${entry.money.per.symbol}` : ''}`,
  ]
    .filter(Boolean)
    .join(' ');

/** Of a settlement or a bill: what it comes to, and when it was paid. */
const moneyWords = ({ verb: word, others }: Entry): string =>
  word === 'settle'
    ? others
        .flatMap(({ word: one, money, date }) =>
          one === 'total' && money
            ? [`total ${typedMoney(money).text}`]
            : one === 'paid' && date
              ? [`paid ${date}`]
              : [],
        )
        .join(', ')
    : '';

const isPast = ({ date }: Entry, day: string): boolean => (date ?? '') <= day;

/** Samples out, holds, shipments not settled: as the record stood at the end of the day. */
const waitingSection = (workspace: Workspace, day: string): readonly Section[] => {
  const past = countedEntries(workspace).filter((entry) => isPast(entry, day));
  const rows = [...samplesOut(workspace, past, day), ...holds(workspace, past, day), ...shipmentsOut(workspace, day)];
  const columns = ['what', 'waits for', 'since', 'days', 'due'];
  return section(
    'Waited for',
    table(
      columns.map((head, at) => ({ head, right: at === 3 })),
      rows,
    ),
  );
};

const daysSince = (date: string | undefined, day: string) =>
  date === undefined ? words('') : count(dayNumber(day) - dayNumber(date));

const dueWords = (due: string | undefined, day: string): string =>
  due === undefined ? '' : due < day ? `${due}: overdue` : due;

const samplesOut = (workspace: Workspace, past: readonly Entry[], day: string): readonly Row[] =>
  past.flatMap((entry) =>
    entry.flows.flatMap((flow): readonly Row[] => {
      const story = flow.lot && workspace.book.lot(flow.lot.name);
      if (flow.word !== 'out' || !flow.said.to || !flow.lot || !story || entry.verb !== 'sample') return [];
      const isHeardOf = story.events.some((event) => event.entry.anchor !== entry.anchor && isPast(event.entry, day));
      if (isHeardOf) return [];
      return [
        {
          cells: [
            words(flow.lot.name),
            words(`the assay of ${flow.said.to.name}`),
            words(entry.date),
            daysSince(entry.date, day),
            words(dueWords(flow.said.due, day)),
          ],
          place: flow.place,
        },
      ];
    }),
  );

const holds = (workspace: Workspace, past: readonly Entry[], day: string): readonly Row[] =>
  past.flatMap((entry): readonly Row[] => {
    const until = entry.said.holdUntil;
    const story = entry.name && workspace.book.lot(entry.name.name);
    if (until === undefined || until <= day || !entry.name || !story) return [];
    return [
      {
        cells: [
          words(entry.name.name),
          words('the end of its hold: not to be melted or sold'),
          words(entry.date),
          daysSince(entry.date, day),
          words(until),
        ],
        place: entry.head,
      },
    ];
  });

const daysAfter = (date: string, days: number): string =>
  Array.from({ length: days }).reduce<string>((day) => nextDate(day), date);

const shipmentsOut = (workspace: Workspace, day: string): readonly Row[] =>
  waitingOn(workspace, {}, day).map(({ head, party, agreedDays }): Row => {
    const agreed = head.date && agreedDays !== undefined ? daysAfter(head.date, agreedDays) : undefined;
    return {
      cells: [
        words(stepWords(head)),
        words(`the settlement${party ? ` of ${party}` : ''}`),
        words(head.date),
        daysSince(head.date, day),
        words(dueWords(head.said.due ?? agreed, day)),
      ],
      place: head.head,
    };
  });

/** Lots of others that are here, samples of them too, at which step, for how long. */
const customersSection = (workspace: Workspace, day: string): readonly Section[] => {
  const accounts = accountsOf(workspace);
  const rows = accounts.stock(day).flatMap(({ lot, segment, with: party, fine, last, ownership }): readonly Row[] => {
    const owners = accounts.namesOf(ownership).filter((name) => name !== accounts.shop);
    if (owners.length === 0) return [];
    const first = segmentsOf(segment.story).all[0]!.start.entry.date;
    const gold = fine.find(({ metal }) => metal === 'Au');
    // Of a pool theirs is a part of the gold that stands beside it.
    const shares = ownerShares(accounts.shares(segment), fine).filter(({ owner }) => owners.includes(owner));
    return [
      {
        cells: [
          words(lot),
          words(
            shares.length > 0 ? shares.map((one) => `${one.owner} ${shareWords(one)}`).join('; ') : listWords(owners),
          ),
          words(stepWords(last.entry)),
          words(first),
          daysSince(first, day),
          fineCell(gold),
          words(party && `with ${party.name}`),
        ],
        place: segment.start.place,
      },
    ];
  });
  const columns = ['lot', 'owner', 'last step', 'since', 'days', 'gold', 'where'];
  return section(
    "Customers' lots here",
    table(
      columns.map((head, at) => ({ head, right: at === 4 || at === 5 })),
      rows,
    ),
  );
};

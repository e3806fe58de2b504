/** Assays held against each other: of one metal in one lot, whose, by what method, how far apart; and over the record, who reads high. */
import { assayed, shareOf } from '../../engine/accounts/assays';
import { type Inexact, inexact, minus, spread } from '../../engine/accounts/inexact';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import type { Entry, Reading } from '../../engine/entry';
import { decimal } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import { historyTables } from '../../reports/history/history';
import { element } from '../../vocabulary/elements';
import { accountsOf } from '../../workspace/accounts';
import { longViewOf } from '../../workspace/long-view';
import type { Workspace } from '../../workspace/workspace';
import { ASSAY_COLUMNS, assayRow, methodOf, whoseAssay } from '../assay-rows';
import { percent } from '../cells';
import { type Choice, isWithin, periodWords } from '../choice';
import { chosenLot } from '../chosen';
import { drawn } from '../drawn';
import { countedEntries } from '../entries';
import { handsSection } from '../hands';
import { lookBack } from '../look-back';
import {
  type Cell,
  type Column,
  NOTHING,
  type Row,
  type Section,
  says,
  section,
  sentences,
  table,
  words,
} from '../model';
import { samplesSection } from '../samples';
import type { Kind } from './kind';

export const assayComparison: Kind = {
  code: 'assay-comparison',
  title: 'Assay comparison',
  means:
    'assays of the same metal by several methods and hands: how far apart, what splitting limit was agreed, who reads high over the record, and what samples took',
  takes: ['lot', 'from', 'to'],
  make: (workspace, choice) => {
    const groups =
      choice.lot === undefined
        ? lotsWithin(workspace, choice)
        : [ofLot(workspace, chosenLot(workspace, choice, 'assay comparison'))];
    const entries = [...new Set(groups.flatMap(({ assays }) => assays))].sort(byDay);
    return {
      title: `Assay comparison: ${choice.lot ?? periodWords(choice)}`,
      until: choice.to,
      facts: [],
      sections: [
        ...groups.flatMap((group) => [
          ...lotSection(workspace, group),
          ...handsSection(group.lot, group.assays, claimOf(group)),
        ]),
        ...aloneSection(workspace, groups),
        ...(choice.lot === undefined
          ? lookBack(
              historyTables(workspace, {
                by: 'kind',
                metals: ['Au', 'Ag'],
                part: 'assays',
                from: choice.from,
                to: choice.to,
              }),
            )
          : []),
        ...section(
          'Assay against assay',
          choice.lot === undefined && longViewOf(workspace).comparisons().length > 0
            ? drawn(workspace, { kind: 'assays' })
            : undefined,
        ),
        ...samplesSection(workspace, choice),
        ...section(
          'Every assay',
          table(ASSAY_COLUMNS, entries.map(assayRow)) ?? sentences([says('Nothing was assayed.')]),
        ),
      ],
    };
  },
};

interface Group {
  readonly lot: string;
  readonly segment: Segment;
  /** Of the lot and of its samples. */
  readonly assays: readonly Entry[];
}

const ofLot = (workspace: Workspace, lot: string): Group => {
  const segment = segmentsOf(workspace.book.lot(lot)!).all.at(-1)!;
  return { lot, segment, assays: accountsOf(workspace).metals.assays(segment) };
};

/** Lots with an assay in the period; of a sample, the lot that it speaks for. */
const lotsWithin = (workspace: Workspace, choice: Choice): readonly Group[] => {
  const { metals } = accountsOf(workspace);
  const groups = new Map<Segment, Group>();
  for (const name of workspace.book.lotNames()) {
    for (const segment of segmentsOf(workspace.book.lot(name)!).all) {
      if (metals.lineage.origin(segment).was && segment.start.entry.verb === 'sample') continue;
      const assays = metals.assays(segment);
      if (assays.some(({ date }) => isWithin(choice, date))) groups.set(segment, { lot: name, segment, assays });
    }
  }
  return [...groups.values()].sort((a, b) => byDay(a.assays[0]!, b.assays[0]!));
};

const byDay = (a: Entry, b: Entry): number =>
  (a.date ?? '') < (b.date ?? '') ? -1 : (a.date ?? '') > (b.date ?? '') ? 1 : 0;

/** Somebody's word on a share: an assay, a claim, a stamp, a settlement. */
interface Word {
  readonly whose: string;
  readonly by: string;
  readonly entry: Entry;
  readonly shares: ReadonlyMap<string, Inexact>;
}

const COLUMNS: readonly Column[] = [
  { head: 'metal' },
  { head: 'whose' },
  { head: 'by' },
  { head: 'day' },
  { head: 'found', right: true },
  { head: 'from the figure used', right: true },
  { head: 'in units of its ±', right: true },
];

const lotSection = (workspace: Workspace, { lot, segment, assays }: Group): readonly Section[] => {
  const used = accountsOf(workspace).metals.best(segment);
  const all = [...assays.map(asWord), ...saidOf(segment), ...settledOf(workspace, segment)];
  const metals = [...new Set(all.flatMap(({ shares }) => [...shares.keys()]))].filter((metal) => element(metal));
  const rows = metals.flatMap((metal): readonly Row[] => {
    const told = all.filter(({ shares }) => shares.has(metal));
    if (told.length < 2) return [];
    const best = used.get(metal)?.share;
    return [
      ...told.map(
        ({ whose, by, entry, shares }): Row => ({
          cells: [
            words(metal),
            words(whose),
            words(by),
            words(entry.date),
            percent(shares.get(metal)!),
            ...apart(shares.get(metal)!, best),
          ],
          place: entry.head,
        }),
      ),
      ...(best
        ? [
            {
              cells: [words(metal), words('the figure used'), NOTHING, NOTHING, percent(best, used.get(metal)!.ground)],
              total: true,
            } as const,
          ]
        : []),
    ];
  });
  return rows.length === 0 ? [] : section(lot, table(COLUMNS, rows), splitting(workspace, all));
};

/** Lots of which one alone has spoken. */
const aloneSection = (workspace: Workspace, groups: readonly Group[]): readonly Section[] => {
  const alone = groups.filter((group) => group.assays.length > 0 && lotSection(workspace, group).length === 0);
  const told = alone.map(({ lot, assays: [first] }) =>
    says(`${lot}: ${first ? `${methodOf(first)}, ${whoseAssay(first)}` : ''}`, first?.head),
  );
  return section('Of these one alone has spoken: nothing is held against it', sentences(told));
};

const asWord = (entry: Entry): Word => ({
  whose: whoseAssay(entry),
  by: methodOf(entry),
  entry,
  shares: new Map([...assayed(entry)].flatMap(([metal, { share }]) => (share ? [[metal, share]] : []))),
});

/** As it came in: our guess, their claim, the stamp. */
const saidOf = ({ start: { entry } }: Segment): readonly Word[] =>
  entry.verb !== 'receive'
    ? []
    : entry.others.flatMap(({ word, reading }) =>
        reading
          ? [
              {
                whose: word === 'claim' ? (entry.party?.name ?? 'theirs') : 'own',
                by: word,
                entry,
                shares: sharesIn(reading, word),
              },
            ]
          : [],
      );

/** What came with it: of a reference, its certificate. */
const claimOf = ({ segment }: Group): ReadonlyMap<string, number> =>
  new Map(
    saidOf(segment)
      .filter(({ by }) => by === 'claim')
      .flatMap(({ shares }) => [...shares].map(([metal, { value }]) => [metal, value] as const)),
  );

/** What they settled by. */
const settledOf = (workspace: Workspace, segment: Segment): readonly Word[] => {
  const shipments = new Set(
    segment.events.flatMap(({ kind, entry }) => (kind === 'shipped' && entry.name ? [entry.name.name] : [])),
  );
  return countedEntries(workspace)
    .filter(
      ({ verb, name }) =>
        verb === 'settle' && name !== undefined && (shipments.has(name.name) || name.name === segment.lot),
    )
    .flatMap((entry) =>
      entry.readings.map(({ reading }) => ({
        whose: entry.party?.name ?? shippedTo(segment, entry) ?? 'theirs',
        by: `settle ${entry.name!.name}`,
        entry,
        shares: sharesIn(reading, 'settle'),
      })),
    );
};

/** Where a settlement names nobody, it is theirs to whom the lot was shipped. */
const shippedTo = (segment: Segment, { name }: Entry): string | undefined =>
  segment.events.find(({ kind, entry }) => kind === 'shipped' && entry.name?.name === name?.name)?.entry.party?.name;

const sharesIn = ({ metals }: Reading, label: string): ReadonlyMap<string, Inexact> =>
  new Map(
    metals.flatMap(({ symbol, amount }): [string, Inexact][] => {
      const [first] = shareOf(amount);
      return first ? [[symbol.name, inexact(first.value, first.u, { label })]] : [];
    }),
  );

const apart = (of: Inexact, best: Inexact | undefined): readonly Cell[] => {
  if (!best) return [NOTHING, NOTHING];
  const difference = minus(of, best);
  const u = Math.max(spread(of), spread(difference));
  const points = 100 * difference.value;
  const times = u > 0 ? Math.abs(difference.value) / (2 * u) : 0;
  return [
    {
      text: `${points > 0 ? '+' : ''}${points === 0 ? '0' : decimal(points).toFixed(2)} points`,
      figure: { value: decimal(points).toFixed(4), unit: '%' },
    },
    { text: showDigits(decimal(times), 2), figure: { value: decimal(times).toFixed(3), unit: '1' } },
  ];
};

/** The limits that the parties to these assays agreed on. */
const splitting = (workspace: Workspace, all: readonly Word[]) => {
  const parties = new Set(all.flatMap(({ entry }) => entry.party?.name ?? []));
  const agreed = [...parties].flatMap((name) => {
    const terms = workspace.workshop.parties.get(name)?.terms.at(-1);
    return terms && terms.splitting.size > 0
      ? [
          says(
            `With ${name}, assays farther apart than ${[...terms.splitting].map(([metal, share]) => `${metal} ${share.times(100).toFixed()} points`).join(', ')} go to an umpire.`,
            terms.place,
          ),
        ]
      : [];
  });
  return sentences(agreed);
};

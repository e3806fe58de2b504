/** Assays held against each other: of one metal in one lot, whose, by what method, how far apart; and over the record, who reads high. */
import { assayed } from '../../engine/accounts/assays';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import type { Entry } from '../../engine/entry';
import { comparisonsOf, historyTables } from '../../reports/history/history';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { apartSection, said, type Word } from '../assay-apart';
import { ASSAY_COLUMNS, assayRow, methodOf, whoseAssay } from '../assay-rows';
import { togetherSections, wentAlone } from '../assay-together';
import { type Choice, isWithin, periodWords } from '../choice';
import { chosenLot } from '../chosen';
import { drawn } from '../drawn';
import { countedEntries } from '../entries';
import { handsSection } from '../hands';
import { lookBack } from '../look-back';
import { type Block, type Section, says, section, sentences, table } from '../model';
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
        ...togetherSections(workspace, choice),
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
        ...section('Assay against assay', ...(choice.lot === undefined ? pictures(workspace, choice) : [])),
        ...samplesSection(workspace, choice),
        ...section(
          'Every assay',
          table(ASSAY_COLUMNS, entries.map(assayRow)) ?? sentences([says('Nothing was assayed.')]),
        ),
      ],
    };
  },
};

/** Of gold, one for each who assayed it beside us, who did so most often first. */
const pictures = (workspace: Workspace, choice: Choice): readonly (Block | undefined)[] => {
  const { from, to } = choice;
  const ofGold = comparisonsOf(workspace, choice).filter(({ metal }) => metal === 'Au');
  const parties = new Set([...ofGold].sort((a, b) => b.pairs.length - a.pairs.length).map(({ party }) => party));
  return [...parties].slice(0, MOST_PICTURES).map((party) => drawn(workspace, { kind: 'assays', party, from, to }));
};

const MOST_PICTURES = 4;

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

const lotSection = (workspace: Workspace, { lot, segment, assays }: Group): readonly Section[] =>
  apartSection(
    workspace,
    lot,
    [...assays.map(asWord), ...saidOf(segment), ...settledOf(workspace, segment)],
    accountsOf(workspace).metals.best(segment),
  );

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
                ...said(reading, word),
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

/** What they settled by, where the lot went alone: their assay of several is nobody's own. */
const settledOf = (workspace: Workspace, segment: Segment): readonly Word[] => {
  const shipments = new Set(
    segment.events.flatMap(({ kind, entry }) =>
      kind === 'shipped' && entry.name && wentAlone(workspace, entry.name.name) ? [entry.name.name] : [],
    ),
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
        ...said(reading, 'settle'),
      })),
    );
};

/** Where a settlement names nobody, it is theirs to whom the lot was shipped. */
const shippedTo = (segment: Segment, { name }: Entry): string | undefined =>
  segment.events.find(({ kind, entry }) => kind === 'shipped' && entry.name?.name === name?.name)?.entry.party?.name;

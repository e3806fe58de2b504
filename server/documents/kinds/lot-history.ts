/** One lot from where it came in or was made to where it went: what it was made of, what happened to it, what it holds and how that is known. */
import { fromMeasured, type Inexact, spread } from '../../engine/accounts/inexact';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import { fineOf, standingOf } from '../../engine/accounts/stock';
import type { LotEvent, LotStory } from '../../engine/book';
import type { Entry } from '../../engine/entry';
import { decimal } from '../../quantity/decimal';
import { groundWords } from '../../reports/fine';
import { handoverLabel } from '../../reports/handover-wording';
import { isUnchecked, readingWords, reconciledIn, showsWords } from '../../reports/reconcile';
import { ownerShares, shareWords } from '../../reports/shares';
import { type TraceNode, traceOf } from '../../reports/trace';
import { stepWords } from '../../reports/words';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { ASSAY_COLUMNS, assayRow, shareCell } from '../assay-rows';
import { besides, fine as fineCell, goldAndSilver, mass, typed, typedMoney, weight, withoutGround } from '../cells';
import { chosenLot } from '../chosen';
import { drawn } from '../drawn';
import { counted } from '../entries';
import { eventWords, standingWords } from '../events';
import {
  type Block,
  type Column,
  type Fact,
  NOTHING,
  type Row,
  type Section,
  says,
  section,
  sentences,
  table,
  words,
} from '../model';
import { cautionsSection, fact, findingsSection, notesOf, proofFacts, saidWords, unfinishedSection } from '../parts';
import { whereWords } from '../still-out';
import type { Kind } from './kind';

export const lotHistory: Kind = {
  code: 'lot-history',
  title: 'Lot history',
  means: 'one lot from receipt to sale: what it was made of, every weighing, what it holds, where it went',
  needs: 'lot',
  takes: ['lot'],
  make: (workspace, choice) => {
    const lot = chosenLot(workspace, choice, 'lot history');
    const story = workspace.book.lot(lot)!;
    const segments = segmentsOf(story).all;
    const trace = traceOf(workspace, lot)!;
    const entries = [...new Set(story.events.flatMap(({ entry }) => counted(workspace, entry) ?? []))];
    const assays = [...new Set(segments.flatMap((one) => accountsOf(workspace).metals.assays(one)))];
    return {
      title: `Lot history: ${lot}`,
      until: story.events.at(-1)?.entry.date,
      facts: factsOf(workspace, story),
      sections: [
        ...holdsOf(workspace, story),
        ...section('The way of its metal', flowDrawn(workspace, lot, segments.at(-1)!)),
        ...section('What it was made of', treeOf(trace.from)),
        ...section('What became of it', treeOf(trace.to)),
        ...section('What happened to it', eventsOf(story)),
        ...section('Assays', table(ASSAY_COLUMNS, assays.map(assayRow))),
        ...weakest(workspace, lot),
        ...notesOf(entries),
        ...unfinishedSection(workspace, entries),
        ...findingsSection(workspace, entries),
        ...cautionsSection(workspace, entries),
      ],
    };
  },
};

/** Of its gold; of its silver where it has no gold to speak of. Of a lot that stands alone there is nothing to draw. */
const flowDrawn = (workspace: Workspace, lot: string, segment: Segment): Block | undefined => {
  const { metals } = accountsOf(workspace);
  const { passage, was } = metals.lineage.origin(segment);
  if (!passage && !was && metals.lineage.uses(segment).length === 0) return undefined;
  const metal = ['Au', 'Ag'].find((one) => (metals.best(segment).get(one)?.share?.value ?? 0) > LEAST_DRAWN);
  return metal === undefined ? undefined : drawn(workspace, { kind: 'flow', lot, metal });
};

/** A thousandth of a lot is no metal that anybody follows. */
const LEAST_DRAWN = 0.001;

const factsOf = (workspace: Workspace, story: LotStory): readonly Fact[] => {
  const accounts = accountsOf(workspace);
  const last = segmentsOf(story).all.at(-1)!;
  const standing = standingOf(story, story.events, accounts.metals.lineage);
  const owners = accounts.namesOf(accounts.ownedOn(last));
  const [birth] = story.births;
  const kind = last.start.flow?.kind ?? story.make?.kind ?? story.make?.material;
  const shares = ownerShares(accounts.shares(last), []);
  return [
    ...fact('what', kind),
    ...fact('owner', owners.length > 0 ? owners.join(' + ') : accounts.shop),
    ...shares.flatMap((one) => fact(`of it ${one.owner}`, shareWords(one))),
    ...fact(birth?.kind === 'received' ? 'came in' : 'made', birth && bornWords(birth), birth?.place),
    ...(birth?.kind === 'received' ? receivedFacts(birth.entry) : []),
    ...fact('now', standing ? standingWords(standing.at?.name, standing.with?.name) : whereWords(workspace, story)),
    ...(standing ? fact('weight', leftCell(standing.last)) : []),
  ];
};

const bornWords = ({ kind, entry }: LotEvent): string =>
  kind === 'received'
    ? [entry.date, entry.party && `from ${entry.party.name}`].filter(Boolean).join(' ')
    : `${entry.date ?? ''} in ${stepWords(entry)}`.trim();

/** What was said of it as it came in: a guess, a claim, a stamp, a price. */
const receivedFacts = (entry: Entry): readonly Fact[] => [
  ...entry.others.flatMap(({ word, reading, money, place }) =>
    reading
      ? fact(
          SAID_WORDS[word] ?? word,
          reading.metals.map(({ symbol, amount }) => `${symbol.name} ${typed(amount)}`).join(', '),
          place,
        )
      : word === 'bought' && money
        ? fact('bought for', typedMoney(money), place)
        : [],
  ),
  ...fact('hold until', entry.said.holdUntil),
  ...proofFacts(entry),
];

const SAID_WORDS: Readonly<Record<string, string>> = { expect: 'we expected', claim: 'they claimed', stamp: 'stamped' };

const leftCell = ({ after, weight: of }: LotEvent) => (after ? mass(after) : weight(of));

/** Of what is left; of a lot that is gone, of what there was. */
const holdsOf = (workspace: Workspace, story: LotStory): readonly Section[] => {
  const { metals } = accountsOf(workspace);
  const { unit } = workspace.workshop.reports;
  const last = segmentsOf(story).all.at(-1)!;
  const born = traceOf(workspace, story.name)!.self;
  const left =
    born.unit === 'gram' && !story.gone ? standingOf(story, story.events, metals.lineage)?.last.after : undefined;
  const holds = left ? { ...born, amount: left, fine: fineOf(metals.best(last), fromMeasured(left)) } : born;
  const columns = ['metal', 'share', 'fine weight', 'known'];
  const rows = [...metals.best(last)]
    .filter(([metal]) => metal !== TOGETHER || !metals.best(last).has('Au'))
    .map(([metal, known]): Row => {
      const grams = withoutGround(fineCell(holds.fine.find((one) => one.metal === metal)));
      return {
        cells: [
          words(metal),
          withoutGround(shareCell(known)),
          metal === 'Au' || metal === 'Ag' ? besides(grams, unit?.symbol, unit?.factor) : grams,
          words(groundWords(known.ground, known.by)),
        ],
        place: known.by[0]?.head,
      };
    });
  const whole = holds.amount ? mass(holds.amount, holds.unit === 'gram' ? 'g' : 'mL').text : 'a weight not known';
  return section(
    `What it ${story.gone ? 'held' : 'holds'}, of ${whole}`,
    table(
      columns.map((head, at) => ({ head, right: at === 1 || at === 2 })),
      rows,
    ),
    fromWhat(metals.best(last).get('Au')?.share, 'gold'),
  );
};

const TOGETHER = 'Au+Ag';

/** Where one more weighing or assay would help most: the causes of the ±, the largest first. */
const fromWhat = (share: Inexact | undefined, metal: string): Block | undefined => {
  const whole = share ? spread(share) ** 2 : 0;
  if (!share || whole === 0) return undefined;
  const causes = share.sources
    .map((source, at) => ({ label: source.label, part: share.sizes[at]! ** 2 / whole }))
    .filter(({ part }) => part > 0.05)
    .sort((a, b) => b.part - a.part)
    .map(({ label, part }) => `${label} ${decimal(100 * part).toFixed(0)} %`);
  return causes.length > 0
    ? sentences([says(`What the ± of its share of ${metal} comes from: ${causes.join(', ')}.`)])
    : undefined;
};

const TREE_COLUMNS: readonly Column[] = [
  { head: 'lot' },
  { head: 'kind' },
  { head: 'by' },
  { head: 'day' },
  { head: 'weight', right: true },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'so' },
];

const treeOf = (nodes: readonly TraceNode[]): Block | undefined => {
  const rows = (all: readonly TraceNode[], depth: number): readonly Row[] =>
    all.flatMap((node) => [nodeRow(node, depth), ...rows(node.next, depth + 1)]);
  return table(TREE_COLUMNS, rows(nodes, 0));
};

const nodeRow = ({ lot, kind, by, amount, unit, fine, place, discarded, told }: TraceNode, depth: number): Row => ({
  ...(depth > 0 ? { depth } : {}),
  cells: [
    words(lot),
    words(kind),
    words(by && stepWords(by)),
    words(by?.date),
    amount ? mass(amount, unit === 'gram' ? 'g' : 'mL') : NOTHING,
    ...goldAndSilver(fine),
    words([discarded && 'thrown away', told && 'as above'].filter(Boolean).join(', ')),
  ],
  place,
});

const EVENT_COLUMNS: readonly Column[] = [
  { head: 'day' },
  { head: 'what' },
  { head: 'weight', right: true },
  { head: 'left after it', right: true },
  { head: 'against the record' },
  { head: 'said' },
];

const eventsOf = ({ events, handovers }: LotStory): Block | undefined =>
  table(
    EVENT_COLUMNS,
    events.map((event): Row => {
      const handover = handovers.find(
        ({ to }) => to.place === event.place || (event.flow && to.place === event.flow.place),
      );
      const { entry, flow, weight: of, after } = event;
      return {
        cells: [
          words(entry.date),
          words(eventWords(event)),
          of.ground === 'unknown' ? NOTHING : weight(of),
          after ? mass(after) : NOTHING,
          words(handover && handoverLabel(handover)),
          words(saidWords(flow?.said ?? entry.said, flow)),
        ],
        place: event.place,
      };
    }),
  );

/** Readings of this lot in which an error would not show: one more weighing or assay helps there most. */
const weakest = (workspace: Workspace, lot: string): readonly Section[] => {
  const histories = reconciledIn(workspace, lot) ?? [];
  const alone = histories.flatMap(({ readings }) => readings.filter((one) => one.what === lot && isUnchecked(one)));
  return section(
    'What nothing checks',
    sentences(
      alone.map((one) =>
        says(
          `${readingWords(one)}: an error of it would ${one.shows === undefined ? 'never show' : `show only from ${showsWords(one)} on`}.`,
          one.place,
        ),
      ),
    ),
  );
};

/** Every bar by its number: what it weighed as it was cast, its fineness and what that rests on, where it is or went. */
import { fromMeasured } from '../../engine/accounts/inexact';
import type { Known } from '../../engine/accounts/known';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import { fineOf, standingOf } from '../../engine/accounts/stock';
import { groundWords } from '../../reports/fine';
import { listWords, stepWords } from '../../reports/words';
import { accountsOf } from '../../workspace/accounts';
import { inOrder } from '../../workspace/order';
import type { Workspace } from '../../workspace/workspace';
import { readingWords, shareCell } from '../assay-rows';
import { count, goldAndSilver, weight, withoutGround } from '../cells';
import { type Choice, isWithin, periodWords } from '../choice';
import { standingWords } from '../events';
import { type Column, NOTHING, type Row, says, section, sentences, table, words } from '../model';
import { fact } from '../parts';
import { whereWords } from '../still-out';
import type { Kind } from './kind';

export const barRegister: Kind = {
  code: 'bar-register',
  title: 'Bar register',
  means:
    'every bar by its number: weight as cast, fineness and what it rests on, marks and seals, whose, where it is or went',
  takes: ['from', 'to', 'owner'],
  make: (workspace, choice) => {
    const bars = barsIn(workspace, choice);
    const here = bars.filter(({ story: { gone } }) => !gone).length;
    return {
      title: `Bar register: ${choice.owner ? `${choice.owner}, ` : ''}${periodWords(choice)}`,
      until: choice.to,
      facts: [...fact('bars', count(bars.length)), ...fact('of them here', count(here))],
      sections: [
        ...section(
          'Bars',
          table(
            COLUMNS,
            bars.map((bar) => rowOf(workspace, bar)),
          ) ?? sentences([says('No bar is written in this period: `out NAME 112.05 g bar` makes one.')]),
          sentences(unassayed(workspace, bars)),
        ),
        ...section(
          'Marked and sealed',
          table(
            MARKS,
            bars.flatMap((bar) => markRow(bar) ?? []),
          ),
        ),
      ],
    };
  },
};

/** Made in the period, in the order in which they were; a bar that got a new name stands under each. */
const barsIn = (workspace: Workspace, choice: Choice): readonly Segment[] => {
  const order = new Map(
    [...workspace.pages.values()]
      .flatMap(({ entries }) => entries)
      .sort(inOrder(workspace.pages))
      .map(({ anchor }, at) => [anchor, at]),
  );
  return [...workspace.book.lotNames()]
    .flatMap((name) => segmentsOf(workspace.book.lot(name)!).all.findLast((one) => isBar(workspace, one)) ?? [])
    .filter(
      (bar) =>
        isWithin(choice, bar.start.entry.date) &&
        (choice.owner === undefined || ownersOf(workspace, bar).includes(choice.owner)),
    )
    .sort((a, b) => (order.get(a.start.entry.anchor) ?? 0) - (order.get(b.start.entry.anchor) ?? 0));
};

/** A cast piece; under a new name it is one still. */
const isBar = (workspace: Workspace, segment: Segment): boolean => {
  const { start, story } = segment;
  if ((start.flow?.kind ?? story.make?.kind) === 'bar') return true;
  const was = start.kind === 'renamed' ? accountsOf(workspace).metals.lineage.origin(segment).was : undefined;
  return was !== undefined && was.story !== story && isBar(workspace, was);
};

const ownersOf = (workspace: Workspace, bar: Segment): readonly string[] => {
  const accounts = accountsOf(workspace);
  const owners = accounts.namesOf(accounts.ownedOn(bar));
  return owners.length > 0 ? owners : [accounts.shop];
};

const COLUMNS: readonly Column[] = [
  { head: 'bar' },
  { head: 'day' },
  { head: 'made in' },
  { head: 'owner' },
  { head: 'weight', right: true },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'fine gold', right: true },
  { head: 'fine silver', right: true },
  { head: 'fineness by' },
  { head: 'now' },
];

const rowOf = (workspace: Workspace, bar: Segment): Row => {
  const { metals } = accountsOf(workspace);
  const { story, start, lot } = bar;
  const best = metals.best(bar);
  const [gold, silver] = [best.get('Au'), best.get('Ag')];
  const [fineGold, fineSilver] = goldAndSilver(fineOf(best, start.weight.mass && fromMeasured(start.weight.mass)));
  const main = mainOf(best);
  const standing = standingOf(story, story.events, metals.lineage);
  return {
    cells: [
      words(lot),
      words(start.entry.date),
      words(stepWords(start.entry)),
      words(ownersOf(workspace, bar).join(' + ')),
      weight(start.weight),
      gold ? withoutGround(shareCell(gold)) : NOTHING,
      silver ? withoutGround(shareCell(silver)) : NOTHING,
      withoutGround(fineGold),
      withoutGround(fineSilver),
      words(main ? basisWords(main) : ''),
      words(standing ? standingWords(standing.at?.name, standing.with?.name) : whereWords(workspace, story)),
    ],
    place: start.place,
  };
};

/** The metal that the bar is of: fineness is that of a silver bar's silver, not of the gold in it. */
const mainOf = (best: Metals): Known | undefined => {
  const [gold, silver] = [best.get('Au'), best.get('Ag')];
  return gold && silver && leastOf(silver) > leastOf(gold) ? silver : (gold ?? silver);
};

type Metals = ReadonlyMap<string, Known>;

const leastOf = ({ share, low }: Known): number => share?.value ?? low;

const basisWords = ({ ground, by }: Known): string => {
  const parties = ground === 'assayed' ? [...new Set(by.flatMap(({ party }) => party?.name ?? []))] : [];
  return `${groundWords(ground, by)}${parties.length > 0 ? ` at ${listWords(parties, parties.length)}` : ''}`;
};

/** A fineness that no assay gave is not one to stamp. */
const unassayed = (workspace: Workspace, bars: readonly Segment[]) => {
  const { metals } = accountsOf(workspace);
  return bars.flatMap((bar) => {
    const main = mainOf(metals.best(bar));
    if (main?.ground === 'assayed') return [];
    return [
      says(
        `${bar.lot}: its fineness rests on no assay of its own${main ? ` but is ${groundWords(main.ground, main.by)}` : ''}.`,
        bar.start.place,
      ),
    ];
  });
};

const MARKS: readonly Column[] = [{ head: 'bar' }, { head: 'stamp' }, { head: 'sealed' }, { head: 'note' }];

const markRow = ({ lot, events, start }: Segment): Row | undefined => {
  const all = <Item>(pick: (event: (typeof events)[number]) => readonly Item[]): readonly Item[] => [
    ...new Set(events.flatMap(pick)),
  ];
  const stamps = all(({ entry, kind }) =>
    kind === 'named' || kind === 'received'
      ? entry.others.flatMap(({ word, reading }) => (word === 'stamp' && reading ? [readingWords(reading)] : []))
      : [],
  );
  const seals = all(({ entry, flow }) =>
    [flow?.said.sealed?.name, entry.said.sealed?.name].filter((one) => one !== undefined),
  );
  const notes = all(({ flow }) => (flow?.lot?.name === lot ? (flow.said.notes ?? []) : []));
  if (stamps.length + seals.length + notes.length === 0) return undefined;
  return {
    cells: [words(lot), words(stamps.join('; ')), words(seals.join(', ')), words(notes.join('; '))],
    place: start.place,
  };
};

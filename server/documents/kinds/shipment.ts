/** What goes out in one shipment: each lot with its weight and what it should hold, seals, what was kept here; and what they said of it later. */
import { shareOf } from '../../engine/accounts/assays';
import { fromMeasured, inexact, minus, sum as sumOf } from '../../engine/accounts/inexact';
import type { Segment } from '../../engine/accounts/segments';
import { type Fine, fineOf } from '../../engine/accounts/stock';
import type { Weight } from '../../engine/book';
import type { Entry, Flow, OtherDetail } from '../../engine/entry';
import { recorded, UNKNOWN, weighAmount } from '../../engine/weigh';
import { add, subtract } from '../../quantity/measured';
import { stepWords } from '../../reports/words';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { ASSAY_COLUMNS, assayRow } from '../assay-rows';
import { besides, goldAndSilver, grams, mass, percent, typed, typedMoney, weight } from '../cells';
import { chosenEntry } from '../chosen';
import { countedEntries } from '../entries';
import {
  type Cell,
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
import { cautionsSection, fact, findingsSection, notesOf, proofFacts, saidWords } from '../parts';
import type { Kind } from './kind';

export const shipment: Kind = {
  code: 'shipment',
  title: 'Shipment list',
  means:
    'one shipment: lots, weights, expected fine metal, seals, insurance, samples kept, and what the other side found',
  needs: 'entry',
  takes: ['entry'],
  make: (workspace, choice) => {
    const entry = chosenEntry(workspace, choice, 'shipment list', ({ verb }) => verb === 'ship');
    const { parts } = workspace.book.account(entry);
    const lots = parts.flatMap(({ flows }) => flows.filter(({ word }) => word === 'in'));
    const segments = lots.flatMap((flow) => accountsOf(workspace).metals.lineage.segment(flow) ?? []);
    const assays = [...new Set(segments.flatMap((one) => accountsOf(workspace).metals.assays(one)))];
    const settled = countedEntries(workspace).filter(
      ({ verb, name }) => verb === 'settle' && name?.name === entry.name?.name,
    );
    return {
      title: `Shipment list: ${entry.name?.name ?? ''}`,
      until: settled.at(-1)?.date ?? parts.at(-1)?.date,
      facts: parts.flatMap((part) => factsOf(workspace, part)),
      sections: [
        ...section('What goes', table(COLUMNS, rowsOf(workspace, parts))),
        ...section('Assays that it rests on', table(ASSAY_COLUMNS, assays.map(assayRow))),
        ...keptSection(workspace, parts),
        ...settled.flatMap((one) => settledSection(workspace, one, goingIn(workspace, parts))),
        ...notesOf(parts),
        ...section(
          'Handed over',
          sentences([says('Day and hour, name and hand of whoever takes it: ______________________________')]),
        ),
        ...findingsSection(workspace, [...parts, ...settled]),
        ...cautionsSection(workspace, parts),
      ],
    };
  },
};

const factsOf = ({ workshop }: Workspace, entry: Entry): readonly Fact[] => {
  const { said } = entry;
  const packed = weightsOf(entry).map(({ amount, said: own }) => weighAmount(amount, own, workshop, 'package'));
  return [
    ...fact('day', [entry.date, entry.clocks[0]?.time].filter(Boolean).join(' '), entry.head),
    ...fact('to', entry.party?.name),
    ...fact('seal', said.sealed?.name),
    ...fact('insured for', said.insured && typedMoney(said.insured)),
    ...packed.flatMap((one) => [
      ...(one.gross ? fact('package, gross', mass(one.gross)) : []),
      ...(one.tare ? fact('package, tare', mass(one.tare)) : []),
      ...(one.mass && one.gross ? fact('package, net', mass(one.mass)) : []),
    ]),
    ...proofFacts(entry),
  ];
};

const weightsOf = (entry: Entry) =>
  entry.amounts.length > 0 ? entry.amounts : entry.amount ? [{ amount: entry.amount, said: entry.said }] : [];

const COLUMNS: readonly Column[] = [
  { head: 'lot' },
  { head: 'kind' },
  { head: 'weight', right: true },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'owner' },
  { head: 'said' },
];

interface Going {
  readonly flow: Flow;
  readonly segment: Segment | undefined;
  readonly weight: Weight;
  readonly fine: readonly Fine[];
}

/** Each lot that goes, with what it weighs as it goes: what was written, else what the record has left of it. */
const goingIn = (workspace: Workspace, parts: readonly Entry[]): readonly Going[] => {
  const { metals } = accountsOf(workspace);
  return parts.flatMap(({ flows }) =>
    flows.flatMap((flow): readonly Going[] => {
      if (flow.word !== 'in' || flow.none || !flow.lot) return [];
      const segment = metals.lineage.segment(flow);
      const event = segment?.events.find((one) => one.flow === flow);
      const own = event?.weight ?? UNKNOWN;
      const of = own.mass || own.volume ? own : recorded(event?.before, 'carried');
      const fine = segment && of.mass ? fineOf(metals.best(segment), fromMeasured(of.mass)) : [];
      return [{ flow, segment, weight: of, fine }];
    }),
  );
};

const rowsOf = (workspace: Workspace, parts: readonly Entry[]): readonly Row[] => {
  const accounts = accountsOf(workspace);
  const { unit } = workspace.workshop.reports;
  const going = goingIn(workspace, parts);
  const rows = going.map(({ flow, segment, weight: of, fine }): Row => {
    const owners = segment ? accounts.namesOf(accounts.owners(segment)) : [];
    return {
      cells: [
        words(flow.lot!.name),
        words(segment?.start.flow?.kind ?? segment?.story.make?.kind),
        weight(of),
        ...goldAndSilver(fine),
        words(owners.length > 0 ? owners.join(' + ') : accounts.shop),
        words(saidWords(flow.said, flow)),
      ],
      place: flow.place,
    };
  });
  const masses = going.flatMap((one) => one.weight.mass ?? []);
  if (masses.length === 0) return rows;
  const sum = (metal: string): Cell => {
    const all = going.flatMap(({ fine }) => fine.find((one) => one.metal === metal && one.grams)?.grams ?? []);
    return all.length > 0 ? besides(grams(sumOf(all)), unit?.symbol, unit?.factor) : NOTHING;
  };
  const together = besides(mass(add(...masses)), unit?.symbol, unit?.factor);
  return [...rows, { cells: [words('together'), NOTHING, together, sum('Au'), sum('Ag')], total: true }];
};

/** Samples of what goes that are still here, or with somebody. */
const keptSection = (workspace: Workspace, parts: readonly Entry[]): readonly Section[] => {
  const { lineage } = accountsOf(workspace).metals;
  const going = new Set(parts.flatMap(({ flows }) => flows.flatMap((flow) => lineage.segment(flow) ?? [])));
  const rows = accountsOf(workspace)
    .stock()
    .filter(({ segment }) => {
      const { was } = lineage.origin(segment);
      return was !== undefined && segment.start.entry.verb === 'sample' && going.has(was);
    })
    .map(
      ({ lot, amount, unit, fine, at, with: party, segment }): Row => ({
        cells: [
          words(lot),
          words(segment.start.flow?.kind),
          amount ? mass(amount, unit === 'gram' ? 'g' : 'mL') : words('?'),
          ...goldAndSilver(fine),
          NOTHING,
          words(
            [
              at && `at ${at.name}`,
              party ? `with ${party.name}` : 'kept here',
              segment.start.flow && saidWords({ notes: segment.start.flow.said.notes ?? [] }),
            ]
              .filter(Boolean)
              .join(', '),
          ),
        ],
        place: segment.start.place,
      }),
    );
  return section('Samples of it that do not go', table(COLUMNS, rows));
};

const SETTLED: readonly Column[] = [
  { head: 'what' },
  { head: 'their figure', right: true },
  { head: 'ours', right: true },
  { head: 'theirs less ours', right: true },
];

/** Their figures as the journal has them, against ours. */
const settledSection = (workspace: Workspace, entry: Entry, going: readonly Going[]): readonly Section[] => {
  const masses = going.flatMap((one) => one.weight.mass ?? []);
  const ours = masses.length > 0 ? add(...masses) : undefined;
  const rows = entry.others.map((other): Row => {
    const { word, amounts, place } = other;
    const theirs =
      amounts[0] && WEIGHTS.has(word) ? weighAmount(amounts[0], {}, workspace.workshop, word).mass : undefined;
    const cells = theirs && ours ? [mass(theirs), mass(ours), mass(subtract(theirs, ours))] : [words(dealWords(other))];
    return { cells: [words(word), ...cells], place };
  });
  const [only, ...others] = going;
  const segment = others.length === 0 ? only?.segment : undefined;
  const found = entry.readings.flatMap(({ reading }) =>
    reading.metals.map(({ symbol, amount }): Row => {
      const own = segment && accountsOf(workspace).metals.best(segment).get(symbol.name)?.share;
      const [theirs] = shareOf(amount);
      const apart = own && theirs && minus(inexact(theirs.value, theirs.u, { label: 'settlement' }), own);
      return {
        cells: [
          words(`assay, ${symbol.name}`),
          words(typed(amount)),
          own ? percent(own) : NOTHING,
          apart ? percent(apart) : NOTHING,
        ],
        place: reading.place,
      };
    }),
  );
  const title = `What they said: ${stepWords(entry)}${entry.date ? `, ${entry.date}` : ''}`;
  return section(title, table(SETTLED, [...found, ...rows]));
};

const WEIGHTS: ReadonlySet<string> = new Set(['received', 'melted']);

/** `Au 98.5 %`, `refining 0.30 USD/g of melted`, `2026-07-04`. */
const dealWords = ({ names, amounts, money, date }: OtherDetail): string => {
  const [first, ...rest] = names.map(({ name }) => name);
  return [
    first,
    ...amounts.map(typed),
    money && typedMoney(money).text,
    rest.length > 0 && `of ${rest.join(' ')}`,
    date,
  ]
    .filter(Boolean)
    .join(' ');
};

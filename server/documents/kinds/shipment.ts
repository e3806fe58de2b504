import { sum as sumOf } from '../../engine/accounts/inexact';
import type { Entry } from '../../engine/entry';
import { weighAmount } from '../../engine/weigh';
import { add } from '../../quantity/measured';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { ASSAY_COLUMNS, assayRow } from '../assay-rows';
import { besides, goldAndSilver, grams, mass, typedMoney, weight } from '../cells';
import { chosenEntry } from '../chosen';
import { countedEntries } from '../entries';
import { goingIn } from '../going';
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

import { settledSections } from '../settled';
import { worth } from '../worth';
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
      facts: [...parts.flatMap((part) => factsOf(workspace, part)), ...exposed(workspace, parts)],
      sections: [
        ...section('What goes', table(COLUMNS, rowsOf(workspace, parts))),
        ...section('Assays that it rests on', table(ASSAY_COLUMNS, assays.map(assayRow))),
        ...keptSection(workspace, parts),
        ...settled.flatMap((one) => settledSections(workspace, one, goingIn(workspace, parts))),
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

/** What would be lost on the way, beside what it is insured for. */
const exposed = (workspace: Workspace, parts: readonly Entry[]): readonly Fact[] => {
  const fine = goingIn(workspace, parts).flatMap((one) => one.fine);
  return fact('worth in full', worth(workspace, parts[0]?.date ?? '', fine));
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

const rowsOf = (workspace: Workspace, parts: readonly Entry[]): readonly Row[] => {
  const accounts = accountsOf(workspace);
  const { unit } = workspace.workshop.reports;
  const going = goingIn(workspace, parts);
  const rows = going.map(({ flow, segment, weight: of, fine }): Row => {
    const owners = segment ? accounts.namesOf(accounts.ownedOn(segment)) : [];
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

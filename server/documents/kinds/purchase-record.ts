/** What was bought or taken in, entry by entry as a purchase book has it. Local law says what it must hold; this holds what the journal says. */

import { fromMeasured } from '../../engine/accounts/inexact';
import { segmentsOf } from '../../engine/accounts/segments';
import { fineOf } from '../../engine/accounts/stock';
import type { Entry } from '../../engine/entry';
import { decimal } from '../../quantity/decimal';
import { accountsOf } from '../../workspace/accounts';
import { boughtByBill } from '../../workspace/selling/bought';
import type { Workspace } from '../../workspace/workspace';
import { methodOf, readingWords } from '../assay-rows';
import { count, goldAndSilver, mass, moneyCell, moneySum, typedMoney, weight } from '../cells';
import { periodWords } from '../choice';
import { entriesWithin } from '../entries';
import { eventWords } from '../events';
import { type Cell, type Column, NOTHING, type Row, says, section, sentences, table, words } from '../model';
import { fact, findingsSection } from '../parts';
import type { Kind } from './kind';

export const purchaseRecord: Kind = {
  code: 'purchase-record',
  title: 'Purchase record',
  means:
    'what was bought or taken in: day and hour, from whom, description, marks, weight, test, price, hold, proof, and what became of it',
  takes: ['from', 'to', 'party'],
  make: (workspace, choice) => {
    const own = (name: string | undefined): boolean =>
      name !== undefined && workspace.workshop.parties.get(name)?.role === 'own';
    const entries = entriesWithin(workspace, choice).filter(
      ({ verb, party, prefix }) =>
        verb === 'receive' &&
        !prefix &&
        !own(party?.name) &&
        (choice.party === undefined || party?.name === choice.party),
    );
    const paid = entries.flatMap(({ others }) =>
      others.flatMap(({ word, money }) => (word === 'bought' && money ? [money] : [])),
    );
    const billed = entries.flatMap((entry) => boughtByBill(workspace, entry) ?? []);
    const bills = [...new Map(billed.map((one) => [one.bill, one])).values()];
    return {
      title: `Purchase record: ${choice.party ? `${choice.party}, ` : ''}${periodWords(choice)}`,
      until: choice.to,
      facts: [
        ...fact('entries', count(entries.length)),
        ...moneySum(paid).flatMap((sum) => fact('paid together', sum)),
      ],
      sections: [
        ...section(
          'What came in',
          table(
            COLUMNS,
            entries.map((entry, at) => rowOf(workspace, entry, at + 1)),
          ) ?? sentences([says('Nothing was bought or taken in.')]),
          sentences(
            bills.map(({ bill, lots, paid: money }) =>
              says(
                `${lots}: ${moneyCell(money).text} paid for its metal by the bill of ${bill.date}; charges for work stand there.`,
                bill.head,
              ),
            ),
          ),
        ),
        ...section('Who gave it, and what shows it', table(PROOF, entries.map(proofRow))),
        ...section(
          'Holds, tests and what became of it',
          table(
            AFTER,
            entries.map((entry) => afterRow(workspace, entry)),
          ),
        ),
        ...findingsSection(workspace, entries),
        ...section(
          'Mind',
          sentences([
            says(
              'Local law says what such a record must hold, how long it is kept and to whom it is shown; this one holds what the journal says.',
            ),
          ]),
        ),
      ],
    };
  },
};

const COLUMNS: readonly Column[] = [
  { head: 'number' },
  { head: 'day' },
  { head: 'lot' },
  { head: 'what' },
  { head: 'pieces', right: true },
  { head: 'gross', right: true },
  { head: 'tare', right: true },
  { head: 'net', right: true },
  { head: 'marks and words' },
  { head: 'paid', right: true },
  { head: 'a gram', right: true },
];

const rowOf = (workspace: Workspace, entry: Entry, number: number): Row => {
  const birth = bornOf(workspace, entry);
  const bought = entry.others.find(({ word, money }) => word === 'bought' && money)?.money;
  const net = birth?.weight.mass;
  const rate = bought && net?.value.greaterThan(0) ? bought.digits.value.div(net.value) : undefined;
  const marks = entry.others.flatMap(({ word, reading }) => (reading ? [`${word} ${readingWords(reading)}`] : []));
  return {
    cells: [
      count(number),
      words([entry.date, entry.clocks[0]?.time].filter(Boolean).join(' ')),
      words(entry.name?.name),
      words(entry.others.find(({ word }) => word === 'material')?.names[0]?.name),
      entry.said.pieces
        ? { text: entry.said.pieces.text, figure: { value: entry.said.pieces.value.toFixed(), unit: '' } }
        : NOTHING,
      birth?.weight.gross ? mass(birth.weight.gross) : NOTHING,
      birth?.weight.tare ? mass(birth.weight.tare) : NOTHING,
      birth ? weight(birth.weight) : words('?'),
      words(marks.join('; ')),
      bought ? typedMoney(bought) : boughtByBill(workspace, entry) ? words('by a bill') : NOTHING,
      rate && bought
        ? {
            text: `${rate.toFixed(2)} ${bought.currency}/g`,
            figure: { value: decimal(rate.toFixed(4)).toFixed(), unit: `${bought.currency}/g` },
          }
        : NOTHING,
    ],
    place: entry.head,
  };
};

const bornOf = ({ book }: Workspace, entry: Entry) =>
  entry.name && book.lot(entry.name.name)?.births.find(({ entry: own }) => own.anchor === entry.anchor);

const PROOF: readonly Column[] = [
  { head: 'lot' },
  { head: 'from' },
  { head: 'owner' },
  { head: 'hand' },
  { head: 'witness' },
  { head: 'photo' },
  { head: 'paper' },
  { head: 'kept at' },
  { head: 'note' },
];

const proofRow = (entry: Entry): Row => {
  const { said } = entry;
  const names = (all: readonly { readonly name: string }[] | undefined): Cell =>
    words(all?.map(({ name }) => name).join(', '));
  return {
    cells: [
      words(entry.name?.name),
      words(entry.party?.name),
      words(said.owner?.name),
      words(said.hand?.name),
      words(said.witness?.name),
      names(said.photos),
      names(said.papers),
      words(said.at?.name),
      words([...(said.because ? [said.because] : []), ...(said.notes ?? [])].join('; ')),
    ],
    place: entry.head,
  };
};

const AFTER: readonly Column[] = [
  { head: 'lot' },
  { head: 'hold until' },
  { head: 'first used' },
  { head: 'so' },
  { head: 'tested' },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
];

const USES: ReadonlySet<string> = new Set(['used', 'part-used', 'shipped', 'sold', 'discarded', 'renamed']);

const afterRow = (workspace: Workspace, entry: Entry): Row => {
  const story = entry.name && workspace.book.lot(entry.name.name);
  const accounts = accountsOf(workspace);
  const segment = story && segmentsOf(story).all.find(({ start }) => start.entry.anchor === entry.anchor);
  const use = segment?.events.find(({ kind }) => USES.has(kind));
  const { holdUntil } = entry.said;
  const early = use && holdUntil !== undefined && (use.entry.date ?? '') < holdUntil;
  const amount = segment?.start.weight.mass;
  const tests = segment
    ? accounts.metals.assays(segment).map((one) => [methodOf(one), one.party?.name].filter(Boolean).join(' at '))
    : [];
  return {
    cells: [
      words(entry.name?.name),
      words(holdUntil),
      words(use?.entry.date),
      words(
        use
          ? `${eventWords(use)}${early ? ': before the hold was over' : ''}`
          : holdUntil === undefined
            ? 'still here'
            : `still here, ${accounts.lastDate >= holdUntil ? 'free' : 'held'}`,
      ),
      words(tests.join(', ')),
      ...goldAndSilver(segment && amount ? fineOf(accounts.metals.best(segment), fromMeasured(amount)) : []),
    ],
    place: use?.place ?? entry.head,
  };
};

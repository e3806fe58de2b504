import { lentIn, withoutLent } from '../../engine/accounts/lent';
import type { Passing } from '../../engine/accounts/passage';
import type { Segment } from '../../engine/accounts/segments';
import type { Fine } from '../../engine/accounts/stock';
import { isMetalKind } from '../../engine/charge';
import type { Entry } from '../../engine/entry';
import { termLines } from '../../reports/selling/terms';
import { lentWords, ownerShares, shareWords } from '../../reports/shares';
import { type StockRow, stockList } from '../../reports/stock';
import { stepWords } from '../../reports/words';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { ASSAY_COLUMNS, assayRow, readingWords } from '../assay-rows';
import { goldAndSilver, mass, typedMoney, weight } from '../cells';
import { type Choice, isWithin, meant, periodWords, Refused } from '../choice';
import { fineFor, fineSections, LEAVES, ownedBy, ownersIn } from '../customer';
import { entriesWithin } from '../entries';
import { eventWords } from '../events';
import { type Column, NOTHING, quotes, type Row, type Section, says, section, sentences, table, words } from '../model';
import { fact, findingsSection, saidWords } from '../parts';
import { tollSections } from '../toll-account';
import type { Kind } from './kind';

export const tollStatement: Kind = {
  code: 'toll-statement',
  title: "Customer's toll statement",
  means:
    "a customer's metal: received, after the melt, assays, fine metal, returned, still here, by-products and whose they are",
  needs: 'party',
  takes: ['party', 'from', 'to'],
  make: (workspace, choice) => {
    const { party } = choice;
    if (party === undefined) throw new Refused('A toll statement wants a customer: --party NAME.');
    const owned = ownedBy(workspace, party);
    if (owned.length === 0)
      throw new Refused(`No lot in this journal belongs to ${party}.${meant(party, ownersIn(workspace))}`);
    const received = owned.filter(({ start }) => start.kind === 'received' && isWithin(choice, start.entry.date));
    const entries = [...new Set(owned.flatMap(({ events }) => events.map(({ entry }) => entry)))].filter(({ date }) =>
      isWithin(choice, date),
    );
    const assays = [...new Set(owned.flatMap((one) => accountsOf(workspace).metals.assays(one)))].filter(({ date }) =>
      isWithin(choice, date),
    );
    return {
      title: `Toll statement: ${party}`,
      until: choice.to,
      facts: [...fact('for', party), ...fact('period', periodWords(choice))],
      sections: [
        ...section('Received', table(RECEIVED, received.map(receivedRow))),
        ...section(
          'What became of it',
          table(
            MOVED,
            owned
              .filter((one) => isWithin(choice, one.start.entry.date) && one.start.kind !== 'received')
              .map((one) => madeRow(workspace, one, party)),
          ),
        ),
        ...section('Assays', table(ASSAY_COLUMNS, assays.map(assayRow))),
        ...fineSections(workspace, party, owned, choice),
        ...section('Returned and sent on', table(MOVED, leftRows(workspace, owned, choice, party))),
        ...hereSection(workspace, party, choice),
        ...bySection(workspace, owned, party),
        ...tollSections(workspace, party, choice),
        ...agreedSection(workspace, party),
        ...saidSection(workspace, party, choice),
        ...findingsSection(workspace, entries),
      ],
    };
  },
};

const RECEIVED: readonly Column[] = [
  { head: 'lot' },
  { head: 'day' },
  { head: 'what' },
  { head: 'gross', right: true },
  { head: 'tare', right: true },
  { head: 'net', right: true },
  { head: 'they said' },
  { head: 'said' },
];

const receivedRow = ({ lot, story, start }: Segment): Row => {
  const { entry, weight: of } = start;
  const words_ = entry.others.flatMap(({ word, reading }) => (reading ? [`${word} ${readingWords(reading)}`] : []));
  const proof = [
    entry.said.witness && `seen by ${entry.said.witness.name}`,
    ...(entry.said.photos ?? []).map(({ name }) => name),
    ...(entry.said.papers ?? []).map(({ name }) => name),
  ];
  return {
    cells: [
      words(lot),
      words([entry.date, entry.clocks[0]?.time].filter(Boolean).join(' ')),
      words(story.make?.material),
      of.gross ? mass(of.gross) : NOTHING,
      of.tare ? mass(of.tare) : NOTHING,
      weight(of),
      words(words_.join('; ')),
      words([saidWords(entry.said), ...proof].filter(Boolean).join(', ')),
    ],
    place: start.place,
  };
};

const MOVED: readonly Column[] = [
  { head: 'lot' },
  { head: 'kind' },
  { head: 'day' },
  { head: 'how' },
  { head: 'weight', right: true },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'said' },
];

const madeRow = (workspace: Workspace, segment: Segment, party: string): Row => {
  const { start, lot } = segment;
  const fine = fineFor(workspace, segment, start.weight);
  return {
    cells: [
      words(lot),
      words(start.flow?.kind ?? segment.story.make?.kind),
      words(start.entry.date),
      words(eventWords(start)),
      weight(start.weight),
      ...goldAndSilver(fine),
      words(
        [saidWords(start.flow?.said ?? {}, start.flow), partWords(workspace, segment, fine, party)]
          .filter(Boolean)
          .join('; '),
      ),
    ],
    place: start.place,
  };
};

/** `of it ann: 30.00 %, Au 24.3 g`; none of what is theirs alone. */
const partWords = (workspace: Workspace, segment: Segment, fine: readonly Fine[], party: string): string => {
  const { shares, lent } = accountsOf(workspace);
  const loan = lent(segment);
  return partOfRow({ shares: ownerShares(shares(segment), withoutLent(fine, loan)), lent: lentIn(fine, loan) }, party);
};

const partOfRow = ({ shares, lent }: Pick<StockRow, 'shares' | 'lent'>, party: string): string =>
  [
    ...shares.filter(({ owner }) => owner === party).map((one) => `of it ${party}: ${shareWords(one)}`),
    ...[lentWords(lent)].flatMap((words) => (words === '' ? [] : [`of it ${words}`])),
  ].join('; ');

/** Not what goes out of a pool to another of its owners: that is the other's. */
const leftRows = (workspace: Workspace, owned: readonly Segment[], choice: Choice, party: string): readonly Row[] =>
  owned.flatMap((segment) => {
    const { namesOf, owners } = accountsOf(workspace);
    const others = namesOf(owners(segment)).filter((owner) => owner !== party);
    return segment.events
      .filter(({ kind, entry }) => LEAVES.has(kind) && isWithin(choice, entry.date))
      .filter(({ entry }) => !others.includes(entry.party?.name ?? ''))
      .map((event): Row => {
        const of = event.weight.mass ? event.weight : segment.start.weight;
        const fine = fineFor(workspace, segment, of);
        const theirs = event.entry.party?.name === party ? '' : partWords(workspace, segment, fine, party);
        return {
          cells: [
            words(segment.lot),
            words(segment.start.flow?.kind),
            words(event.entry.date),
            words(eventWords(event)),
            weight(of),
            ...goldAndSilver(fine),
            words([saidWords({ ...event.entry.said, ...event.flow?.said }), theirs].filter(Boolean).join('; ')),
          ],
          place: event.place,
        };
      });
  });

const hereSection = (workspace: Workspace, party: string, { to }: Choice): readonly Section[] => {
  const rows = stockList(workspace, to)
    .owners.filter(({ owner }) => owner.split(' + ').includes(party))
    .flatMap(({ rows: held }) => held);
  return section(
    'Still here, or out for assay',
    table(
      MOVED,
      rows.map(({ lot, kind, since, amount, unit, fine, shares, lent, at, with: whose, place }) => ({
        cells: [
          words(lot),
          words(kind),
          words(since),
          words([at && `at ${at}`, whose && `with ${whose}`].filter(Boolean).join(', ')),
          amount ? mass(amount, unit === 'gram' ? 'g' : 'mL') : words('?'),
          ...goldAndSilver(fine),
          words(partOfRow({ shares, lent }, party)),
        ],
        place,
      })),
    ),
  );
};

/** What came out of steps with their metal and is another's: slag above all. */
const bySection = (workspace: Workspace, owned: readonly Segment[], party: string): readonly Section[] => {
  const accounts = accountsOf(workspace);
  const { lineage } = accounts.metals;
  const passages = new Set(owned.flatMap((one) => lineage.uses(one).map(({ passage }) => passage)));
  const pooledWith = (inputs: readonly Passing[]): readonly string[] =>
    inputs.flatMap(({ flow }) => {
      const segment = lineage.segment(flow);
      const names = segment ? accounts.namesOf(accounts.owners(segment)) : [];
      return names.includes(party) ? names.filter((owner) => owner !== accounts.shop) : [];
    });
  const rows = [...passages].flatMap(({ step, inputs, outputs }) =>
    outputs.flatMap(({ flow }): readonly Row[] => {
      const segment = lineage.segment(flow);
      const owners = segment ? accounts.namesOf(accounts.owners(segment)) : [];
      if (!segment || owners.includes(party)) return [];
      // A pool that is divided: the others' parts are no by-product of it.
      if (isMetalKind(flow.kind) && owners.some((owner) => pooledWith(inputs).includes(owner))) return [];
      return [
        {
          cells: [
            words(segment.lot),
            words(flow.kind),
            words(step.entry.date),
            words(`${stepWords(step.entry)}; belongs to ${owners.length > 0 ? owners.join(' + ') : accounts.shop}`),
            weight(segment.start.weight),
            ...goldAndSilver(fineFor(workspace, segment, segment.start.weight)),
            words(saidWords(flow.said, flow)),
          ],
          place: flow.place,
        },
      ];
    }),
  );
  return section('By-products that are not theirs', table(MOVED, rows));
};

/** The terms that the workshop file holds for them. */
const agreedSection = ({ workshop }: Workspace, party: string): readonly Section[] => {
  const terms = workshop.parties.get(party)?.terms ?? [];
  const isCustomer = workshop.parties.get(party)?.role === 'customer';
  const told = terms.map((one) => says(`From ${one.from}: ${termLines(one, isCustomer).join('; ')}.`, one.place));
  return section('Agreed', sentences(told));
};

/** What entries of theirs say of money, and notes that stand with them. */
const saidSection = (workspace: Workspace, party: string, choice: Choice): readonly Section[] => {
  const isTheirs = (entry: Entry): boolean => entry.party?.name === party || entry.said.owner?.name === party;
  const told = entriesWithin(workspace, choice)
    .filter(isTheirs)
    .flatMap((entry) => [
      ...entry.others.flatMap(({ word, money, names, place }) =>
        money && MONEY_WORDS.has(word)
          ? [
              says(
                `${stepWords(entry)}: ${[word, ...names.map(({ name }) => name), typedMoney(money).text].join(' ')}`,
                place,
              ),
            ]
          : [],
      ),
      ...(entry.said.because ? [quotes(`${stepWords(entry)}: because ${entry.said.because}`, entry.head)] : []),
      ...(entry.said.notes ?? []).map((note) => quotes(`${stepWords(entry)}: ${note}`, entry.head)),
    ]);
  return section('Said beside it', sentences(told));
};

const MONEY_WORDS: ReadonlySet<string> = new Set(['charge', 'credit', 'total', 'bought', 'price']);

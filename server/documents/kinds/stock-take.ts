/** The list to take along to a count: place by place what should be there, how that is known, and room to write what is. */
import type { Handover, LotEvent } from '../../engine/book';
import type { Entry } from '../../engine/entry';
import { type Measured, subtract } from '../../quantity/measured';
import { sizeOf } from '../../reports/figures';
import { handoverLabel } from '../../reports/handover-wording';
import { lentWords, shareWords } from '../../reports/shares';
import { type CupelRow, type StockRow, stockList } from '../../reports/stock';
import { boundsIn, boundsWords } from '../../reports/stock-bounds';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { besides, count, goldAndSilver, grams, mass } from '../cells';
import type { Choice } from '../choice';
import { entriesWithin } from '../entries';
import { groupedBy } from '../grouped';
import { type Block, type Column, type Row, type Section, says, section, sentences, table, words } from '../model';
import { fact } from '../parts';
import { stillOutSection } from '../still-out';
import type { Kind } from './kind';

export const stockTake: Kind = {
  code: 'stock-take',
  title: 'Stock-take list',
  means:
    'what should be where at the end of a day, whose, how surely, when it was last weighed and counted, with room to write',
  restsOn: 'period',
  takes: ['to', 'owner'],
  make: (workspace, choice) => {
    const list = stockList(workspace, choice.to, choice.owner);
    const rows = list.owners.flatMap(({ owner, rows: lots, cupels }) => [
      ...lots.map((row) => ({ owner, row, cupel: undefined })),
      ...cupels.map((row) => ({ owner, row, cupel: row })),
    ]);
    const byPlace = groupedBy(rows, (one: Held) => placeOf(one.row));
    const places = [...byPlace.keys()].sort();
    const day = choice.to ?? accountsOf(workspace).lastDate;
    return {
      title: `Stock-take list: end of ${day === '' ? 'the record' : day}`,
      until: choice.to,
      facts: [
        ...fact('owner', choice.owner),
        ...fact('lots', count(rows.length)),
        ...fact('counted by', BLANK),
        ...fact('seen by', BLANK),
      ],
      sections: [
        ...places.flatMap((place) =>
          section(
            place,
            table(
              COLUMNS,
              byPlace.get(place)!.map((one) => rowOf(workspace, one, choice)),
            ),
          ),
        ),
        ...stillOutSection(workspace, day, choice),
        ...section('What it comes to', totals(workspace, list.owners)),
        ...countsOf(workspace, choice),
      ],
    };
  },
};

interface Held {
  readonly owner: string;
  readonly row: StockRow;
  readonly cupel: CupelRow | undefined;
}

/** Room for a hand to write. */
const BLANK = '____________';

const placeOf = ({ at, with: party }: StockRow): string =>
  party ? `With ${party}${at ? `, at ${at}` : ''}` : at ? `At ${at}` : 'No place is written';

const COLUMNS: readonly Column[] = [
  { head: 'lot' },
  { head: 'what' },
  { head: 'owner' },
  { head: 'should weigh', right: true },
  { head: 'found' },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'since' },
  { head: 'weighed' },
  { head: 'counted' },
];

const rowOf = ({ book }: Workspace, { owner, row, cupel }: Held, { to }: Choice): Row => {
  const { lot, kind, amount, unit, fine, shares, lent, since, place } = row;
  const events = cupel
    ? []
    : (book.lot(lot)?.events ?? []).filter(({ entry }) => to === undefined || (entry.date ?? '') <= to);
  const last = (isMeant: (event: LotEvent) => boolean): string => events.findLast(isMeant)?.entry.date ?? '';
  return {
    cells: [
      words(lot),
      words(cupel ? `used cupel of ${cupel.by.name?.name ?? 'cupel'}` : kind),
      words(
        [owner, ...shares.map((one) => `${one.owner} ${shareWords(one)}`), lentWords(lent)].filter(Boolean).join('; '),
      ),
      amount ? mass(amount, unit === 'gram' ? 'g' : 'mL') : words('?'),
      words('______'),
      ...goldAndSilver(fine),
      words(since),
      words(last(({ weight }) => weight.ground === 'weighed')),
      words(last(({ kind: what }) => what === 'found')),
    ],
    place,
  };
};

const METALS: Readonly<Record<string, string>> = { Au: 'gold', Ag: 'silver' };

const totals = ({ workshop }: Workspace, owners: ReturnType<typeof stockList>['owners']): Block | undefined => {
  const { unit } = workshop.reports;
  const columns = ['owner', 'metal', 'sure', 'by guess', 'within bounds', 'lots of which it is not known'];
  return table(
    columns.map((head, at) => ({ head, right: at > 1 })),
    owners.flatMap(({ owner, partOf, counted, totals: all }) =>
      all.map(({ metal, sure, guessed, unknown }) => {
        const bounds = boundsIn(counted, metal);
        const left = unknown - (bounds?.lots ?? 0);
        const cells = [
          words(partOf === undefined ? owner : `${partOf}'s part of ${owner}`),
          words(METALS[metal] ?? metal),
          besides(grams(sure), unit?.symbol, unit?.factor),
          guessed.value > 0 ? grams(guessed, 'guessed') : words(''),
          words(bounds ? boundsWords(bounds) : ''),
          left > 0 ? count(left) : words(''),
        ];
        return { cells };
      }),
    ),
  );
};

/** The last count of each place: what was found, against what the record said. */
const countsOf = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const byPlace = new Map<string, Entry>();
  for (const entry of entriesWithin(workspace, choice.to === undefined ? {} : { to: choice.to }))
    if (entry.verb === 'count') byPlace.set(entry.name?.name ?? entry.said.at?.name ?? '', entry);
  return [...byPlace.values()].flatMap((entry) => countSection(workspace, entry));
};

const countSection = (workspace: Workspace, entry: Entry): readonly Section[] => {
  const rows = entry.flows.flatMap(({ lot, word, place }): readonly Row[] => {
    const story = lot && workspace.book.lot(lot.name);
    const event = story?.events.find((one) => one.entry === entry || one.place === place);
    if (!lot || !story || !event) return [];
    const found = event.weight;
    const handover = story.handovers.find(({ to }) => to.entry === event.entry);
    // What the record says, not what is left of it once the count disputes it.
    const before = handover?.left ?? event.before;
    return [
      {
        cells: [
          words(lot.name),
          before ? mass(before) : words('?'),
          word === 'missing' ? words('missing') : found.mass ? mass(found.mass) : words('seen'),
          words(
            word === 'missing' ? 'not there' : before && found.mass ? againstRecord(handover, before, found.mass) : '',
          ),
        ],
        place,
      },
    ];
  });
  const left = accountsOf(workspace).uncounted(workspace.book.account(entry));
  const open = left.map(({ segment }) =>
    says(`${segment.lot} should be there too; the count does not speak of it.`, segment.start.place),
  );
  const place = (entry.name ?? entry.said.at)?.name;
  const who = [entry.said.hand?.name, entry.said.witness?.name].filter(Boolean).join(' and ');
  const columns = ['lot', 'in the record', 'found', 'so'];
  return section(
    `Last count${place ? ` of ${place}` : ''}, ${entry.date ?? 'on no day'}${who ? `, by ${who}` : ''}`,
    table(
      columns.map((head, at) => ({ head, right: at === 1 || at === 2 })),
      rows,
    ),
    sentences(open),
  );
};

/** Agrees to the digit, or by how much it does not, and whether weighing explains it. */
const againstRecord = (handover: Handover | undefined, before: Measured, found: Measured): string => {
  if (found.value.equals(before.value)) return 'agrees';
  const side = found.value.lessThan(before.value) ? 'less' : 'more';
  return (handover && handoverLabel(handover)) ?? `${mass(sizeOf(subtract(found, before))).text} ${side}`;
};

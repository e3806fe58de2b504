/** `fineweight stock`: what is on hand, how much fine metal it holds, and how surely. */
import { fromMeasured, type Inexact } from '../engine/accounts/inexact';
import type { Fine } from '../engine/accounts/stock';
import { showMass, showQuantity } from '../quantity/show';
import { csv } from '../reports/csv';
import { asMeasured, fineWords, isShown } from '../reports/fine';
import { plusMinus, type StockList, type StockOfOwner, type StockRow, stockList } from '../reports/stock';
import { visible } from '../text/visible';
import { locate, type Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import { type Opened, shortPath } from './journals';
import type { Paint } from './paint';
import { linesOf } from './print';
import { type Column, table } from './table';

export interface StockOptions {
  readonly at: string | undefined;
  readonly owner: string | undefined;
  readonly format: 'text' | 'json' | 'csv';
  readonly paint: Paint;
}

export const stock = ({ journals, failures }: Opened, options: StockOptions): Outcome => {
  const lists = journals.map(({ workspace }) => ({ workspace, list: stockList(workspace, options.at, options.owner) }));
  const text =
    options.format === 'text'
      ? lists.map(({ workspace, list }) => asText(workspace, list, options)).join('\n')
      : options.format === 'json'
        ? `${JSON.stringify({ version: 1, journals: lists.map(({ workspace, list }) => asJson(workspace, list)) }, null, 2)}\n`
        : csv(
            CSV_COLUMNS,
            lists.flatMap(({ workspace, list }) => csvRows(workspace, list)),
          );
  return { text, exit: failures.length > 0 ? 2 : 0 };
};

const COLUMNS: readonly Column[] = [
  { head: 'lot' },
  { head: 'what' },
  { head: 'weight', right: true },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'known' },
  { head: 'where' },
  { head: 'since' },
];

const asText = ({ workshop }: Workspace, list: StockList, { paint }: StockOptions): string => {
  const who = workshop.shop.name ?? 'The shop';
  const when = list.date ? `at the end of ${list.date}` : 'at the end of the record';
  const head = paint('bold', `${visible(who)}, on hand ${when}`);
  if (list.owners.length === 0) return `${head}\n\nNothing is on hand.\n`;
  return `${head}\n\n${list.owners.map((one) => ownerText(one, paint)).join('\n')}`;
};

const ownerText = ({ owner, rows, totals }: StockOfOwner, paint: Paint): string => {
  const [head, ...lines] = table(COLUMNS, rows.map(cells));
  const sums = totals.flatMap(({ metal, sure, guessed, unknown }) => {
    const parts = [
      `${METAL_WORDS[metal] ?? metal} ${sure.value > 0 ? amountWords(sure, false) : 'none that is sure'}`,
      ...(guessed.value > 0 ? [`and ${amountWords(guessed, true)} by guess`] : []),
      ...(unknown > 0 ? [`not known of ${unknown} ${unknown === 1 ? 'lot' : 'lots'}`] : []),
    ];
    return [`  ${parts.join(', ')}`];
  });
  return [paint('bold', visible(owner)), paint('dim', head!), ...lines.map(visible), ...sums, ''].join('\n');
};

const METAL_WORDS: Readonly<Record<string, string>> = { Au: 'fine gold', Ag: 'fine silver' };

const amountWords = (grams: Inexact, guessed: boolean): string => showQuantity(asMeasured(grams, guessed), 'g');

const cells = (row: StockRow): readonly string[] => {
  const find = (metal: string) => row.fine.find((one) => one.metal === metal && isShown(one));
  const [gold, silver, both] = [find('Au'), find('Ag'), find('Au+Ag')];
  const together = !gold && !silver && both ? `${fineWords(both)} with silver` : '–';
  return [
    row.lot,
    row.kind ?? '',
    weightWords(row),
    gold ? fineWords(gold) : together,
    silver ? fineWords(silver) : '–',
    groundOf([gold, silver, gold || silver ? undefined : both]),
    [row.at, row.with && `with ${row.with}`].filter(Boolean).join(', '),
    row.since ?? '',
  ];
};

/** Of the metal of which there is most. */
const groundOf = (fine: readonly (Fine | undefined)[]): string => {
  const [most] = fine.flatMap((one) => one ?? []).sort((a, b) => (b.grams?.value ?? 0) - (a.grams?.value ?? 0));
  return most?.known.ground ?? 'unknown';
};

const weightWords = ({ amount, unit }: StockRow): string =>
  amount ? showMass(amount, unit === 'gram' ? 'g' : 'mL') : '?';

const whereIs = (workspace: Workspace, { place }: StockRow) => {
  const { file, start } = locate(workspace, place);
  return { file: shortPath(file), line: linesOf(workspace, file).positionOf(start).line };
};

const figure = (of: Inexact | undefined) => of && { value: of.value, plusMinus: plusMinus(of) };

/** Grams with ± at k = 2; a stable shape: fields keep their names and meaning. */
const asJson = (workspace: Workspace, { date, owners }: StockList) => ({
  date: date ?? null,
  owners: owners.map(({ owner, rows, totals }) => ({
    owner,
    lots: rows.map((row) => ({
      lot: row.lot,
      kind: row.kind ?? null,
      amount: figure(row.amount && fromMeasured(row.amount)) ?? null,
      unit: row.unit === 'gram' ? 'g' : 'mL',
      fine: row.fine.map(({ metal, grams, lowGrams, highGrams, known }) => ({
        metal,
        grams: figure(grams) ?? null,
        low: lowGrams,
        high: highGrams,
        ground: known.ground,
      })),
      at: row.at ?? null,
      with: row.with ?? null,
      since: row.since ?? null,
      ...whereIs(workspace, row),
    })),
    totals: totals.map(({ metal, sure, guessed, unknown }) => ({
      metal,
      sure: figure(sure),
      guessed: figure(guessed),
      unknown,
    })),
  })),
});

const CSV_COLUMNS = [
  'owner',
  'lot',
  'kind',
  'amount',
  'unit',
  'metal',
  'fine g',
  '± g (k = 2)',
  'ground',
  'at',
  'with',
  'since',
  'file',
  'line',
];

const csvRows = (workspace: Workspace, { owners }: StockList) =>
  owners.flatMap(({ owner, rows }) =>
    rows.flatMap((row) => {
      const { file, line } = whereIs(workspace, row);
      const start = [owner, row.lot, row.kind, row.amount?.value.toNumber(), row.unit === 'gram' ? 'g' : 'mL'];
      const end = [row.at, row.with, row.since, file, line];
      if (row.fine.length === 0) return [[...start, undefined, undefined, undefined, 'unknown', ...end]];
      return row.fine.map(({ metal, grams, known }) => [
        ...start,
        metal,
        grams?.value,
        grams && plusMinus(grams),
        known.ground,
        ...end,
      ]);
    }),
  );

/** `fineweight stock`: what is on hand, how much fine metal it holds, and how surely. */
import type { Inexact } from '../engine/accounts/inexact';
import { type Fine, groundIn } from '../engine/accounts/stock';
import { showQuantity } from '../quantity/show';
import { guessesOn, guessesSay } from '../reports/by-products';
import { correctedNote, countBehind, isOfTime, mendedIn } from '../reports/corrections';
import { csv } from '../reports/csv';
import { asMeasured, fineCell, fineWords, isShown } from '../reports/fine';
import { lentWords, shareWords } from '../reports/shares';
import { type CupelRow, type StockList, type StockOfOwner, type StockRow, stockList } from '../reports/stock';
import { boundsIn, boundsWords } from '../reports/stock-bounds';
import { visible } from '../text/visible';
import { accountsOf } from '../workspace/accounts';
import { asOwner, nobodySays } from '../workspace/parties';
import type { Workspace } from '../workspace/workspace';
import type { OptionsOf } from './args';
import type { Outcome } from './check';
import { correctionsJson } from './corrections';
import { amountJson, FINE_COLUMNS, figureJson, fineCells, fineJson, unitSymbol, weightWords } from './fine-figures';
import type { Opened } from './journals';
import { UsageError } from './options';
import type { Paint } from './paint';
import { whereIs } from './print';
import { type Column, table } from './table';

export type StockOptions = OptionsOf<'stock'>;

export const stock = ({ journals, failures }: Opened, options: StockOptions): Outcome => {
  const { owner: asked } = options;
  const nobody = asked === undefined ? [] : journals.map(({ workspace }) => nobodySays(workspace, asked));
  if (nobody.length > 0 && nobody.every((says) => says !== undefined)) throw new UsageError(nobody[0]);
  const lists = journals.map(({ workspace }) => {
    const owner = asked === undefined ? undefined : asOwner(workspace, asked);
    return { workspace, list: stockList(workspace, options.at, owner) };
  });
  const text =
    options.format === 'text'
      ? lists.map(({ workspace, list }) => asText(workspace, list, options)).join('\n')
      : options.format === 'json'
        ? `${JSON.stringify(allJson(lists), null, 2)}\n`
        : csv(
            CSV_COLUMNS,
            lists.flatMap(({ workspace, list }) => csvRows(workspace, list)),
          );
  return { text, exit: failures.length > 0 ? 2 : 0 };
};

const allJson = (lists: readonly { readonly workspace: Workspace; readonly list: StockList }[]) => ({
  version: 1,
  journals: lists.map(({ workspace, list }) => asJson(workspace, list)),
  corrections: lists.flatMap(({ workspace, list }) => correctionsJson(workspace, isOfTime({ to: list.date }))),
});

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

const asText = (workspace: Workspace, list: StockList, { paint, owner }: StockOptions): string => {
  const who = workspace.workshop.shop.name ?? 'The shop';
  const when = list.date ? `at the end of ${list.date}` : 'at the end of the record';
  const head = paint('bold', `${visible(who)}, on hand ${when}`);
  if (list.owners.length === 0)
    return `${head}\n\nNothing${owner === undefined ? '' : ` of ${visible(owner)}`} is on hand.\n`;
  const note = correctedNote(workspace, isOfTime({ to: list.date }));
  const guesses =
    owner === undefined
      ? ['Au', 'Ag'].flatMap((metal) => guessesOn(accountsOf(workspace), metal, list.date) ?? [])
      : [];
  const guessed = guesses.map((one) => `\n${visible(guessesSay(one))}\n`).join('');
  return `${head}\n\n${list.owners.map((one) => ownerText(one, paint)).join('\n')}${guessed}${note ? `\n${note}\n` : ''}`;
};

const ownerText = ({ owner, partOf, rows, cupels, counted, totals }: StockOfOwner, paint: Paint): string => {
  const all = [...rows, ...cupels.map(named)];
  const [head, ...lines] = table(COLUMNS, all.map(cells));
  const told = lines.flatMap((line, at) => [line, ...sharesText(all[at]!)]);
  const sums = totals.flatMap(({ metal, sure, guessed, unknown }) => {
    const bounds = boundsIn(counted, metal);
    const left = unknown - (bounds?.lots ?? 0);
    const parts = [
      `${METAL_WORDS[metal] ?? metal} ${sure.value > 0 ? amountWords(sure, false) : 'none that is sure'}`,
      ...(guessed.value > 0 ? [`and ${amountWords(guessed, true)} by guess`] : []),
      ...(bounds ? [`and ${boundsWords(bounds)}`] : []),
      ...(left > 0 ? [`not known of ${left} ${left === 1 ? 'lot' : 'lots'}`] : []),
    ];
    return [`  ${partOf === undefined ? '' : `${visible(partOf)}'s part: `}${parts.join(', ')}`];
  });
  const rowsText = all.length > 0 ? [paint('dim', head!), ...told.map(visible)] : [];
  return [paint('bold', visible(owner)), ...rowsText, ...sums, ''].join('\n');
};

/** Of a pooled lot each owner's part, on its own line below. */
const sharesText = (row: StockRow): readonly string[] => partsOf(row).map((part) => `  of it ${part}`);

const partsOf = ({ shares, lent, kind, fine }: StockRow): readonly string[] => [
  ...(kind?.startsWith(USED_CUPEL) ? drunkWords(fine) : []),
  ...shares.map((one) => `${one.owner}: ${shareWords(one)}`),
  ...[lentWords(lent)].filter((words) => words !== ''),
];

const USED_CUPEL = 'used cupel';

/** Lead and copper that it drank. */
const drunkWords = (fine: readonly Fine[]): readonly string[] => {
  const drunk = fine.filter((one) => one.metal in DRUNK && isShown(one));
  return drunk.length > 0 ? [drunk.map((one) => `${DRUNK[one.metal]} ${fineWords(one)}`).join(', ')] : [];
};

const DRUNK: Readonly<Record<string, string>> = { Pb: 'lead', Cu: 'copper' };

/** A cupel's name may be that of a lot, and stand for another cupel each time. */
const named = (row: CupelRow): StockRow => ({ ...row, kind: `${USED_CUPEL} of ${row.by.name?.name ?? 'cupel'}` });

const METAL_WORDS: Readonly<Record<string, string>> = { Au: 'fine gold', Ag: 'fine silver' };

const amountWords = (grams: Inexact, guessed: boolean): string => showQuantity(asMeasured(grams, guessed), 'g');

const cells = (row: StockRow): readonly string[] => {
  const known = (metal: string) => row.fine.find((one) => one.metal === metal);
  const [gold, silver, both] = ['Au', 'Ag', 'Au+Ag'].map((metal) =>
    row.fine.find((one) => one.metal === metal && isShown(one)),
  );
  const together = !gold && !silver && both ? `${fineWords(both)} with silver` : fineCell(known('Au'));
  return [
    row.lot,
    row.kind ?? '',
    weightWords(row.amount, row.unit),
    gold ? fineWords(gold) : together,
    fineCell(known('Ag')),
    groundOf([gold, silver, gold || silver ? undefined : both]),
    [row.at, row.with && `with ${row.with}`].filter(Boolean).join(', '),
    row.since ?? '',
  ];
};

/** Of the metal of which there is most. */
const groundOf = (fine: readonly (Fine | undefined)[]): string => {
  const [most] = fine.flatMap((one) => one ?? []).sort((a, b) => (b.grams?.value ?? 0) - (a.grams?.value ?? 0));
  return most ? groundIn(most) : 'unknown';
};

/** Grams with ± at k = 2; a stable shape: fields keep their names and meaning. */
const asJson = (workspace: Workspace, { date, owners }: StockList) => ({
  date: date ?? null,
  owners: owners.map(({ owner, partOf, rows, cupels, counted, totals }) => ({
    owner,
    totalsOfPartOf: partOf ?? null,
    lots: rows.map((row) => ({ lot: row.lot, ...rowJson(workspace, row) })),
    usedCupels: cupels.map((row) => ({ cupel: row.lot, step: row.by.name?.name ?? null, ...rowJson(workspace, row) })),
    totals: totals.map(({ metal, sure, guessed, unknown }) => ({
      metal,
      sure: figureJson(sure),
      guessed: figureJson(guessed),
      within: boundsIn(counted, metal) ?? null,
      unknown,
    })),
  })),
});

const rowJson = (workspace: Workspace, row: StockRow) => ({
  kind: row.kind ?? null,
  amount: amountJson(row.amount),
  unit: unitSymbol(row.unit),
  fine: row.fine.map(fineJson),
  shares: row.shares.map(({ owner, percent, fine }) => ({
    owner,
    percent,
    fine: fine.map(({ metal, grams, guessed }) => ({ metal, grams, guessed })),
  })),
  lent: row.lent.map(fineJson),
  at: row.at ?? null,
  with: row.with ?? null,
  since: row.since ?? null,
  ...whereIs(workspace, row.place),
});

const CSV_COLUMNS = [
  'owner',
  'lot',
  'kind',
  'amount',
  'unit',
  ...FINE_COLUMNS,
  'at',
  'with',
  'since',
  'file',
  'line',
  'shares',
  'corrected',
];

const sharesCell = ({ shares, lent }: StockRow): string =>
  [...shares.map((one) => `${one.owner} ${shareWords(one)}`), lentWords(lent)].filter(Boolean).join('; ');

const csvRows = (workspace: Workspace, { owners, date }: StockList) => {
  const corrected = countBehind(workspace, mendedIn(workspace).filter(isOfTime({ to: date })));
  return owners.flatMap(({ owner, rows, cupels }) =>
    [...rows, ...cupels.map(named)].flatMap((row) => {
      const { file, line } = whereIs(workspace, row.place);
      const start = [owner, row.lot, row.kind, row.amount?.value.toNumber(), unitSymbol(row.unit)];
      return fineCells(row.fine).map((cells) => [
        ...start,
        ...cells,
        row.at,
        row.with,
        row.since,
        file,
        line,
        sharesCell(row),
        corrected(row.lot),
      ]);
    }),
  );
};

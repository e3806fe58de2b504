/** Side views as trees of plain rows: what is on hand, the day under the cursor, the family of the lot under the cursor. */

import { SHOP } from '../engine/accounts/owners';
import type { Fine } from '../engine/accounts/stock';
import type { Entry } from '../engine/entry';
import type { Measured } from '../quantity/measured';
import { showMass } from '../quantity/show';
import { asMeasured, fineWords, preciousIn } from '../reports/fine';
import { lentWords, shareWords } from '../reports/shares';
import { type CupelRow, type StockRow, type StockTotal, stockList, totaller } from '../reports/stock';
import { type TraceNode, traceOf } from '../reports/trace';
import { balanceLabel } from '../reports/wording';
import { stepWords } from '../reports/words';
import type { Place } from '../text/place';
import type { Span } from '../text/span';
import { verb } from '../vocabulary/verbs';
import { locate, type Workspace } from '../workspace/workspace';
import { nameAt } from './names';

export interface Branch {
  readonly label: string;
  /** Behind the label, dimmed. */
  readonly detail: string;
  /** Where it leads. */
  readonly at: (Span & { readonly file: string }) | undefined;
  /** A sign beside it. */
  readonly sign: 'owner' | 'place' | 'lot' | 'entry' | 'total' | 'note';
  readonly children: readonly Branch[];
}

/** By owner, the shop first; each with what it comes to. */
export const onHandView = (workspace: Workspace): readonly Branch[] =>
  stockList(workspace).owners.map(({ owner, rows, cupels, totals }) => ({
    label: owner,
    detail: totalWords(totals),
    at: undefined,
    sign: 'owner',
    children: [...rows, ...cupels].map((row) => rowBranch(workspace, row, row.at && `at ${row.at}`)),
  }));

/** By the place where it lies, as far as one is written; each with what it comes to. */
export const placesView = (workspace: Workspace): readonly Branch[] => {
  const { owners } = stockList(workspace);
  const byPlace = new Map<string, { readonly row: StockRow; readonly owner: string }[]>();
  for (const { owner, rows, cupels } of owners) {
    for (const row of [...rows, ...cupels]) {
      const place = row.at ?? NO_PLACE;
      byPlace.set(place, [...(byPlace.get(place) ?? []), { row, owner }]);
    }
  }
  const places = [...byPlace.keys()].sort(
    (a, b) => Number(a === NO_PLACE) - Number(b === NO_PLACE) || (a < b ? -1 : 1),
  );
  return places.map((place) => ({
    label: place,
    detail: totalWords(totalsOf(byPlace.get(place)!.map(({ row }) => row))),
    at: undefined,
    sign: 'place',
    children: byPlace
      .get(place)!
      .map(({ row, owner }) => rowBranch(workspace, row, owner === SHOP ? undefined : owner)),
  }));
};

const NO_PLACE = 'no place written';

const totalsOf = totaller();

const totalWords = (totals: readonly StockTotal[]): string =>
  totals
    .flatMap(({ metal, sure, guessed }) => {
      const parts = [sure, guessed].filter(({ value }) => value > 0);
      return parts.map((part) => `${metal} ${showMass(asMeasured(part, part === guessed))}`);
    })
    .join(', ');

const rowBranch = (workspace: Workspace, row: StockRow | CupelRow, where: string | undefined): Branch => ({
  label: row.lot,
  detail: [
    [row.amount && amountWords(row.amount, row.unit), 'by' in row ? `used cupel of ${stepWords(row.by)}` : row.kind]
      .filter(Boolean)
      .join(' '),
    ...metalWords(row.fine),
    where,
    row.with && `with ${row.with}`,
  ]
    .filter(Boolean)
    .join(' · '),
  at: locate(workspace, row.place),
  sign: 'lot',
  children: [
    ...row.shares.map((one) => part(one.owner, shareWords(one))),
    ...[lentWords(row.lent)].flatMap((words) => (words === '' ? [] : [part('lent', words.replace(/^.*?: /, ''))])),
  ],
});

const part = (label: string, detail: string): Branch => ({ label, detail, at: undefined, sign: 'owner', children: [] });

const amountWords = (amount: Measured, unit: 'gram' | 'millilitre'): string =>
  unit === 'gram' ? showMass(amount) : showMass(amount, 'mL');

const metalWords = (fine: readonly Fine[]): readonly string[] =>
  preciousIn(fine).map((one) => `${one.metal} ${fineWords(one)}`);

/** What was done on the day that an offset stands under, over all pages; each with its balance. */
export const dayView = (workspace: Workspace, file: string, offset: number): readonly Branch[] => {
  const page = workspace.pages.get(file);
  const section = page?.page.sections.findLast((one) => page.page.starts.get(one)! <= offset);
  const date = section && (page?.bySection.get(section)?.date ?? section.date);
  if (date === undefined) return [];
  const entries = [...workspace.pages.values()].flatMap((one) => one.entries.filter((entry) => entry.date === date));
  return [
    { label: date, detail: counted(entries), at: undefined, sign: 'total', children: [] },
    ...entries.map((entry) => entryBranch(workspace, entry)),
  ];
};

const counted = (entries: readonly Entry[]): string => {
  const heats = entries.filter(({ verb: word, prefix }) => !prefix && verb(word)?.hot).length;
  const all = entries.length === 1 ? '1 entry' : `${entries.length} entries`;
  return heats === 0 ? all : `${all}, ${heats === 1 ? '1 heat' : `${heats} heats`}`;
};

const entryBranch = (workspace: Workspace, entry: Entry): Branch => {
  const { step } = workspace.book.account(entry);
  const isOpen = entry.prefix === 'plan' || entry.prefix === 'void';
  return {
    label: `${entry.prefix ? `${entry.prefix} ` : ''}${stepWords(entry) || 'not understood'}`,
    detail: isOpen ? '' : ((step && balanceLabel(step, workspace.workshop)) ?? ''),
    at: locate(workspace, entry.head),
    sign: 'entry',
    children: [],
  };
};

/** The lot under the cursor: what it came of, what became of it. */
export const familyView = (workspace: Workspace, file: string, offset: number): readonly Branch[] => {
  const named = nameAt(workspace, file, offset);
  const trace = named?.kind === 'lot' ? traceOf(workspace, named.name) : undefined;
  if (!trace) return [];
  const part = (label: string, nodes: readonly TraceNode[]): readonly Branch[] =>
    nodes.length === 0 ? [] : [{ label, detail: '', at: undefined, sign: 'note', children: nodes.map(branchOf) }];
  const branchOf = (node: TraceNode): Branch => traceBranch(workspace, node, node.next.map(branchOf));
  return [traceBranch(workspace, trace.self, []), ...part('came of', trace.from), ...part('went to', trace.to)];
};

const traceBranch = (workspace: Workspace, node: TraceNode, children: readonly Branch[]): Branch => ({
  label: node.lot,
  detail: [
    [node.amount && amountWords(node.amount, node.unit), node.kind].filter(Boolean).join(' '),
    ...metalWords(node.fine),
    node.by && `${stepWords(node.by)}${node.by.date ? ` ${node.by.date}` : ''}`,
    node.told ? 'as above' : undefined,
  ]
    .filter(Boolean)
    .join(' · '),
  at: placeOf(workspace, node.place),
  sign: 'lot',
  children,
});

const placeOf = (workspace: Workspace, place: Place): Branch['at'] => locate(workspace, place);

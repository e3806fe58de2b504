/** `fineweight trace LOT`: back to what it was made of, forward to where it went. */

import { groundIn } from '../engine/accounts/stock';
import { csv } from '../reports/csv';
import { fineWords, preciousIn } from '../reports/fine';
import { type Trace, type TraceNode, traceOf } from '../reports/trace';
import { stepWords } from '../reports/words';
import { nearest } from '../text/nearest';
import { visible } from '../text/visible';
import type { Workspace } from '../workspace/workspace';
import type { OptionsOf } from './args';
import type { Outcome } from './check';
import { amountJson, FINE_COLUMNS, fineCells, fineJson, unitSymbol, weightWords } from './fine-figures';
import type { Opened, OpenJournal } from './journals';
import { UsageError } from './options';
import type { Paint } from './paint';
import { whereWords } from './print';

export type TraceOptions = OptionsOf<'trace'>;

/** Throws a UsageError for a lot that no journal makes. */
export const trace = ({ journals, failures }: Opened, options: TraceOptions): Outcome => {
  const found = journals.flatMap(({ workspace }) => {
    const one = traceOf(workspace, options.lot);
    return one ? [{ workspace, trace: one }] : [];
  });
  if (found.length === 0) throw new UsageError(nothingFound(journals, options.lot));
  const text =
    options.format === 'text'
      ? found.map((one) => asText(one.workspace, one.trace, options.paint)).join('\n')
      : options.format === 'json'
        ? `${JSON.stringify({ version: 1, traces: found.map((one) => asJson(one.workspace, one.trace)) }, null, 2)}\n`
        : csv(
            CSV_COLUMNS,
            found.flatMap((one) => csvRows(one.workspace, one.trace)),
          );
  return { text, exit: failures.length > 0 ? 2 : 0 };
};

const nothingFound = (journals: readonly OpenJournal[], lot: string): string => {
  const names = journals.flatMap(({ workspace: { book } }) =>
    [...book.lotNames()].filter((name) => (book.lot(name)?.births.length ?? 0) > 0),
  );
  const near = nearest(lot, names);
  return `No lot ${lot} comes in or is made in this journal.${near ? ` Did you mean ${near}?` : ''}`;
};

const asText = (workspace: Workspace, { self, from, to }: Trace, paint: Paint): string => {
  const branch = (nodes: readonly TraceNode[], depth: number): readonly string[] =>
    nodes.flatMap((node) => [line(workspace, node, depth, paint), ...branch(node.next, depth + 1)]);
  const part = (title: string, nodes: readonly TraceNode[]): readonly string[] =>
    nodes.length > 0 ? ['', paint('bold', title), ...branch(nodes, 1)] : [];
  return `${[line(workspace, self, 0, paint), ...part('came of', from), ...part('went to', to)].join('\n')}\n`;
};

const line = (workspace: Workspace, node: TraceNode, depth: number, paint: Paint): string => {
  const words = [
    `${node.lot}${node.kind ? ` ${node.kind}` : ''}${node.amount ? ` ${weightWords(node.amount, node.unit)}` : ''}`,
    ...metalWords(node),
  ];
  const by = node.by ? `${stepWords(node.by)}${node.by.date ? ` ${node.by.date}` : ''}: ` : '';
  const told = `${node.corrected ? ', corrected' : ''}${node.discarded ? ', discarded' : ''}${node.told ? ', as above' : ''}`;
  return `${'  '.repeat(depth)}${paint('dim', visible(by))}${visible(words.join(', '))}${told} ${paint('dim', visible(`(${whereWords(workspace, node.place)})`))}`;
};

const metalWords = ({ fine }: TraceNode): readonly string[] =>
  preciousIn(fine).map((one) => `${one.metal} ${fineWords(one)} ${groundIn(one)}`);

const nodeJson = (workspace: Workspace, node: TraceNode): object => ({
  lot: node.lot,
  kind: node.kind ?? null,
  by: node.by ? { step: stepWords(node.by), date: node.by.date ?? null } : null,
  amount: amountJson(node.amount),
  unit: unitSymbol(node.unit),
  fine: node.fine.map(fineJson),
  where: whereWords(workspace, node.place),
  discarded: node.discarded,
  corrected: node.corrected,
  told: node.told,
  next: node.next.map((one) => nodeJson(workspace, one)),
});

const asJson = (workspace: Workspace, { lot, self, from, to }: Trace): object => ({
  lot,
  self: nodeJson(workspace, self),
  from: from.map((node) => nodeJson(workspace, node)),
  to: to.map((node) => nodeJson(workspace, node)),
});

const CSV_COLUMNS = [
  'side',
  'depth',
  'lot',
  'kind',
  'step',
  'date',
  'amount',
  'unit',
  ...FINE_COLUMNS,
  'where',
  'corrected',
];

type Row = readonly (string | number | undefined)[];

const csvRows = (workspace: Workspace, { self, from, to }: Trace): readonly Row[] => {
  const rows = (side: string, nodes: readonly TraceNode[], depth: number): readonly Row[] =>
    nodes.flatMap((node) => [...nodeRows(workspace, side, node, depth), ...rows(side, node.next, depth + 1)]);
  return [...rows('self', [self], 0), ...rows('from', from, 1), ...rows('to', to, 1)];
};

const nodeRows = (workspace: Workspace, side: string, node: TraceNode, depth: number): readonly Row[] => {
  const { lot, kind, by, amount, unit, fine } = node;
  const start = [side, depth, lot, kind, by && stepWords(by), by?.date, amount?.value.toNumber(), unitSymbol(unit)];
  return fineCells(fine).map((cells) => [
    ...start,
    ...cells,
    whereWords(workspace, node.place),
    node.corrected ? 'yes' : 'no',
  ]);
};

/** `fineweight history`: what the record says of losses, recoveries, recipes, assays and crucibles when looked back on. */

import { correctedNote, isOfTime, mendedIn } from '../reports/corrections';
import { csv } from '../reports/csv';
import { historyTables, stepsOf } from '../reports/history/history';
import { type Table, TIDY_COLUMNS, tableJson, tidyRows } from '../reports/table';
import { visible } from '../text/visible';
import type { Workspace } from '../workspace/workspace';
import type { OptionsOf } from './args';
import type { Outcome } from './check';
import { correctionsJson } from './corrections';
import type { Opened } from './journals';
import type { Paint } from './paint';
import { table } from './table';

export type HistoryOptions = OptionsOf<'history'>;

const METALS: readonly string[] = ['Au', 'Ag'];

export const history = ({ journals, failures }: Opened, options: HistoryOptions): Outcome => {
  const { format, paint } = options;
  const question = {
    ...options,
    metals: options.metal === undefined ? METALS : [options.metal],
    limits: options,
  };
  const all = journals.map(({ workspace }) => ({ workspace, tables: historyTables(workspace, question) }));
  const text =
    format === 'text'
      ? all.map(({ workspace, tables }) => asText(workspace, tables, options, paint)).join('\n')
      : format === 'json'
        ? `${JSON.stringify(
            {
              version: 1,
              journals: all.map(({ tables }) => tables.map(tableJson)),
              corrections: all.flatMap(({ workspace }) => correctionsJson(workspace, isOfTime(options))),
            },
            null,
            2,
          )}\n`
        : csv(
            TIDY_COLUMNS,
            all.flatMap(({ workspace, tables }) => [...tidyRows(tables), ...correctedRows(workspace, options)]),
          );
  return { text, exit: failures.length > 0 ? 2 : 0 };
};

const correctedRows = (workspace: Workspace, options: HistoryOptions) =>
  mendedIn(workspace)
    .filter(isOfTime(options))
    .map(({ says }, at) => ['corrections', at + 1, 'says', says]);

const asText = (workspace: Workspace, tables: readonly Table[], options: HistoryOptions, paint: Paint): string => {
  const { from, to } = options;
  const when = `${from === undefined ? 'from the first day' : `from ${from}`} ${to === undefined ? 'to the last' : `to ${to}`}`;
  const steps = stepsOf(workspace, options).length;
  const head = `${visible(workspace.workshop.shop.name ?? 'The shop')}, looking back ${when}: ${steps} ${steps === 1 ? 'step' : 'steps'}`;
  const note = correctedNote(workspace, isOfTime(options));
  return [paint('bold', head), '', ...tables.flatMap((one) => tableText(one, paint)), ...(note ? [note, ''] : [])].join(
    '\n',
  );
};

/** Of a table that goes step by step. */
const MOST_SHOWN = 40;

const tableText = ({ title, columns, rows, notes }: Table, paint: Paint): string[] => {
  const shown = rows.slice(-MOST_SHOWN);
  const lines = table(
    columns.map(({ head, right }) => (right ? { head, right } : { head })),
    shown.map((row) => row.map(({ text }) => text)),
  );
  return [
    paint('bold', title),
    '',
    ...(rows.length > shown.length
      ? [`  The first ${rows.length - shown.length} are left out here; csv and json have them all.`, '']
      : []),
    ...(rows.length > 0 ? [...lines.map((line) => `  ${visible(line)}`), ''] : []),
    ...notes.map((note) => `  ${visible(note)}`),
    ...(notes.length > 0 ? [''] : []),
  ];
};

/** `fineweight export`: the whole record as tidy tables, into a new folder. */
import { basename } from 'node:path';
import { csvHead, csvRow, jsonRow } from '../tables/lines';
import { schemaJson, schemaSql } from '../tables/schema';
import { sourceOf, TABLES } from '../tables/tables';
import type { Outcome } from './check';
import type { Opened } from './journals';
import { UsageError } from './options';
import { refuseToLeave } from './write';
import { writeNewFolder } from './write-folder';

export interface ExportOptions {
  /** A folder that is not there yet. */
  readonly folder: string;
  /** In the column `shop`; the shop's own name without it. */
  readonly shop: string | undefined;
}

/** So many rows between two words on how far it has come. */
const TOLD_EVERY = 5000;

/** Throws a UsageError where the folder is there already or cannot be written. Row by row: no table is held as a whole. */
export const exportTables = (
  { journals, failures }: Opened,
  { folder, shop }: ExportOptions,
  tell: (line: string, isLast: boolean) => void,
): Outcome => {
  const sources = journals.map(({ workspace }) =>
    sourceOf(workspace, shop ?? workspace.workshop.shop.name ?? basename(workspace.root)),
  );
  if (sources.length === 0) return { text: '', exit: 2 };
  if (new Set(sources.map((source) => source.shop)).size < sources.length)
    throw new UsageError('Two of these journals are of one shop by name: export each with a --shop of its own.');
  for (const { workspace } of journals) refuseToLeave(workspace.root, folder);
  let all = 0;
  writeNewFolder(folder, (open) => {
    open('schema.sql')(schemaSql(TABLES));
    open('schema.json')(schemaJson(TABLES));
    for (const [at, table] of TABLES.entries()) {
      const [csv, json] = [open(`${table.name}.csv`), open(`${table.name}.ndjson`)];
      csv(csvHead(table));
      let rows = 0;
      for (const source of sources) {
        for (const row of table.rows(source)) {
          csv(csvRow(table, row));
          json(jsonRow(table, row));
          if (++rows % TOLD_EVERY === 0) tell(`${at + 1} of ${TABLES.length}: ${table.name}, ${rows} rows`, false);
        }
      }
      all += rows;
      tell(`${at + 1} of ${TABLES.length}: ${table.name}, ${rows} rows`, false);
    }
  });
  tell(`${TABLES.length} tables, ${all} rows`, true);
  return { text: '', exit: failures.length > 0 ? 2 : 0 };
};

/** What a table of the export is: its columns with their types, units and meanings, and its key. */
import type { Decimal } from '../quantity/decimal';
import type { Workspace } from '../workspace/workspace';
import type { Keys } from './keys';

export type ColumnType = 'text' | 'day' | 'integer' | 'decimal' | 'boolean';

export interface TableColumn {
  readonly name: string;
  readonly type: ColumnType;
  readonly means: string;
}

/** Nothing where nothing is known. */
export type Value = string | number | Decimal | boolean | undefined;
export type Row = Readonly<Record<string, Value>>;

export interface TidyTable {
  readonly name: string;
  readonly means: string;
  /** `shop` comes first in each, so that the tables of several shops go into one. */
  readonly columns: readonly TableColumn[];
  /** One row in a shop; it stays the same when something else in the journal changes. */
  readonly key: readonly string[];
  /** Columns that name a row of another table. */
  readonly refers?: Readonly<Record<string, string>>;
  readonly rows: (source: TableSource) => Iterable<Row>;
}

/** The record as the tables take it. */
export interface TableSource {
  readonly shop: string;
  readonly workspace: Workspace;
  readonly keys: Keys;
}

export const column = (name: string, type: ColumnType, means: string): TableColumn => ({ name, type, means });

const SHOP = column('shop', 'text', 'whose journal');

export const columnsOf = ({ columns }: TidyTable): readonly TableColumn[] => [SHOP, ...columns];

/** Grams and shares go to twelve places: a picogram is finer than any figure here. */
export const PLACES = 12;

const SQL_TYPES: Readonly<Record<ColumnType, string>> = {
  text: 'VARCHAR',
  day: 'DATE',
  integer: 'BIGINT',
  decimal: `DECIMAL(28, ${PLACES})`,
  boolean: 'BOOLEAN',
};

/** Tables as an SQL engine makes them. Names are plain words that need no quoting. */
export const schemaSql = (tables: readonly TidyTable[]): string =>
  tables
    .map((table) =>
      [
        `-- ${table.means}`,
        `CREATE TABLE ${table.name} (`,
        ...columnsOf(table).map(
          ({ name, type, means }) =>
            `  ${name} ${SQL_TYPES[type]}${isKey(table, name) ? ' NOT NULL' : ''}, -- ${means}`,
        ),
        `  PRIMARY KEY (${['shop', ...table.key].join(', ')})`,
        ');',
        '',
      ].join('\n'),
    )
    .join('\n');

const isKey = ({ key }: TidyTable, name: string): boolean => name === 'shop' || key.includes(name);

/** The same for programs. */
export const schemaJson = (tables: readonly TidyTable[]): string =>
  `${JSON.stringify(
    {
      version: 1,
      places: PLACES,
      tables: tables.map((table) => ({
        name: table.name,
        means: table.means,
        files: [`${table.name}.csv`, `${table.name}.ndjson`],
        key: ['shop', ...table.key],
        refers: table.refers ?? {},
        columns: columnsOf(table),
      })),
    },
    null,
    2,
  )}\n`;

/** The record as tables: what an SQL engine makes of them is what the reports say. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { shopYear, YEAR_WORKSHOP } from '../support/shop-year';
import { fineweight, folderOf, removeFolders } from './run';

afterAll(removeFolders);

const SAMPLES = resolve(__dirname, '../../samples');
const TARN_END = join(SAMPLES, 'tarn-end');

type Connection = Awaited<ReturnType<DuckDBInstance['connect']>>;

const exported = (path: string, ...args: string[]): string => {
  const folder = join(folderOf({}), 'out');
  const { exit, out, err } = fineweight(['export', folder, path, ...args]);
  expect([exit, out]).toEqual([0, '']);
  expect(err).toMatch(/^14 tables, \d+ rows\n$/);
  return folder;
};

const tablesOf = (
  folder: string,
): { name: string; key: string[]; refers: Record<string, string>; columns: { name: string; type: string }[] }[] =>
  JSON.parse(readFileSync(join(folder, 'schema.json'), 'utf8')).tables;

/** A new engine with the schema; each folder's files are put into its tables. */
const loaded = async (form: 'csv' | 'ndjson', ...folders: string[]): Promise<Connection> => {
  const connection = await (await DuckDBInstance.create(':memory:')).connect();
  await connection.run(readFileSync(join(folders[0]!, 'schema.sql'), 'utf8'));
  for (const folder of folders) {
    for (const { name } of tablesOf(folder)) {
      const options = form === 'csv' ? "FORMAT csv, HEADER, NULLSTR ''" : 'FORMAT json';
      await connection.run(`COPY ${name} FROM '${join(folder, `${name}.${form}`)}' (${options})`);
    }
  }
  return connection;
};

const rows = async (connection: Connection, sql: string): Promise<string[][]> =>
  (await connection.runAndReadAll(sql)).getRows().map((row) => row.map(String));

/** Tables hold twelve places; a sum of a few hundred rows is good to the ninth at least. */
const ninth = (grams: number): string => grams.toFixed(9).replace(/^-0\.0+$/, '0.000000000');

interface Account {
  readonly metal: string;
  readonly closing: { readonly grams: number };
  readonly unaccounted: { readonly grams: number };
  readonly usedCupelsClosing: { readonly grams: number };
  readonly movements: readonly { readonly movement: string; readonly grams: number; readonly count: number }[];
  readonly steps: readonly { readonly verb: string; readonly grams: number; readonly count: number }[];
}

describe.each(['csv', 'ndjson'] as const)('tables loaded from %s into an SQL engine', (form) => {
  let connection: Connection;
  let accounts: readonly Account[];
  beforeAll(async () => {
    connection = await loaded(form, exported(TARN_END));
    accounts = JSON.parse(fineweight(['account', TARN_END, '--format', 'json']).out).journals[0];
  }, 120_000);

  test('the lines of the metal account, to the last digit', async () => {
    for (const { metal, movements } of accounts) {
      const sums = await rows(
        connection,
        `SELECT movement, CAST(round(coalesce(sum(fine_g), 0), 9) AS VARCHAR), count(*) FROM movements WHERE metal = '${metal}' GROUP BY movement ORDER BY movement`,
      );
      expect(sums.map(([movement, grams, count]) => [movement, ninth(Number(grams)), Number(count)])).toEqual(
        movements
          .map(({ movement, grams, count }) => [movement, ninth(grams), count])
          .sort(([a], [b]) => (a! < b! ? -1 : 1)),
      );
      expect(sums.length).toBeGreaterThan(1);
    }
  });

  test('the stock, to the last digit', async () => {
    for (const { metal, closing } of accounts) {
      const [[grams]] = (await rows(
        connection,
        `SELECT CAST(round(sum(fine_g), 9) AS VARCHAR) FROM contents JOIN lots USING (shop, lot) WHERE on_hand AND metal = '${metal}'`,
      )) as [[string]];
      expect(ninth(Number(grams))).toBe(ninth(closing.grams));
    }
  });

  test('what the account leaves over, to the last digit', async () => {
    for (const { metal, unaccounted, usedCupelsClosing } of accounts) {
      const [[left, cupels]] = (await rows(
        connection,
        `WITH moved AS (SELECT coalesce(sum(CASE WHEN comes_in THEN fine_g ELSE -fine_g END), 0) AS g FROM movements WHERE metal = '${metal}'),
              here AS (SELECT coalesce(sum(fine_g), 0) AS g FROM contents JOIN lots USING (shop, lot) WHERE on_hand AND metal = '${metal}'),
              used AS (SELECT coalesce(sum(fine_g), 0) AS g FROM used_cupels WHERE on_hand AND metal = '${metal}')
         SELECT CAST(round(moved.g - here.g - used.g, 9) AS VARCHAR), CAST(round(used.g, 9) AS VARCHAR) FROM moved, here, used`,
      )) as [[string, string]];
      expect(ninth(Number(cupels))).toBe(ninth(usedCupelsClosing.grams));
      expect(usedCupelsClosing.grams).toBeGreaterThan(0);
      expect(ninth(Number(left))).toBe(ninth(unaccounted.grams));
    }
  });

  test('the losses by kind of step, to the last digit', async () => {
    for (const { metal, steps } of accounts) {
      const sums = await rows(
        connection,
        `SELECT verb, CAST(round(sum(lost_g), 9) AS VARCHAR), count(*) FROM metal_losses WHERE metal = '${metal}' GROUP BY verb ORDER BY verb`,
      );
      expect(sums.map(([verb, grams, count]) => [verb, ninth(Number(grams)), Number(count)])).toEqual(
        steps.map(({ verb, grams, count }) => [verb, ninth(grams), count]).sort(([a], [b]) => (a! < b! ? -1 : 1)),
      );
    }
  });

  test('every reference is met, and every entry has its line', async () => {
    const folder = exported(TARN_END);
    for (const { name, refers } of tablesOf(folder)) {
      for (const [column, table] of Object.entries(refers).filter(([, table]) => table === 'entries')) {
        const [[missing]] = (await rows(
          connection,
          `SELECT count(*) FROM ${name} t WHERE ${column} IS NOT NULL AND NOT EXISTS (SELECT 1 FROM ${table} e WHERE e.shop = t.shop AND e.entry = t.${column})`,
        )) as [[string]];
        expect([name, missing]).toEqual([name, '0']);
      }
    }
    const [[entries]] = (await rows(connection, 'SELECT count(*) FROM entries')) as [[string]];
    const heads = readdirSync(TARN_END)
      .filter((file) => file.endsWith('.melt'))
      .flatMap((file) => readFileSync(join(TARN_END, file), 'utf8').split('\n'))
      .filter((line) => /^[a-z]/.test(line));
    expect(Number(entries)).toBe(heads.length);
  });
});

describe('several shops', () => {
  test('go into the same tables, and are told apart', async () => {
    const year = folderOf({ 'workshop.yaml': YEAR_WORKSHOP, ...Object.fromEntries(shopYear({ lots: 5 })) });
    const connection = await loaded(
      'ndjson',
      exported(TARN_END),
      exported(year, '--shop', 'Far End'),
      exported(TARN_END, '--shop', 'Tarn End 2'),
    );
    const counts = await rows(connection, 'SELECT shop, count(*) FROM entries GROUP BY shop ORDER BY shop');
    expect(counts.map(([shop]) => shop)).toEqual(['Far End', 'Tarn End', 'Tarn End 2']);
    expect(counts[1]![1]).toBe(counts[2]![1]);
  });

  test('of one name in one export are asked about', () => {
    const [one, other] = [1, 2].map((seed) =>
      folderOf({ 'workshop.yaml': YEAR_WORKSHOP, ...Object.fromEntries(shopYear({ lots: 1, seed })) }),
    );
    const { exit, err } = fineweight(['export', join(one!, 'out'), one!, other!]);
    expect(exit).toBe(2);
    expect(err).toContain('Two of these journals are of one shop by name: export each with a --shop of its own.');
  });
});

describe('keys', () => {
  const page = '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.98 g bar\n';

  test('stay what they are when another entry comes before', async () => {
    const keys = (text: string): string[] =>
      readFileSync(join(exported(folderOf({ 'page.melt': text })), 'flows.csv'), 'utf8')
        .split('\r\n')
        .slice(1, -1)
        .map((line) => line.split(',')[1]!);
    const before = keys(page);
    expect(before).toEqual(['page.melt/2026-05-04/cast C1/in A', 'page.melt/2026-05-04/cast C1/out B']);
    expect(keys(page.replace('receive A', 'note cold\nreceive Z 5.00 g\nreceive A'))).toEqual(before);
  });

  test('hold for every page of mistakes too', async () => {
    const connection = await loaded('csv', exported(join(SAMPLES, 'mistakes')));
    const [[found]] = (await rows(connection, 'SELECT count(*) FROM findings')) as [[string]];
    const { findings } = JSON.parse(fineweight(['check', join(SAMPLES, 'mistakes'), '--format', 'json']).out);
    expect(Number(found)).toBe(findings.length);
  });
});

describe('text of the journal', () => {
  test('is no formula in a spreadsheet, and is itself in ndjson', () => {
    const folder = exported(folderOf({ 'page.melt': '2026-05-04  =1+1\nreceive A 20.00 g\n' }));
    expect(readFileSync(join(folder, 'days.csv'), 'utf8')).toContain(",'=1+1\r\n");
    expect(JSON.parse(readFileSync(join(folder, 'days.ndjson'), 'utf8')).remark).toBe('=1+1');
  });
});

describe('the folder', () => {
  const root = folderOf({ 'page.melt': '2026-05-04\nreceive A 20.00 g\n', taken: 'mine' });

  test('must be new, and nothing is lost where it is not', () => {
    const { exit, err } = fineweight(['export', join(root, 'taken'), root]);
    expect(exit).toBe(2);
    expect(err).toContain('is there already; an export goes into a new folder.');
    expect(readFileSync(join(root, 'taken'), 'utf8')).toBe('mine');
  });

  test('leaves nothing behind where it cannot be made', () => {
    const { exit, err } = fineweight(['export', join(root, 'no', 'such'), root]);
    expect(exit).toBe(2);
    expect(err).toContain('the folder above it is not there. Nothing is left of it.');
    expect(readdirSync(root).sort()).toEqual(['page.melt', 'taken']);
  });

  test('is the same, byte for byte, on a second run', () => {
    writeFileSync(join(root, 'more.melt'), shopYear({ lots: 3 }).get('2016.melt')!);
    const [one, other] = [exported(root), exported(root)];
    for (const name of readdirSync(one)) {
      expect(readFileSync(join(one, name), 'utf8'), name).toBe(readFileSync(join(other, name), 'utf8'));
    }
  });

  test.each([
    [['export'], 'wants a new folder'],
    [['export', 'x', '--by', 'y'], 'There is no option --by.'],
  ])('%s is asked about', (args, says) => {
    const { exit, err } = fineweight(args, { cwd: root });
    expect(exit).toBe(2);
    expect(err).toContain(says);
  });
});

describe('a corrected entry', () => {
  test('is corrected in each of its columns, as its balances are', async () => {
    const page = `2026-05-01
receive A 20.00 g, material scrap
melt M1, crucible C1, hand AB
  in A 20.00 g
  out B 19.95 g bar
2026-05-02
correct melt M1, crucible C2 was C1, because misread
`;
    const connection = await loaded('ndjson', exported(folderOf({ 'page.melt': page })));
    expect(
      await rows(connection, "SELECT prefix, crucible, hand FROM entries WHERE verb = 'melt' ORDER BY day"),
    ).toEqual([
      ['null', 'C2', 'AB'],
      ['correct', 'C2', 'null'],
    ]);
  });
});

/** `fineweight settle NAME`: a settlement against the journal, the account of a customer's lot, or the record of a party. */
import { correctedNote, mendedIn, mendedSays, speaksOf } from '../reports/corrections';
import { csv } from '../reports/csv';
import { DAY, shipmentSays } from '../reports/selling/open';
import { nearest } from '../text/nearest';
import { visible } from '../text/visible';
import { billsOf } from '../workspace/selling/bills';
import { shipmentWorth } from '../workspace/selling/offers';
import { proceedsOf } from '../workspace/selling/proceeds';
import { recordsOf } from '../workspace/selling/records';
import { salesOf } from '../workspace/selling/sales';
import { settlementsIn } from '../workspace/selling/settlements';
import { type Toll, tollOf, tollsOf } from '../workspace/selling/tolls';
import type { Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import type { Opened } from './journals';
import { UsageError } from './options';
import type { Paint } from './paint';
import { RECORD_COLUMNS, recordJson, recordRows, recordText } from './settle/record';
import { SETTLED_COLUMNS, settledJson, settledRows, settledText } from './settle/settled';
import { TOLL_COLUMNS, tollJson, tollRows, tollText } from './settle/toll';

export interface SettleOptions {
  /** A shipment, a lot, a customer's lot, or a party. */
  readonly name: string;
  readonly format: 'text' | 'json' | 'csv';
  readonly paint: Paint;
}

interface Sheet {
  readonly text: string;
  readonly json: readonly [kind: 'settlements' | 'tolls' | 'records' | 'open', value: object];
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (string | number | undefined)[])[];
  /** What it rests on that was corrected, in sentences. */
  readonly corrected: readonly string[];
}

/** Throws a UsageError for a name that no sale, lot or party bears. */
export const settle = ({ journals, failures }: Opened, { name, format, paint }: SettleOptions): Outcome => {
  const sheets = journals.flatMap(({ workspace }) => sheetsOf(workspace, name, paint));
  const [first] = sheets;
  if (!first)
    throw new UsageError(
      nothing(
        journals.map(({ workspace }) => workspace),
        name,
      ),
    );
  const exit = failures.length > 0 ? 2 : 0;
  if (format === 'text') return { text: sheets.map(({ text }) => text).join('\n'), exit };
  if (format === 'csv') {
    const same = sheets.filter(({ columns }) => columns === first.columns);
    return {
      text: csv(
        [...first.columns, 'corrected'],
        same.flatMap(({ rows, corrected }) => rows.map((row) => [...row, corrected.length])),
      ),
      exit,
    };
  }
  const of = (kind: Sheet['json'][0]): readonly object[] =>
    sheets.flatMap(({ json, corrected }) => (json[0] === kind ? [{ ...json[1], corrections: corrected }] : []));
  const all = {
    version: 1,
    settlements: of('settlements'),
    tolls: of('tolls'),
    records: of('records'),
    open: of('open'),
  };
  return { text: `${JSON.stringify(all, null, 2)}\n`, exit };
};

/** What the name is of: settlements; else the work on a customer's lot; else a shipment that waits; else a party: the work on its metal, and its record. */
const sheetsOf = (workspace: Workspace, name: string, paint: Paint): readonly Sheet[] => {
  const settled = settlementsIn(workspace).filter((one) => one.name === name);
  if (settled.length > 0)
    return settled.map((one) => ({
      text: settledText(workspace, one, paint),
      json: ['settlements', settledJson(workspace, one)],
      columns: SETTLED_COLUMNS,
      rows: settledRows(workspace, one),
      corrected: mendedSays(one.sale.parts),
    }));
  const toll = tollOf(workspace, name);
  if (toll) return [tollSheet(workspace, toll, paint)];
  const ship = salesOf(workspace).ships.findLast(({ entry }) => entry.name?.name === name);
  if (ship) {
    const says = shipmentSays(ship, shipmentWorth(workspace, ship.entry));
    return [
      {
        text: `${says.map(visible).join('\n')}\n`,
        json: ['open', { name, party: ship.entry.party?.name ?? null, shipped: ship.entry.date ?? null }],
        columns: OPEN_COLUMNS,
        rows: [[name, ship.entry.party?.name, ship.entry.date]],
        corrected: mendedSays(ship.parts),
      },
    ];
  }
  const records = recordsOf(workspace, name).map(
    (one): Sheet => ({
      text: recordText(one, paint),
      json: ['records', recordJson(one)],
      columns: RECORD_COLUMNS,
      rows: recordRows(one),
      corrected: [],
    }),
  );
  return [...tollsOf(workspace, name).map((one) => tollSheet(workspace, one, paint)), ...records];
};

const tollSheet = (workspace: Workspace, toll: Toll, paint: Paint): Sheet => {
  const [bills, proceeds] = [billsOf(workspace, toll), proceedsOf(workspace, toll)];
  return {
    text: `${tollText(toll, bills, proceeds, paint)}${noteOf(workspace, toll)}`,
    json: ['tolls', tollJson(toll, bills, proceeds)],
    columns: TOLL_COLUMNS,
    rows: tollRows(toll, bills),
    corrected: mendedIn(workspace)
      .filter(ofToll(toll))
      .map(({ says }) => says),
  };
};

/** Whether anything was corrected in an entry of the lots. */
const noteOf = (workspace: Workspace, toll: Toll): string => {
  const note = correctedNote(workspace, ofToll(toll));
  return note ? `${note}\n` : '';
};

const ofToll = ({ lots, pieces }: Toll) => speaksOf(new Set([...lots, ...pieces].map(({ lot }) => lot)));

const OPEN_COLUMNS = ['shipment', 'party', DAY];

const nothing = (workspaces: readonly Workspace[], name: string): string => {
  const known = workspaces.flatMap((workspace) => {
    const { ships, settles, sells } = salesOf(workspace);
    const all = [...ships, ...settles, ...sells].flatMap(({ entry }) => [entry.name?.name, entry.party?.name]);
    return [...all, ...workspace.workshop.parties.keys()].filter((one) => one !== undefined);
  });
  const near = nearest(name, [...new Set(known)]);
  const isParty = workspaces.some(({ workshop }) => workshop.parties.has(name));
  if (isParty) return `Nothing was settled with ${name} or sold to it yet.`;
  const isLot = workspaces.some(({ book }) => (book.lot(name)?.births.length ?? 0) > 0);
  if (isLot)
    return `${name} was neither settled nor received from a customer: \`fineweight routes ${name}\` tells what it would bring.`;
  return `No shipment, settlement, customer's lot or party is called ${name}.${near ? ` Did you mean ${near}?` : ''}`;
};

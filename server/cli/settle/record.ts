/** A party's record as the command prints it. */
import { dealingCells, RECORD_HEADS, recordSays } from '../../reports/selling/record';
import { NO_OFFER } from '../../reports/selling/sum';
import { visible } from '../../text/visible';
import type { RecordInCurrency } from '../../workspace/selling/records';
import type { Paint } from '../paint';
import { type Column, table } from '../table';

const COLUMNS: readonly Column[] = RECORD_HEADS.map((head, at) => ({ head, right: at > 1 }));

export const recordText = (of: RecordInCurrency, paint: Paint): string => {
  const [head, ...rows] = table(
    COLUMNS,
    of.record.dealings.map((one) => dealingCells(one, of.currency)),
  );
  return [
    paint('bold', visible(`${of.party}, in ${of.currency}`)),
    '',
    paint('dim', head!),
    ...rows.map(visible),
    '',
    ...recordSays(of).map(visible),
    NO_OFFER,
    '',
  ].join('\n');
};

export const recordJson = ({ party, currency, record }: RecordInCurrency) => ({ party, currency, ...record });

export const RECORD_COLUMNS = [
  'party',
  'currency',
  'sale',
  'date',
  'weight ours - theirs g',
  'gold ours - theirs',
  'days',
  'agreed days',
  'paid',
  'full worth',
  'owed',
  'paid on',
];

export const recordRows = ({ party, currency, record }: RecordInCurrency) =>
  record.dealings.map((one) => [
    party,
    currency,
    one.name,
    one.date,
    one.weightGrams,
    one.goldShare,
    one.days,
    one.agreedDays,
    one.paid,
    one.full,
    one.owed,
    one.paidOn,
  ]);

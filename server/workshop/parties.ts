/** Whom we deal with, and what was agreed. */
import type { Party, Terms } from '../engine/workshop';
import { isDate } from '../text/calendar';
import { placeIn } from '../text/place';
import { readFields } from './fields';
import { type Reading, reportValue } from './reading';
import { thingsOf } from './things';
import { type MapItem, type Pair, shown } from './tree';

export const readParties = thingsOf<Pick<Party, 'role' | 'terms'>>('parties', (fields, reading) => ({
  role: fields.get('role', 'role'),
  terms: readTerms(fields.get('terms', 'terms'), reading),
}));

const readTerms = (item: MapItem | undefined, reading: Reading): readonly Terms[] =>
  (item?.pairs ?? []).flatMap((pair) => readDated(pair, reading) ?? []).sort((a, b) => (a.from < b.from ? -1 : 1));

const readDated = ({ key, at, value }: Pair, reading: Reading): Terms | undefined => {
  if (!isDate(key))
    return reportValue(
      reading,
      at,
      `\`${shown(key)}\` is no date: terms stand under the day they hold from, \`2026-01-01:\`.`,
    );
  const fields = readFields('terms', value, reading);
  return {
    from: key,
    place: placeIn(reading.report.anchor, at),
    pays: fields.get('pays', 'payables') ?? new Map(),
    less: fields.get('less', 'cuts') ?? new Map(),
    keeps: fields.get('keeps', 'cuts') ?? new Map(),
    charges: fields.get('charges', 'charges') ?? new Map(),
    splitting: fields.get('splitting', 'metals') ?? new Map(),
    assay: fields.get('assay', 'assay rule'),
    exchangeDays: fields.get('exchange days', 'days'),
    umpire: fields.get('umpire', 'umpire rule'),
    meltLoss: fields.get('melt loss', 'share'),
    minimumGrams: fields.get('minimum', 'mass'),
    days: fields.get('days', 'days'),
    priceDay: fields.get('price day', 'price day'),
    fixing: fields.get('fixing', 'text'),
    rounding: fields.get('rounding', 'rounding'),
    fineStepGrams: fields.get('fine step', 'mass'),
    residues: fields.get('residues', 'keeper'),
  };
};

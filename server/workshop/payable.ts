/** What is paid of a metal, and what is taken off it: a share, shares by fineness, or a weight. */
import type { Bands, Cut } from '../engine/workshop';
import { type Decimal, decimal } from '../quantity/decimal';
import { unit } from '../quantity/units';
import { readPlain, readShare } from './figures';
import type { Form } from './keys';
import { isMetal, pairsOf, readPairs } from './lists';
import { type Reading, reportKind, reportValue } from './reading';
import { type Item, type MapItem, shown } from './tree';

export const readPayables = (item: Item, reading: Reading): ReadonlyMap<string, Bands> =>
  readPairs(item, reading, 'payables', (pair, value) => {
    if (!isMetal(pair, reading)) return undefined;
    if (value.kind === 'map') return readBands(value, reading);
    const share = readShare(value, reading, 'share')?.low;
    return share && [{ from: decimal(0), share }];
  });

/** Keys are the fineness from which a share holds; one of nought is what holds below all others. */
const readBands = (item: MapItem, reading: Reading): Bands | undefined => {
  const bands = pairsOf(item, reading, 'payables').flatMap(({ key, at, value }) => {
    const from = readShare(
      { kind: 'text', text: key, quoted: false, start: at.start, end: at.end },
      reading,
      'share',
    )?.low;
    const share = value && readShare(value, reading, 'share')?.low;
    return from && share ? [{ from, share }] : [];
  });
  if (bands.length === 0) return undefined;
  return bands.sort((a, b) => a.from.comparedTo(b.from));
};

const CUT: Form = { says: 'a share or a weight', example: '0.3 %` or `0.5 g' };

export const readCuts = (item: Item, reading: Reading): ReadonlyMap<string, Cut> =>
  readPairs(item, reading, 'cuts', (pair, value) => (isMetal(pair, reading) ? readCut(value, reading) : undefined));

const readCut = (item: Item, reading: Reading): Cut | undefined => {
  const figures = readPlain(item, reading, CUT, { zero: true });
  if (!figures) return undefined;
  const row = unit(figures.rest);
  const value: Decimal | undefined = row && figures.low.times(row.factor);
  if (row?.kind === 'mass') return { grams: value! };
  if (row?.kind !== 'proportion') return reportKind(reading, item, CUT);
  if (value!.lessThanOrEqualTo(1)) return { share: value! };
  return reportValue(reading, item, `\`${shown((item as { text: string }).text)}\` is more than the whole.`);
};

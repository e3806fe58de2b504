/** Scales, vessels and furnaces. */
import type { Container, Crucible, CupelBody, Declared, Furnace, Mould } from '../engine/workshop';
import type { Decimal } from '../quantity/decimal';
import type { Scale } from '../quantity/weighing';
import { placeIn } from '../text/place';
import { type Fields, namedPairs, readFields } from './fields';
import type { SectionName } from './keys';
import { type Reading, reportValue } from './reading';
import type { Item } from './tree';
import { permissibleInService } from './verified';

type Things<Thing> = (item: Item | undefined, reading: Reading) => ReadonlyMap<string, Thing & Declared>;

/** A reader of a section that names things. */
export const thingsOf =
  <Thing>(section: SectionName, make: (fields: Fields, reading: Reading, name: string) => Thing): Things<Thing> =>
  (item, reading) => {
    const things = new Map<string, Thing & Declared>();
    for (const { key, at, value } of namedPairs(section, item, reading)) {
      const place = placeIn(reading.report.anchor, at);
      things.set(key, { ...make(readFields(section, value, reading), reading, key), name: key, place });
    }
    return things;
  };

export const readScales = thingsOf<Scale>('scales', (fields, reading, name) => {
  const division = fields.get('division', 'mass');
  const capacity = fields.get('capacity', 'mass');
  checkOrder(fields, reading, division, 'capacity', 'A scale carries more than one step of its display');
  checkOrder(fields, reading, division, 'interval', 'The verification interval is no finer than the display', true);
  checkOrder(fields, reading, fields.get('smallest', 'mass'), 'capacity', 'The least load is below the capacity');
  const error = fields.get('error', 'mass') ?? errorOf(fields, division, capacity);
  return {
    name,
    division,
    ...(capacity ? { capacity } : {}),
    ...optional('repeatability', fields.get('repeatability', 'mass')?.toNumber()),
    ...optional('permissibleError', error?.toNumber()),
    ...optional('smallest', fields.get('smallest', 'mass')),
    ...optional('tracksZero', fields.get('tracks zero', 'yes or no')),
  };
});

const optional = <Key extends string, Value>(key: Key, value: Value | undefined): { [K in Key]?: Value } =>
  value === undefined ? {} : ({ [key]: value } as { [K in Key]?: Value });

/** What a verified scale is held to in service. In classes I and II the interval is coarser than the display, so it must be stated. */
const errorOf = (fields: Fields, division: Decimal | undefined, capacity: Decimal | undefined): Decimal | undefined => {
  const accuracy = fields.get('class', 'class');
  if (!accuracy || !capacity || !fields.get('verified', 'yes or no')) return undefined;
  const coarse = accuracy === 'III' || accuracy === 'IIII';
  const interval = fields.get('interval', 'mass') ?? (coarse ? division : undefined);
  return interval && permissibleInService(accuracy, interval, capacity);
};

/** That one weight is below another, written at the second's key. */
const checkOrder = (
  fields: Fields,
  reading: Reading,
  low: Decimal | undefined,
  key: string,
  says: string,
  same = false,
): void => {
  const high = fields.get(key, 'mass');
  if (!low || !high || low.lessThan(high) || (same && low.equals(high))) return;
  reportValue(reading, fields.at(key)!, `${says}: ${high.toString()} g against ${low.toString()} g.`);
};

/** The largest load that any scale carries, in grams; undefined if one does not say, or there is none. */
export const largestLoad = (scales: ReadonlyMap<string, Scale>): Decimal | undefined => {
  let largest: Decimal | undefined;
  for (const { capacity } of scales.values()) {
    if (!capacity) return undefined;
    if (!largest || capacity.greaterThan(largest)) largest = capacity;
  }
  return largest;
};

/** Containers with their tares, which some scale must have weighed. */
export const readContainers = (
  item: Item | undefined,
  reading: Reading,
  largest: Decimal | undefined,
): ReadonlyMap<string, Container> =>
  thingsOf<Omit<Container, keyof Declared>>('containers', (fields) => {
    const tare = fields.get('tare', 'mass and spread');
    if (tare && largest?.lessThan(tare.grams)) {
      const says = `That is more than any scale here carries: the largest takes ${largest.toString()} g.`;
      reportValue(reading, fields.at('tare')!, says);
    }
    return { tareGrams: tare?.grams, tareUncertaintyGrams: tare?.u ?? 0 };
  })(item, reading);

export const readCrucibles = thingsOf<Omit<Crucible, keyof Declared>>('crucibles', (fields) => ({
  volumeMillilitres: fields.get('volume', 'volume'),
  weightGrams: fields.get('weight', 'mass'),
  material: fields.get('material', 'text'),
  usualHeats: fields.get('heats', 'heats'),
  since: fields.get('since', 'date'),
  until: fields.get('until', 'date'),
}));

export const readMoulds = thingsOf<Omit<Mould, keyof Declared>>('moulds', (fields) => ({
  volumeMillilitres: fields.get('volume', 'volume'),
}));

export const readCupels = thingsOf<Omit<CupelBody, keyof Declared>>('cupels', (fields) => ({
  weightGrams: fields.get('weight', 'mass'),
  material: fields.get('material', 'text'),
}));

export const readFurnaces = thingsOf<Omit<Furnace, keyof Declared>>('furnaces', (fields) => ({
  powerWatts: fields.get('power', 'power'),
  highestCelsius: fields.get('highest', 'temperature'),
  heating: fields.get('heating', 'heating'),
}));

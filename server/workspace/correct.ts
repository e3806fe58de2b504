/**
 * What a `correct` entry changes in the entry that it speaks of. A value written *new* `was` *old* takes the old one's place where the old one
 * stands there; else it changes nothing, and a rule says so. The page keeps both.
 */
import type { Amount, Entry, Flow, Named, OtherDetail, Reading, Said } from '../engine/entry';
import type { Place } from '../text/place';

/** One value that was put in another's place. */
export interface Correction {
  /** The `correct` entry. */
  readonly by: Entry;
  /** The new value as it stands in that entry. */
  readonly place: Place;
  /** The line of the entry that it changes. */
  readonly at: Place;
}

interface Work {
  readonly by: Entry;
  readonly made: Correction[];
}

/** The entry with one correction. What is not touched stays the same object. */
export const correctedBy = (
  entry: Entry,
  by: Entry,
): { readonly entry: Entry; readonly made: readonly Correction[] } => {
  const work: Work = { by, made: [] };
  const corrected: Entry = {
    ...entry,
    amount: rescaled(work, mended(work, entry.amount, by.amount, entry.head), by.said),
    money: mendedMoney(work, entry.money, by.money, entry.head),
    amounts: entry.amounts.map((one, index) => {
      const mend = by.amounts[index];
      const amount = mended(work, one.amount, mend?.amount ?? by.amount, one.amount.place);
      return { ...one, amount: rescaled(work, amount, mend?.said ?? by.said)! };
    }),
    flows: entry.flows.map((flow) => correctedFlow(work, flow)),
    gear: entry.gear.map((gear) => {
      const item = by.gear.map((other) => renamed(work, gear.item, other.item)).find((one) => one !== undefined);
      return item ? { ...gear, item } : gear;
    }),
    readings: entry.readings.map((one) => ({ ...one, reading: correctedReading(work, one.reading, by.readings) })),
    others: entry.others.map((other) => correctedOther(work, other)),
    party: renamed(work, entry.party, by.party) ?? entry.party,
    method: renamed(work, entry.method, by.method) ?? entry.method,
    said: correctedSaid(work, entry.said, by.said, entry.head),
  };
  return { entry: corrected, made: work.made };
};

/** The new amount, where the old one is what stands here. */
const mended = (work: Work, now: Amount | undefined, by: Amount | undefined, at: Place): Amount | undefined => {
  if (!now || !by?.was || !isSameAmount(now, by.was)) return now;
  note(work, by.place, at);
  return { ...by, scale: by.scale ?? now.scale };
};

/** On another scale: `on fine was bench`. */
const rescaled = (work: Work, now: Amount | undefined, by: Said): Amount | undefined => {
  const scale = now && renamed(work, now.scale, by.scale);
  return scale ? { ...now, scale } : now;
};

const note = ({ by, made }: Work, place: Place, at: Place): void => {
  if (!made.some((one) => one.place.start === place.start)) made.push({ by, place, at });
};

/** By value and unit: how many digits were typed makes another reading, but the same weight is meant. */
const isSameAmount = (a: Amount, b: Amount): boolean => {
  if (a.absent || b.absent) return a.absent === b.absent;
  const [first, second] = [digitsOf(a), digitsOf(b)];
  return (
    first.length === second.length &&
    a.figure?.form === b.figure?.form &&
    first.every((one, index) => {
      const other = second[index]!;
      return one.value.equals(other.value) && one.unit === other.unit && one.measure === other.measure;
    })
  );
};

const digitsOf = ({ figure }: Amount) => {
  if (!figure) return [];
  if (figure.form === 'range') return [figure.low, figure.high];
  return 'parts' in figure ? figure.parts : [figure.digits];
};

/** The new name at the old one's place. */
const renamed = (work: Work, now: Named | undefined, by: Named | undefined): Named | undefined => {
  if (!now || !by?.was || by.was.name !== now.name) return undefined;
  note(work, by.place, now.place);
  return { name: by.name, place: now.place };
};

const correctedFlow = (work: Work, flow: Flow): Flow => {
  const mend = work.by.flows.find(
    (other) => other.word === flow.word && isMeant(other.lot, flow.lot) && isMeant(other.material, flow.material),
  );
  if (!mend) return flow;
  const amount = rescaled(work, mended(work, flow.amount, mend.amount, flow.place), mend.said);
  const said = correctedSaid(work, flow.said, mend.said, flow.place);
  return {
    ...flow,
    lot: renamed(work, flow.lot, mend.lot) ?? flow.lot,
    material: renamed(work, flow.material, mend.material) ?? flow.material,
    amount,
    none: amount === flow.amount ? flow.none : mend.none,
    said,
  };
};

const isMeant = (by: Named | undefined, now: Named | undefined): boolean => (by?.was ?? by)?.name === now?.name;

const correctedReading = (work: Work, reading: Reading, by: Entry['readings']): Reading => ({
  ...reading,
  metals: reading.metals.map((one) => {
    const mend = by
      .flatMap((other) => other.reading.metals)
      .find(
        ({ symbol, amount }) => symbol.name === one.symbol.name && amount.was && isSameAmount(one.amount, amount.was),
      );
    return mend ? { ...one, amount: mended(work, one.amount, mend.amount, reading.place)! } : one;
  }),
});

const correctedOther = (work: Work, other: OtherDetail): OtherDetail => {
  const mend = work.by.others.find(
    (one) =>
      one.word === other.word &&
      one.names.every((name, index) => isMeant(name, other.names[index])) &&
      (one.names.length === other.names.length || other.names.length === 0),
  );
  if (!mend) return other;
  const { money, reading, date } = other;
  const newDate = date !== undefined && mend.dateWas?.date === date ? mend.dateWas : undefined;
  if (newDate) note(work, newDate.place, other.place);
  return {
    ...other,
    names: other.names.map((name, index) => renamed(work, name, mend.names[index]) ?? name),
    amounts: other.amounts.map(
      (amount, index) => rescaled(work, mended(work, amount, mend.amounts[index], other.place), mend.said)!,
    ),
    money: mendedMoney(work, money, mend.money, other.place),
    date: newDate ? mend.date : date,
    reading:
      reading && mend.reading ? correctedReading(work, reading, [{ reading: mend.reading, said: mend.said }]) : reading,
  };
};

const mendedMoney = (work: Work, now: Entry['money'], by: Entry['money'], at: Place): Entry['money'] => {
  if (!now || !by?.was || !sameMoney(now, by.was)) return now;
  note(work, by.place, at);
  return by;
};

const sameMoney = (a: NonNullable<Entry['money']>, b: NonNullable<Entry['money']>): boolean =>
  a.digits.value.equals(b.digits.value) && a.currency === b.currency && a.per === b.per;

const NAMES = ['scale', 'at', 'to', 'owner', 'batch', 'fixing', 'sealed', 'hand', 'witness'] as const;
const WEIGHTS = ['before', 'after'] as const;
const FILES = ['photos', 'papers'] as const;

const correctedSaid = (work: Work, said: Said, by: Said, at: Place): Said => {
  const changes: { -readonly [Key in keyof Said]: Said[Key] } = {};
  for (const key of NAMES) {
    const name = renamed(work, said[key], by[key]);
    if (name) changes[key] = name;
  }
  for (const key of WEIGHTS) {
    const amount = mended(work, said[key], by[key], at);
    if (amount !== said[key]) changes[key] = amount;
  }
  for (const key of FILES) {
    const [files, mends] = [said[key] ?? [], by[key] ?? []];
    const mended = files.map((file) => mends.map((mend) => renamed(work, file, mend)).find((one) => one) ?? file);
    if (mended.some((file, index) => file !== files[index])) changes[key] = mended;
  }
  const insured = mendedMoney(work, said.insured, by.insured, at);
  if (insured !== said.insured) changes.insured = insured;
  if (said.tare && by.tare) {
    if ('name' in said.tare && 'name' in by.tare) changes.tare = renamed(work, said.tare, by.tare) ?? said.tare;
    else if (!('name' in said.tare) && !('name' in by.tare)) changes.tare = mended(work, said.tare, by.tare, at);
  }
  return Object.keys(changes).length > 0 ? Object.assign({}, said, changes) : said;
};

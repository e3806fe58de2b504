/** The keys of one thing, checked against the table of keys and read each by its kind. */

import { unit } from '../quantity/units';
import { type KeyRow, keysOf, type Owner, shortKey, type ValueKind } from './keys';
import { type Reading, reportNoList, reportUnknownKey } from './reading';
import { HIDDEN, type Item, type MapItem, type Pair, shown } from './tree';
import { READERS, type Values } from './values';

/** What was read of a thing, by key. */
export class Fields {
  private readonly values = new Map<
    string,
    { readonly kind: ValueKind; readonly value: unknown; readonly item: Item }
  >();

  set(row: KeyRow, item: Item, value: unknown): void {
    this.values.set(row.key, { kind: row.value, value, item });
  }

  /** The value of a key of this kind; undefined when it was not written, or not rightly. */
  get<Kind extends ValueKind>(key: string, kind: Kind): Values[Kind] | undefined {
    const found = this.values.get(key);
    // A reader of a kind gives values of that kind, so the kind vouches for the type.
    return found?.kind === kind ? (found.value as Values[Kind]) : undefined;
  }

  /** Where the value of a key stands. */
  at(key: string): Item | undefined {
    return this.values.get(key)?.item;
  }
}

/** Reads a thing's keys, or its one-line form. */
export const readFields = (owner: Owner, item: Item | undefined, reading: Reading): Fields => {
  const fields = new Fields();
  if (!item) return fields;
  if (item.kind === 'map') {
    for (const pair of item.pairs) readField(owner, pair, fields, reading);
    return fields;
  }
  const short = shortKey(owner);
  if (item.kind === 'text' && short) setField(short, item, fields, reading);
  else reportNoKeys(owner, item, reading);
  return fields;
};

const readField = (owner: Owner, { key, at, value }: Pair, fields: Fields, reading: Reading): void => {
  const keys = keysOf(owner);
  const row = keys.get(key);
  if (!row) reportUnknownKey(reading, at, key, `key of ${WHERE.get(owner) ?? `\`${owner}\``}`, keys.keys());
  else if (value) setField(row, value, fields, reading);
};

const setField = (row: KeyRow, item: Item, fields: Fields, reading: Reading): void => {
  const value = READERS[row.value](item, reading);
  if (value !== undefined) fields.set(row, item, value);
};

const reportNoKeys = (owner: Owner, item: Item, reading: Reading): void => {
  const [first] = keysOf(owner).values();
  const says = `Here stand keys, each on a line with its value: \`${first!.key}: ${first!.example}\`.`;
  reportNoList(reading, item, says);
};

const WHERE: ReadonlyMap<Owner, string> = new Map([
  ['scales', 'a scale'],
  ['crucibles', 'a crucible'],
  ['moulds', 'a mould'],
  ['cupels', 'a cupel'],
  ['furnaces', 'a furnace'],
  ['containers', 'a container'],
  ['materials', 'a material'],
  ['parties', 'a party'],
  ['terms', 'dated terms'],
]);

/** The pairs of a section that names things; says so where there is no list of names. */
export const namedPairs = (section: Owner, item: Item | undefined, reading: Reading): readonly Pair[] => {
  if (!item) return [];
  if (item.kind !== 'map') {
    reportNoList(reading, item, `\`${section}\` holds names, each on a line of its own with a colon.`);
    return [];
  }
  return (item as MapItem).pairs.filter((pair) => checkName(section, pair, reading));
};

const NAME = /^[\p{L}\p{M}\p{Nd}_./-]+$/u;
const LONGEST_NAME = 80;

/** Whether a name can be written in the journal at all; one that needs quotes there is asked about unless it has them here. */
const checkName = (section: Owner, { key, quoted, at }: Pair, { report }: Reading): boolean => {
  const wrong = section === 'measures' ? wrongMeasure(key) : wrongName(key);
  if (wrong) report.add('workshop-odd-name', at, () => ({ says: `\`${shown(key)}\` ${wrong}` }));
  else if (!quoted && section !== 'measures' && !isPlainName(key)) {
    report.add('workshop-odd-name', at, () => ({
      says: `\`${shown(key)}\` reads as a name in the journal only in quotes: put it in quotes here too, or choose another.`,
      write: `"${key}"`,
    }));
  }
  return !wrong;
};

const wrongName = (key: string): string | undefined => {
  if (key.trim() === '' || key.trim() !== key) return 'is no name: it is empty, or has blanks around it.';
  if (key.includes('"') || HIDDEN.test(key)) return 'is no name: it has quotes or hidden characters in it.';
  return key.length > LONGEST_NAME ? 'is too long for a name.' : undefined;
};

const wrongMeasure = (key: string): string | undefined => {
  if (!/^[a-z]+$/.test(key)) return 'is no name for a measure: it is one word of small letters, like `spoon`.';
  return unit(key) ? 'is a unit already: choose another word.' : undefined;
};

/** Letters, digits, `-` `_` `.` `/`, at least one letter, and nothing that reads as an amount (`14k`). */
const isPlainName = (key: string): boolean => {
  if (!NAME.test(key) || key.includes('..') || !/\p{L}/u.test(key) || /^[./-]|[./-]$/.test(key)) return false;
  let digits = 0;
  while (digits < key.length && (key[digits] === '.' || (key[digits]! >= '0' && key[digits]! <= '9'))) digits++;
  return digits === 0 || !unit(key.slice(digits));
};

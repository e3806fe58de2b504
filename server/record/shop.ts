/**
 * The workshop values that a sealed period rests on: every thing whose name stands in its entries, and what those things name in turn. What is
 * bought later, and remarks, prices and dates of checks, are outside.
 */
import { isDate } from '../text/calendar';
import { type KeyRow, keysOf, type Owner, type SectionName, sectionRow, shortKey } from '../workshop/keys';
import { Report } from '../workshop/problem';
import type { WorkshopDocument } from '../workshop/read';
import { type Item, type Pair, readTree } from '../workshop/tree';

/** One thing of the workshop file. */
export interface Thing {
  readonly section: SectionName;
  readonly name: string;
  /** Its values, each under its keys; those of dated terms with their day. */
  readonly values: readonly { readonly line: string; readonly from: string | undefined }[];
  /** Every word that its values hold. */
  readonly words: ReadonlySet<string>;
}

export interface Things {
  readonly all: readonly Thing[];
  readonly names: ReadonlySet<string>;
}

const NOTHING: Things = { all: [], names: new Set() };
const made = new WeakMap<WorkshopDocument, Things>();

/** All things that the workshop file declares, by section and name. */
export const thingsOf = (document: WorkshopDocument | undefined): Things => {
  if (!document) return NOTHING;
  const known = made.get(document);
  if (known) return known;
  const tree = readTree(document.text, new Report({ file: document.file }));
  const all = (tree?.pairs ?? [])
    .flatMap(thingsIn)
    .sort((a, b) => compare(a.section, b.section) || compare(a.name, b.name));
  const things = { all, names: new Set(all.map(({ name }) => name)) };
  made.set(document, things);
  return things;
};

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const thingsIn = ({ key, value }: Pair): readonly Thing[] => {
  const row = sectionRow(key);
  if (!row || row.holds === 'keys' || value?.kind !== 'map') return [];
  return value.pairs.map((pair) => {
    const values = pair.value ? valuesOf(row.section, pair.value, []) : [];
    const words = new Set(values.flatMap(({ line }) => line.split(' ')));
    return { section: row.section, name: pair.key, values, words };
  });
};

/** `division 0.01 g`: the keys down to a value, and the value, one blank apart. */
const valuesOf = (owner: Owner | undefined, item: Item, path: readonly string[]): Thing['values'] => {
  if (item.kind === 'list') return [];
  if (item.kind === 'text') {
    const key = path.length === 0 && owner ? shortKey(owner)?.key : undefined;
    return [
      { line: [...(key ? [key] : []), ...path, item.text].join(' ').replace(/\s+/g, ' ').trim(), from: undefined },
    ];
  }
  return item.pairs.flatMap(({ key, value }) => {
    const row = owner ? keysOf(owner).get(key) : undefined;
    if (!value || row?.passing) return [];
    return row?.value === 'terms' ? termsOf(row, value, path) : valuesOf(undefined, value, [...path, key]);
  });
};

const termsOf = (row: KeyRow, item: Item, path: readonly string[]): Thing['values'] =>
  item.kind !== 'map'
    ? valuesOf(undefined, item, [...path, row.key])
    : item.pairs.flatMap(({ key, value }) =>
        (value ? valuesOf('terms', value, []) : []).map(({ line }) => ({
          line: [...path, row.key, key, line].join(' '),
          from: isDate(key) ? key : undefined,
        })),
      );

/** The things that these words name, and those that they name in turn. */
export const inForce = ({ all }: Things, words: ReadonlySet<string>): readonly Thing[] => {
  const found = new Set<Thing>();
  let spoken = words;
  for (;;) {
    const come = all.filter((thing) => !found.has(thing) && spoken.has(thing.name));
    if (come.length === 0) return all.filter((thing) => found.has(thing));
    for (const thing of come) found.add(thing);
    spoken = new Set(come.flatMap((thing) => [...thing.words]));
  }
};

/** The lines of a thing as they are sealed, its values in the order of their letters: terms that hold only after the sealed day are left out. */
export const thingLines = ({ section, name, values }: Thing, upTo: string): readonly string[] => [
  `workshop ${section} ${name}`,
  ...values.flatMap(({ line, from }) => (from === undefined || from <= upTo ? [`  ${line}`] : [])).sort(),
];

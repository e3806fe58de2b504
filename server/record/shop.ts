/**
 * The workshop values that a sealed period rests on: every thing that its entries name in its own place, and the materials and recipes that those are
 * made from. What is bought later, and remarks, prices and dates of checks, are outside.
 */
import { isDate } from '../text/calendar';
import {
  type KeyRow,
  keysOf,
  type Owner,
  type SectionName,
  type SectionRow,
  sectionRow,
  shortKey,
} from '../workshop/keys';
import { Report } from '../workshop/problem';
import type { WorkshopDocument } from '../workshop/read';
import { type Item, type Pair, readTree } from '../workshop/tree';
import { thingKey } from './uses';

/** One thing of the workshop file. */
export interface Thing {
  readonly section: SectionName;
  readonly name: string;
  /** Its values, each under its keys; those of dated terms with their day. */
  readonly values: readonly { readonly line: string; readonly from: string | undefined }[];
  /** Names of the materials and recipes that it is made from. */
  readonly madeFrom: readonly string[];
}

const made = new WeakMap<WorkshopDocument, readonly Thing[]>();

/** All things that the workshop file declares, by section and name. */
export const thingsOf = (document: WorkshopDocument | undefined): readonly Thing[] => {
  if (!document) return [];
  const known = made.get(document);
  if (known) return known;
  const tree = readTree(document.text, new Report({ file: document.file }));
  const all = (tree?.pairs ?? [])
    .flatMap(thingsIn)
    .sort((a, b) => compare(a.section, b.section) || compare(a.name, b.name));
  made.set(document, all);
  return all;
};

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const thingsIn = ({ key, value }: Pair): readonly Thing[] => {
  const row = sectionRow(key);
  if (!row || row.holds === 'keys' || value?.kind !== 'map') return [];
  return value.pairs.map((pair) => {
    const values = pair.value ? valuesOf(row.section, pair.value, []) : [];
    const madeFrom = pair.value ? materialsIn(row.section, pair.value, row.holds) : [];
    return { section: row.section, name: pair.key, values, madeFrom };
  });
};

/** The parts of a recipe, and what a material starts from. */
const materialsIn = (section: SectionName, item: Item, holds: SectionRow['holds']): readonly string[] => {
  if (holds === 'parts') return item.kind === 'map' ? item.pairs.map(({ key }) => key) : [];
  if (item.kind === 'text') return shortKey(section)?.value === 'material' ? [item.text] : [];
  if (item.kind === 'list') return [];
  return item.pairs.flatMap(({ key, value }) =>
    value?.kind === 'text' && keysOf(section).get(key)?.value === 'material' ? [value.text] : [],
  );
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

/** The things of these keys, and the materials and recipes that they are made from. */
export const inForce = (all: readonly Thing[], used: ReadonlySet<string>): readonly Thing[] => {
  const found = new Set<Thing>();
  let asked = used;
  for (;;) {
    const come = all.filter((thing) => !found.has(thing) && asked.has(thingKey(thing.section, thing.name)));
    if (come.length === 0) return all.filter((thing) => found.has(thing));
    for (const thing of come) found.add(thing);
    const names = come.flatMap(({ madeFrom }) => madeFrom);
    asked = new Set(names.flatMap((name) => [thingKey('materials', name), thingKey('recipes', name)]));
  }
};

/** The lines of a thing as they are sealed, its values in the order of their letters: terms that hold only after the sealed day are left out. */
export const thingLines = ({ section, name, values }: Thing, upTo: string): readonly string[] => [
  `workshop ${section} ${name}`,
  ...values.flatMap(({ line, from }) => (from === undefined || from <= upTo ? [`  ${line}`] : [])).sort(),
];

/**
 * What can be written at the cursor of the workshop file. Where the cursor is, is read from the indents of the lines above it, so that it is
 * known while the file is half written and no tree can be made of it.
 */

import { UNITS } from '../../quantity/units';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import type { Span } from '../../text/span';
import { MATERIALS } from '../../vocabulary/materials';
import { materialMeaning } from '../../vocabulary/materials/told';
import { toldOf } from '../../vocabulary/told';
import { VERBS } from '../../vocabulary/verbs';
import { meaningOf, SECTION_MEANINGS } from '../../workshop/key-meanings';
import {
  CHOICES,
  type KeyRow,
  keysOf,
  type Owner,
  SECTIONS,
  sectionRow,
  shortKey,
  type ValueKind,
} from '../../workshop/keys';
import type { Workspace } from '../../workspace/workspace';
import type { Completion, Completions } from './choice';
import { undeclaredNames } from './undeclared';

type Item = Omit<Completion, 'replace'>;

/** A line above the cursor, or the cursor's own up to it. */
interface Line {
  readonly indent: number;
  readonly key: string | undefined;
}

const lineOf = (text: string): Line | undefined => {
  if (text.trim() === '' || text.trimStart().startsWith('#')) return undefined;
  const trimmed = text.trimStart();
  const colon = /:(?:\s|$)/.exec(trimmed);
  const key = colon ? trimmed.slice(0, colon.index).trim().replaceAll('"', '') : undefined;
  return { indent: text.length - trimmed.length, key };
};

export const workshopCompletionsAt = (workspace: Workspace, text: string, offset: number): Completions => {
  const lines = text.slice(0, offset).split('\n');
  const written = lines.pop()!;
  const own = lineOf(written);
  const indent = written.length - written.trimStart().length;
  const path = pathAbove(lines, indent);
  if (path === undefined || /\s#|^\s*#/.test(written)) return { items: [], ofWords: true };
  const put = (items: readonly Item[], from: number, ofWords: boolean): Completions => {
    const replace: Span = { start: offset - (written.length - from), end: offset };
    return { items: items.map((item) => ({ ...item, replace })), ofWords };
  };
  if (own?.key !== undefined) {
    const value = /:\s*/.exec(written)!;
    return put(valueItems(path, own.key), value.index + value[0].length, false);
  }
  const beside = keysBeside(text, offset, lines, indent);
  return put(
    keyItems(workspace, path).filter(({ label }) => !beside.has(label)),
    indent,
    true,
  );
};

/** The keys that a line with this indent stands under; none where the indents above do not go together. */
const pathAbove = (lines: readonly string[], indent: number): readonly string[] | undefined => {
  const path: string[] = [];
  let below = indent;
  for (const line of [...lines].reverse()) {
    const read = lineOf(line);
    if (!read || read.indent >= below) continue;
    if (read.key === undefined) return undefined;
    path.unshift(read.key);
    below = read.indent;
    if (below === 0) break;
  }
  return below === 0 ? path : undefined;
};

/** Keys that stand beside the cursor's own, above and below it. */
const keysBeside = (text: string, offset: number, above: readonly string[], indent: number): ReadonlySet<string> => {
  const keys = new Set<string>();
  const look = (lines: readonly string[]): void => {
    for (const line of lines) {
      const read = lineOf(line);
      if (read && read.indent < indent) return;
      if (read?.key !== undefined && read.indent === indent) keys.add(read.key);
    }
  };
  look([...above].reverse());
  look(text.slice(offset).split('\n').slice(1));
  return keys;
};

const keyItems = (workspace: Workspace, path: readonly string[]): readonly Item[] => {
  const [name, thing, key, ...deeper] = path;
  const row = name === undefined ? undefined : sectionRow(name);
  if (name === undefined)
    return SECTIONS.map(({ section, example }) => keyItem(section, SECTION_MEANINGS[section], example, ''));
  if (!row) return [];
  if (thing === undefined) {
    if (row.holds === 'keys') return ownKeys(row.section);
    return undeclaredNames(workspace, row.section).map((one) => ({
      label: one,
      kind: 'thing',
      detail: 'spoken of in the journal',
      text: `${one}: `,
    }));
  }
  if (row.holds === 'parts') return materialItems(': ');
  if (row.holds === 'keys') return keysUnder(keysOf(row.section).get(thing)?.value);
  if (key === undefined) return ownKeys(row.section);
  const value = keysOf(row.section).get(key)?.value;
  // Under `terms` stands a day, and the keys of terms under that.
  if (value !== 'terms') return keysUnder(value);
  const [, under] = deeper;
  return deeper.length === 0
    ? []
    : under === undefined
      ? ownKeys('terms')
      : keysUnder(keysOf('terms').get(under)?.value);
};

const ownKeys = (owner: Owner): readonly Item[] =>
  [...keysOf(owner).values()].map((row) => keyItem(row.key, meaningOf(row), row.example, isNested(row) ? '' : ' '));

const isNested = ({ value }: KeyRow): boolean =>
  ['composition', 'metals', 'charges', 'losses', 'terms', 'parts'].includes(value);

const keyItem = (key: string, meaning: string, example: string, behind: string): Item => ({
  label: key,
  kind: 'detail',
  detail: meaning,
  documentation: paragraphs(escapeMarkdown(meaning), `For example \`${example}\`.`),
  text: `${key}:${behind}`,
});

const keysUnder = (value: ValueKind | undefined): readonly Item[] => {
  switch (value) {
    case 'losses':
      return VERBS.filter(({ flows }) => flows).map((row) => keyItem(row.word, toldOf(row).meaning, '0..0.5 %', ' '));
    case 'metals':
      return METALS.map(([symbol, name]) => keyItem(symbol, name, '98.5 %', ' '));
    default:
      return [];
  }
};

const METALS = [
  ['Au', 'gold'],
  ['Ag', 'silver'],
  ['Pt', 'platinum'],
  ['Pd', 'palladium'],
] as const;

const valueItems = (path: readonly string[], key: string): readonly Item[] => {
  const [name, thing, ...deeper] = path;
  const row = name === undefined ? undefined : sectionRow(name);
  if (!row) return [];
  if (row.holds === 'keys') return thing === undefined ? ofKind(keysOf(row.section).get(key)?.value) : [];
  if (row.holds !== 'things') return [];
  if (thing === undefined) return ofKind(shortKey(row.section)?.value);
  return deeper.length === 0 ? ofKind(keysOf(row.section).get(key)?.value) : [];
};

const ofKind = (kind: ValueKind | undefined): readonly Item[] => {
  switch (kind) {
    case 'yes or no':
      return words(['yes', 'no']);
    case 'class':
    case 'heating':
    case 'role':
    case 'paper':
      return words(CHOICES[kind]);
    case 'material':
      return materialItems('');
    case 'mass unit':
      return UNITS.filter((unit) => unit.kind === 'mass').map(({ symbol, meaning }) => ({
        label: symbol,
        kind: 'unit',
        detail: meaning,
      }));
    default:
      return [];
  }
};

const words = (list: readonly string[]): readonly Item[] => list.map((label) => ({ label, kind: 'word' }));

const materialItems = (behind: string): readonly Item[] =>
  MATERIALS.map(({ name }) => ({
    label: name,
    kind: 'material',
    detail: materialMeaning(name),
    text: `${name}${behind}`,
  }));

/** What the readers of values share: the list of findings, and the sentences that most of them need. */
import { nearest } from '../text/nearest';
import type { Span } from '../text/span';
import { type Form, VALUE_KINDS, type ValueKind } from './keys';
import type { Report } from './problem';
import { type Item, shown, type TextItem } from './tree';

export interface Reading {
  readonly report: Report;
  /** Every material that a recipe may name: the shop's own and the built-in ones. */
  readonly isMaterial: (name: string) => boolean;
  readonly materialNames: () => Iterable<string>;
}

/** Kinds that are a list of keys: there is no one value to name. */
const LISTS: ReadonlySet<ValueKind | Form> = new Set<ValueKind>([
  'composition',
  'parts',
  'metals',
  'charges',
  'losses',
  'terms',
]);

/** Says that something is not of its kind, and how it is written. */
export const reportKind = ({ report }: Reading, item: Item, kind: ValueKind | Form, write?: string): undefined => {
  const { says, example } = typeof kind === 'string' ? VALUE_KINDS[kind] : kind;
  report.add('workshop-wrong-value', item, () => {
    if (LISTS.has(kind)) return { says: `Here stand ${says}: \`${example}\`.` };
    const what = item.kind === 'text' ? `\`${shown(item.text)}\` is not` : 'This is not';
    const how = says.includes('`') ? '' : `: write it like \`${example}\``;
    return { says: `${what} ${says}${how}.`, write };
  });
  return undefined;
};

/** Where names or keys should stand, and something else does; a blank forgotten after a colon is the likeliest. */
export const reportNoList = ({ report }: Reading, item: Item, says: string): undefined => {
  report.add('workshop-wrong-value', item, () => {
    const colon = item.kind === 'text' && !item.quoted && !item.text.includes('\n') ? item.text.indexOf(':') : -1;
    if (colon <= 0) return { says };
    const { text } = item as TextItem;
    const write = `${text.slice(0, colon)}: ${text.slice(colon + 1)}`;
    return { says: `A blank is missing after the colon: \`${shown(write)}\`.`, write };
  });
  return undefined;
};

export const reportValue = ({ report }: Reading, at: Span, says: string, write?: string): undefined => {
  report.add('workshop-wrong-value', at, () => ({ says, write }));
  return undefined;
};

/** Keys by another name. */
const OTHER_NAMES: ReadonlyMap<string, string> = new Map([
  ['kind', 'role'],
  ['type', 'role'],
  ['class', 'role'],
  ['relation', 'role'],
  ['fuel', 'heating'],
]);

const otherName = (key: string, names: readonly string[]): string | undefined => {
  const name = OTHER_NAMES.get(key.toLowerCase());
  return name !== undefined && names.includes(name) ? name : undefined;
};

/** A key that is none of the known ones. */
export const reportUnknownKey = (
  { report }: Reading,
  at: Span,
  key: string,
  where: string,
  known: Iterable<string>,
  code: 'workshop-unknown-key' | 'workshop-unknown-material' = 'workshop-unknown-key',
): void =>
  report.add(code, at, () => {
    const names = [...known];
    const near =
      otherName(key, names) ?? nearest(key, names) ?? nearest(key.replaceAll('-', ' ').replaceAll('_', ' '), names, 1);
    const few = names.length <= 14 ? ` Known are ${names.map((name) => `\`${name}\``).join(', ')}.` : '';
    const meant = near ? ` Did you mean \`${near}\`?` : few;
    return { says: `\`${shown(key)}\` is no ${where}.${meant}`, write: near };
  });

/** The two sides of a block of merge markers, held against each other by what they say. */
import type { Section } from '../syntax/tree';
import { compareLists } from './lists';
import { type Unit, unitsOf } from './units';

export interface Sides {
  readonly ours: string;
  readonly theirs: string;
}

/** What stands between the markers; undefined where a marker is missing. The common ancestor that some styles show is left out. */
export const sidesOf = ({ text }: Section): Sides | undefined => {
  const parts: Record<'ours' | 'base' | 'theirs', string[]> = { ours: [], base: [], theirs: [] };
  let on: keyof typeof parts | undefined;
  let isClosed = false;
  for (const line of text.match(/[^\r\n]*(?:\r\n|\r|\n|$)/g) ?? []) {
    if (line.startsWith('<<<<<<<')) on = 'ours';
    else if (line.startsWith('|||||||') && on === 'ours') on = 'base';
    else if (/^=======(?:\s|$)/.test(line) && on) on = 'theirs';
    else if (line.startsWith('>>>>>>>') && on === 'theirs') isClosed = true;
    else if (on && !isClosed) parts[on].push(line);
  }
  return isClosed ? { ours: parts.ours.join(''), theirs: parts.theirs.join('') } : undefined;
};

export interface Difference {
  readonly kind: 'differs' | 'ours only' | 'theirs only';
  /** `melt M58`, or the first line of what has no name. */
  readonly what: string;
  /** Of what differs: the lines, each side's where it has one. */
  readonly lines: readonly { readonly ours: string | undefined; readonly theirs: string | undefined }[];
}

/** What one side has and the other not. A side that begins within an entry is taken as lines of that entry. */
export const differencesBetween = ({ ours, theirs }: Sides): readonly Difference[] => {
  const [o, t] = [unitsOf(ours) ?? [], unitsOf(theirs) ?? []];
  const other = new Map(t.map((unit) => [unit.key, unit]));
  const own = new Set(o.map(({ key }) => key));
  return [
    ...o.flatMap((unit): readonly Difference[] => {
      const same = other.get(unit.key);
      if (!same) return [{ kind: 'ours only', what: nameOf(unit), lines: [] }];
      return same.said === unit.said ? [] : [{ kind: 'differs', what: nameOf(unit), lines: linesBetween(unit, same) }];
    }),
    ...t.flatMap((unit): readonly Difference[] =>
      own.has(unit.key) ? [] : [{ kind: 'theirs only', what: nameOf(unit), lines: [] }],
    ),
  ];
};

const linesBetween = (ours: Unit, theirs: Unit): Difference['lines'] =>
  compareLists(linesIn(ours), linesIn(theirs)).map(({ was, now }) => ({ ours: was, theirs: now?.value }));

const linesIn = ({ said }: Unit): readonly string[] =>
  said.split('\n').map((line) => line.trim().replaceAll(' ,', ','));

/** How an entry is called: its prefix, verb and name; a day by its date. */
const nameOf = ({ section, said }: Unit): string => {
  const { prefix, verb, lines } = section;
  if (section.kind === 'preamble') return 'this entry';
  if (section.kind === 'day') return section.date ?? said;
  const [first] = lines[0]?.pieces[0]?.values ?? [];
  const name = first?.shape === 'word' ? first.word.text : undefined;
  if (!verb || name === undefined) return said.split('\n')[0]!.trim();
  return [prefix?.text.toLowerCase(), verb.row.word, name].filter((word) => word !== undefined).join(' ');
};

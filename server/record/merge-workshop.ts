/**
 * Three versions of a workshop file to one, by its sections and the things in them: a scale that each hand added stands in the result, a thing that
 * both changed is a conflict. What comes out is read again and held against what each side says, thing by thing; where it says anything else,
 * nothing is made of it.
 */
import { Report } from '../workshop/problem';
import { type Item, type MapItem, readTree } from '../workshop/tree';
import { conflictText, type Labels, type Merged, withLineEnds } from './merge';

/** A section's own line, or a thing in it, with the comments and empty lines above it. */
interface Thing {
  /** `scales`, `scales bench`; a line end between, which no key has. */
  readonly key: string;
  readonly section: string;
  readonly text: string;
  /** What it says, without spacing and comments. */
  readonly value: string;
}

/** Undefined where a version cannot be read, or the result would not say what the two sides say. */
export const mergeWorkshops = (base: string, ours: string, theirs: string, labels: Labels): Merged | undefined => {
  const newline = ours.includes('\r\n') ? '\r\n' : '\n';
  const [b, o, t] = [base, ours, theirs].map((text) => thingsOf(withLineEnds(text, newline)));
  if (!b || !o || !t) return undefined;
  const [inBase, inOurs, inTheirs] = [b, o, t].map((things) => new Map(things.map((thing) => [thing.key, thing])));
  const chunks = orderOf(o, t).map((key) => chunkOf(inBase!.get(key), inOurs!.get(key), inTheirs!.get(key)));
  const kept = withHeads(chunks);
  for (const side of ['ours', 'theirs'] as const) if (!isSaidBy(kept, side, newline)) return undefined;
  const isConflict = ({ ours, theirs }: Chunk): boolean => ours !== theirs;
  return {
    text: joined(
      kept.map((chunk) =>
        isConflict(chunk)
          ? conflictText(chunk.ours?.text, chunk.theirs?.text, labels, newline)
          : (chunk.ours?.text ?? ''),
      ),
      newline,
    ),
    conflicts: kept.filter(isConflict).map(({ key }) => key.replace('\n', ' ')),
  };
};

const TAIL = '\n';

/** Undefined where anything in it cannot be read, stands twice, or is written over several lines at the margin. */
const thingsOf = (text: string): readonly Thing[] | undefined => {
  const report = new Report({ file: 'workshop.yaml' });
  const tree = readTree(text, report);
  if (!tree || report.problems.length > 0) return undefined;
  const cuts = tree.pairs.flatMap(({ key, at, value }): readonly Cut[] => {
    const head = { key, section: key, from: lineStart(text, at.start) };
    const things = value?.kind === 'map' ? thingsIn(text, head, value) : [];
    return things.length > 0
      ? [{ ...head, value: '' }, ...things]
      : [{ ...head, value: value ? saidBy(text, value) : '' }];
  });
  return cutAt(text, cuts);
};

interface Cut {
  readonly key: string;
  readonly section: string;
  /** Offset of its first line. */
  readonly from: number;
  readonly value: string;
}

/** None where they do not stand on lines of their own: `measures: { spoon: 14 g }` is one thing. */
const thingsIn = (text: string, { section, from }: Omit<Cut, 'value'>, { pairs }: MapItem): readonly Cut[] => {
  const starts = pairs.map(({ at }) => lineStart(text, at.start));
  if (starts.some((start, index) => start <= (starts[index - 1] ?? from))) return [];
  return pairs.map(({ key, value }, index) => ({
    key: `${section}\n${key}`,
    section,
    from: starts[index]!,
    value: value ? saidBy(text, value) : '',
  }));
};

const lineStart = (text: string, offset: number): number => text.lastIndexOf('\n', offset - 1) + 1;

const saidBy = (text: string, item: Item): string =>
  item.kind === 'map'
    ? JSON.stringify(item.pairs.map(({ key, value }) => [key, value ? saidBy(text, value) : '']))
    : item.kind === 'text'
      ? item.text
      : text.slice(item.start, item.end);

/** Comments and empty lines above a key go with it; those at the end of the file stay there. */
const cutAt = (text: string, cuts: readonly Cut[]): readonly Thing[] => {
  const ends = [...cuts.slice(1).map(({ from }) => from), text.length].map((end, at) =>
    contentEnd(text, cuts[at]?.from ?? 0, end),
  );
  const things = cuts.map(({ key, section, value }, at) => ({
    key,
    section,
    value,
    text: text.slice(ends[at - 1] ?? 0, ends[at]),
  }));
  const tail = text.slice(cuts.length === 0 ? 0 : ends.at(-1));
  return tail.trim() === '' ? things : [...things, { key: TAIL, section: TAIL, text: tail, value: '' }];
};

/** The end of the last line before `end` that is neither empty nor a comment. */
const contentEnd = (text: string, from: number, end: number): number => {
  let at = end;
  while (at > from) {
    const start = lineStart(text, at - 1);
    if (!/^\s*(#|$)/.test(text.slice(start, at).trimEnd())) break;
    at = start;
  }
  return at;
};

/** Ours in their order; each of theirs behind the one that it stands behind there, and behind what ours has added at that place. */
const orderOf = (ours: readonly Thing[], theirs: readonly Thing[]): readonly string[] => {
  const order = ours.map(({ key, section }) => ({ key, section }));
  const common = new Set(theirs.map(({ key }) => key));
  let last: Thing | undefined;
  for (const thing of theirs) {
    if (!order.some(({ key }) => key === thing.key)) {
      const isHead = thing.key === thing.section;
      let place = last ? order.findIndex(({ key }) => key === last!.key) + 1 : 0;
      const goesBefore = (one: { key: string; section: string }): boolean =>
        one.section === last?.section || (isHead && one.key !== TAIL && !common.has(one.section));
      while (place < order.length && goesBefore(order[place]!) && (isHead || !common.has(order[place]!.key))) place++;
      order.splice(place, 0, { key: thing.key, section: thing.section });
    }
    last = thing;
  }
  return order.map(({ key }) => key);
};

/** What ours and theirs come to; one and the same where no human is needed, none where it was taken out. */
interface Chunk {
  readonly key: string;
  readonly section: string;
  readonly ours: Thing | undefined;
  readonly theirs: Thing | undefined;
  /** Its section's own line, should all else of the section be gone. */
  readonly any: Thing;
}

const chunkOf = (base: Thing | undefined, ours: Thing | undefined, theirs: Thing | undefined): Chunk => {
  const any = (ours ?? theirs)!;
  const as = (one: Thing | undefined, other: Thing | undefined): Chunk => ({
    key: any.key,
    section: any.section,
    ours: one,
    theirs: other,
    any,
  });
  if (isSame(ours, theirs)) return as(ours, ours);
  if (isSame(base, ours)) return as(theirs, theirs);
  if (isSame(base, theirs)) return as(ours, ours);
  return as(ours, theirs);
};

/** Empty lines around it are of no account. */
const isSame = (one: Thing | undefined, other: Thing | undefined): boolean =>
  one === other || (one !== undefined && other !== undefined && withoutEnds(one) === withoutEnds(other));

const withoutEnds = ({ text }: Thing): string =>
  text
    .trim()
    .split('\n')
    .map((line) => line.trimEnd())
    .join('\n');

/** A section's own line stays as long as anything stands below it on either side. */
const withHeads = (chunks: readonly Chunk[]): readonly Chunk[] => {
  const isThere = ({ ours, theirs }: Chunk): boolean => ours !== undefined || theirs !== undefined;
  const used = new Set(chunks.filter((one) => isThere(one) && one.key !== one.section).map(({ section }) => section));
  return chunks
    .map((chunk) =>
      chunk.key === chunk.section && used.has(chunk.section)
        ? { ...chunk, ours: chunk.ours ?? chunk.any, theirs: chunk.theirs ?? chunk.any }
        : chunk,
    )
    .filter(isThere);
};

/** Written out with one side's version of what differs, it says of each thing what was chosen, and nothing else. */
const isSaidBy = (chunks: readonly Chunk[], side: 'ours' | 'theirs', newline: string): boolean => {
  const chosen = chunks.flatMap((chunk) => chunk[side] ?? []);
  const read = thingsOf(
    joined(
      chosen.map(({ text }) => text),
      newline,
    ),
  );
  return JSON.stringify(read?.map(said)) === JSON.stringify(chosen.map(said));
};

const said = ({ key, value }: Thing): readonly string[] => [key, value];

const joined = (texts: readonly string[], newline: string): string => {
  const text = texts
    .filter((one) => one !== '')
    .map((one) => (one.endsWith(newline) ? one : one + newline))
    .join('');
  return text.replace(/^(?:[ \t]*\r?\n)+/, '');
};

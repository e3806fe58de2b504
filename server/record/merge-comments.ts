/** The comments that one version of an entry has beside the words of another: each stays at the line that it was written at. */
import { scan } from '../syntax/tokens';
import { compareLists } from './lists';
import type { Unit } from './units';

interface Row {
  /** The line as written, without its end. */
  readonly text: string;
  /** What it says; empty for a comment alone and for an empty line. */
  readonly words: string;
  readonly comment: string | undefined;
}

/** `unit` with the comments that `other` has written or changed since `base`; where both changed one, both are kept. */
export const withCommentsOf = (unit: Unit, other: Unit, base: Unit | undefined, newline: string): string => {
  const [mine, theirs, was] = [unit, other, base].map((one) => (one ? rowsOf(one.text, newline) : []));
  const [inMine, inBase] = [placesOf(theirs!, mine!), placesOf(theirs!, was!)];
  const had = new Set([...mine!, ...was!].map(({ comment }) => comment));
  const rows = mine!.map((row) => ({ text: row.text, comment: row.comment, behind: [] as string[] }));
  let at = -1;
  for (const [index, { words, comment }] of theirs!.entries()) {
    const place = inMine.get(index);
    if (words !== '') at = place ?? at;
    if (comment === undefined) continue;
    const old = was![inBase.get(index) ?? -1]?.comment;
    if (words === '' ? had.has(comment) : comment === old) continue;
    const row = rows[words === '' ? at : (place ?? at)] ?? rows.at(-1)!;
    const isFree = words !== '' && place !== undefined && (row.comment === undefined || row.comment === old);
    if (isFree) Object.assign(row, { text: commented(row.text, row.comment, comment), comment });
    else if (row.comment !== comment) row.behind.push(words === '' ? theirs![index]!.text : `  ${comment}`);
  }
  return rows.flatMap(({ text, behind }) => [text, ...behind]).join(newline);
};

const rowsOf = (text: string, newline: string): readonly Row[] =>
  text.split(newline).map((line) => {
    const tokens = scan(line, { start: 0, end: line.length });
    const words = tokens.filter(({ kind }) => kind !== 'comment').map((token) => token.text);
    return {
      text: line,
      words: words.join(' '),
      comment: tokens.find(({ kind }) => kind === 'comment')?.text.trimEnd(),
    };
  });

/** Which line of the other version each line is: the same words, or what stands in their place. */
const placesOf = (rows: readonly Row[], others: readonly Row[]): ReadonlyMap<number, number> => {
  const [said, saidThere] = [saying(rows), saying(others)];
  const places = new Map<number, number>();
  let from = 0;
  const take = (index: number): void => {
    places.set(said[from++]!.index, saidThere[index]!.index);
  };
  let there = 0;
  const differences = compareLists(
    said.map(({ words }) => words),
    saidThere.map(({ words }) => words),
  );
  for (const { was, now, behind } of differences) {
    const end = now?.index ?? (behind ?? -1) + 1;
    while (there < end) take(there++);
    if (was !== undefined && now) take(there++);
    else if (was !== undefined) from++;
    else there++;
  }
  while (from < said.length && there < saidThere.length) take(there++);
  return places;
};

const saying = (rows: readonly Row[]): readonly { readonly words: string; readonly index: number }[] =>
  rows.flatMap(({ words }, index) => (words === '' ? [] : [{ words, index }]));

const commented = (text: string, old: string | undefined, comment: string): string =>
  old === undefined ? `${text.trimEnd()}  ${comment}` : `${text.slice(0, text.lastIndexOf(old))}${comment}`;

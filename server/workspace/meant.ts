/**
 * Which entry a `correct`, a `void` or a `more` speaks of. Where a name stands several times, what the prefixed entry says besides, and does not change,
 * tells which: the day behind `of`, the party, the method, a weight, its scale, a place, a reading. What it changes tells too: the old value stands in the one that is meant.
 */
import type { Entry } from '../engine/entry';
import type { PieceNode, Section, Value } from '../syntax/tree';
import { isSameList } from '../text/lists';
import type { Span } from '../text/span';
import { correctedBy } from './correct';

export interface Meant {
  /** None where there is none, or where it may be any of several. */
  readonly first: Entry | undefined;
  /** Those that it may be, where that is not clear. */
  readonly either: readonly Entry[];
}

const NOBODY: Meant = { first: undefined, either: [] };

const NOTHING_MEANT: ReadonlyMap<Entry, Meant> = new Map();

const kept = new WeakMap<Entry, { readonly same: readonly Entry[]; readonly meant: ReadonlyMap<Entry, Meant> }>();

/** Of entries of one verb and name, in order: what each that has a prefix speaks of. */
export const meantIn = (same: readonly Entry[]): ReadonlyMap<Entry, Meant> => {
  const [key] = same;
  // Most names stand once: nothing speaks of another entry, and nothing is kept of that.
  if (!key || same.every(({ prefix }) => prefix === undefined)) return NOTHING_MEANT;
  const known = kept.get(key);
  if (known && isSameList(known.same, same)) return known.meant;
  const meant = meantOf(same);
  kept.set(key, { same, meant });
  return meant;
};

const meantOf = (same: readonly Entry[]): ReadonlyMap<Entry, Meant> => {
  const firsts = same.filter(({ prefix }) => prefix === undefined);
  // As corrections have left each so far; what was taken back is not meant again as long as another one is left.
  const now = new Map(firsts.map((first) => [first, first]));
  const meant = new Map<Entry, Meant>();
  const mended = new Map<Entry, ReadonlySet<string>>();
  const written: Entry[] = [];
  for (const by of same) {
    written.push(by);
    if (by.prefix === undefined || by.prefix === 'plan') continue;
    const one = by.prefix === 'more' ? goneOnWith(by, firsts) : mendedBy(by, firsts, { now, mended, written });
    meant.set(by, one);
    if (!one.first) continue;
    if (by.prefix === 'void') now.delete(one.first);
    const so = now.get(one.first);
    if (by.prefix !== 'correct' || !so) continue;
    now.set(one.first, correctedBy(so, by).entry);
    const news = newSayings(by.anchor as Section);
    mended.set(one.first, new Set([...(mended.get(one.first) ?? []), ...news]));
  }
  return meant;
};

/** `of DATE` says which; else the last one before. */
const goneOnWith = (by: Entry, firsts: readonly Entry[]): Meant => ({
  first: by.ofDate ? firsts.find(({ date }) => date === by.ofDate) : (before(by, firsts).at(-1) ?? firsts[0]),
  either: [],
});

const before = (by: Entry, firsts: readonly Entry[]): readonly Entry[] =>
  firsts.filter(({ date }) => (date ?? '') <= (by.date ?? ''));

interface SoFar {
  /** As corrections have left each. */
  readonly now: ReadonlyMap<Entry, Entry>;
  /** What corrections have put into each. */
  readonly mended: ReadonlyMap<Entry, ReadonlySet<string>>;
  /** What stands above. */
  readonly written: readonly Entry[];
}

const mendedBy = (by: Entry, firsts: readonly Entry[], { now, mended, written }: SoFar): Meant => {
  const onDay = by.ofDate ? firsts.filter(({ date }) => date === by.ofDate) : before(by, firsts);
  const all = onDay.length > 0 || by.ofDate ? onDay : firsts.slice(0, 1);
  // What is written below is not meant as long as anything above may be.
  const above = all.filter((first) => written.includes(first));
  const left = (above.length > 0 ? above : all).filter((first) => now.has(first));
  const pool = left.length > 0 ? left : all;
  if (pool.length < 2) return { ...NOBODY, first: pool[0] };
  const said = sayings(by.anchor as Section);
  const fitting = pool.filter((first) =>
    isSubset(said, new Set([...sayings(first.anchor as Section), ...(mended.get(first) ?? [])])),
  );
  const some = by.prefix === 'correct' ? mostMended(by, fitting, now) : fitting;
  const [first] = some;
  if (!first) return { first: undefined, either: pool };
  const exact = some.filter((one) => isSubset(sayings(one.anchor as Section), said));
  const last = some.every((one) => isAlike(one, first)) ? some.at(-1) : exact.length === 1 ? exact[0] : undefined;
  return last ? { ...NOBODY, first: last } : { first: undefined, either: some };
};

/** Those in which most of the old values stand. */
const mostMended = (by: Entry, fitting: readonly Entry[], now: ReadonlyMap<Entry, Entry>): readonly Entry[] => {
  const counts = fitting.map((first) => correctedBy(now.get(first) ?? first, by).made.length);
  const most = Math.max(...counts);
  return fitting.filter((_, at) => counts[at] === most);
};

/** Nothing that could be said tells the two apart: then it does not matter which of them is meant. */
const isAlike = (one: Entry, other: Entry): boolean => {
  const [a, b] = [sayings(one.anchor as Section), sayings(other.anchor as Section)];
  return one.date === other.date && isSubset(a, b) && isSubset(b, a);
};

/** What is to be written behind the name, or below it, so that each of several is meant and no other: `of 2026-05-12 by xrf`. */
export const apartWords = (several: readonly Entry[]): readonly string[] =>
  several.map((one) => {
    const others = several.filter((other) => other !== one);
    const ofDay = others.some(({ date }) => date !== one.date) && one.date !== undefined ? [`of ${one.date}`] : [];
    const near = others.filter(({ date }) => date === one.date).map(({ anchor }) => sayings(anchor as Section));
    const own = near.length > 0 ? [...sayings(one.anchor as Section)] : [];
    const telling = own.find((saying) => near.every((other) => !other.has(saying)));
    return [...ofDay, telling ?? own.join(', ')].filter((words) => words !== '').join(' ');
  });

const isSubset = (some: ReadonlySet<string>, all: ReadonlySet<string>): boolean =>
  [...some].every((one) => all.has(one));

const read = new WeakMap<Section, ReadonlySet<string>>();

/**
 * What an entry says that another of its name may not, as it is written: of the first line all but the name and the day behind `of`; details,
 * readings, weights, scales and places. Of a value that is mended the old one; of a detail that is, nothing. What is remarked, and by whom, tells of the writing.
 */
export const sayings = (section: Section): ReadonlySet<string> => {
  const known = read.get(section);
  if (known) return known;
  const written = ({ start, end }: { start: number; end: number }): string =>
    section.text.slice(start, end).trim().replace(/\s+/g, ' ');
  const ofHead = (value: Value): readonly string[] =>
    value.shape === 'date' && value.lead?.text.toLowerCase() === 'of'
      ? []
      : [`${value.lead ? `${value.lead.text.toLowerCase()} ` : ''}${written(value.was ?? value)}`];
  const said = section.lines
    .flatMap(({ pieces }) => pieces)
    .flatMap((piece) => {
      if (piece.kind === 'head')
        return [...piece.values.slice(1).flatMap(ofHead), ...(piece.scale ? [`on ${piece.scale.text}`] : [])];
      const isMend = piece.values.some(({ was }) => was) || piece.readings.some(({ amount }) => amount.was);
      return isOfWriting(piece) || piece.kind === 'stray' || isMend ? [] : [written(piece)];
    });
  const made = new Set(said);
  read.set(section, made);
  return made;
};

/** Remarks that tell of the writing; others tell which scale, place or owner it was. */
const OF_WRITING: ReadonlySet<string> = new Set(['because', 'note', 'hand', 'witness', 'photo', 'paper']);

const isOfWriting = ({ kind, word }: PieceNode): boolean =>
  kind === 'remark' && (!word || OF_WRITING.has(word.text.toLowerCase()));

const WAS = 'was';

/** What a correction makes an entry say that it mends: its new values, each as it would stand there. */
const newSayings = (section: Section): readonly string[] => {
  const { text } = section;
  const without = (from: number, to: number, olds: readonly Span[]): string => {
    let [made, at] = ['', from];
    for (const { start, end } of olds) {
      // The word `was` stands before the old value.
      made += text.slice(at, start).trimEnd().slice(0, -WAS.length).trimEnd();
      at = end;
    }
    return (made + text.slice(at, to)).trim().replace(/\s+/g, ' ');
  };
  return section.lines
    .flatMap(({ pieces }) => pieces)
    .flatMap((piece) => {
      if (piece.kind === 'head')
        return piece.values.slice(1).flatMap((value) => {
          const lead = value.lead ? `${value.lead.text.toLowerCase()} ` : '';
          return value.was ? [lead + without(value.start, value.was.end, [value.was])] : [];
        });
      const olds = [...piece.values.map(({ was }) => was), ...piece.readings.map(({ amount }) => amount.was)];
      const there = olds.filter((was) => was !== undefined).sort((a, b) => a.start - b.start);
      return there.length > 0 && !isOfWriting(piece) ? [without(piece.start, piece.end, there)] : [];
    });
};

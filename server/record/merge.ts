/**
 * Three versions of a page to one, by what its days and entries are and not by lines. An entry that one hand changed is taken from that hand; one that
 * both changed, each in its own way, is a conflict, and is left to a human with both versions. Nothing that either side wrote is lost.
 */
import { withCommentsOf } from './merge-comments';
import { type Unit, unitsOf } from './units';

export interface Merged {
  readonly text: string;
  /** What it is that both sides changed: `melt M58`. */
  readonly conflicts: readonly string[];
}

export interface Labels {
  readonly ours: string;
  readonly theirs: string;
}

/** Undefined where a version has merge markers already. */
export const mergePages = (base: string, ours: string, theirs: string, labels: Labels): Merged | undefined => {
  const newline = ours.includes('\r\n') ? '\r\n' : '\n';
  const [b, o, t] = [base, ours, theirs].map((text) => unitsOf(withLineEnds(text, newline)));
  if (!b || !o || !t) return undefined;
  const versions: Versions = { base: byKey(b), ours: byKey(o), theirs: byKey(t) };
  const conflicts: string[] = [];
  const all = orderOf(o, t).map((key) => ({ key, ...mergedUnit(key, versions, labels, newline) }));
  for (const { key, conflict } of all) if (conflict) conflicts.push(key.replace(/^day /, '').trim());
  const days = new Set(all.flatMap(({ key, text }) => (text === '' ? [] : (unitIn(versions, key).day ?? []))));
  // A day that one side took out stays over what the other has written under it: else that would stand under the day above.
  const chunks: Chunk[] = all
    .map(({ key, text }) => ({ key, text: text === '' && days.has(key) ? unitIn(versions, key).text : text }))
    .filter(({ text }) => text !== '');
  return { text: joined(chunks, new Set([...neighbours(o), ...neighbours(t)]), newline), conflicts };
};

type Keyed = ReadonlyMap<string, Unit>;

interface Versions {
  readonly base: Keyed;
  readonly ours: Keyed;
  readonly theirs: Keyed;
}

/** As one of the two sides has it. */
const unitIn = ({ ours, theirs }: Versions, key: string): Unit => (ours.get(key) ?? theirs.get(key))!;

const byKey = (units: readonly Unit[]): Keyed => new Map(units.map((unit) => [unit.key, unit]));

export const withLineEnds = (text: string, newline: string): string =>
  text.replace(/^\ufeff/, '').replace(/\r\n|\r|\n/g, newline);

/**
 * Days by date, and under each its entries: ours in their order, each of theirs behind the one that it stands behind there. A day that goes back
 * in ours keeps its place.
 */
const orderOf = (ours: readonly Unit[], theirs: readonly Unit[]): readonly string[] => {
  const order = ours.map(({ key }) => key);
  const places = new Set(order);
  let last: string | undefined;
  for (const unit of theirs) {
    if (!places.has(unit.key)) {
      order.splice(placeFor(order, unit, last, ours, theirs), 0, unit.key);
      places.add(unit.key);
    }
    last = unit.key;
  }
  return order;
};

const placeFor = (
  order: readonly string[],
  unit: Unit,
  last: string | undefined,
  ours: readonly Unit[],
  theirs: readonly Unit[],
): number => {
  if (unit.section.kind === 'preamble') return 0;
  if (unit.section.kind === 'day') return placeOfDay(order, unit.section.date ?? '', [...ours, ...theirs]);
  // What ours has written there comes first.
  const common = new Set(theirs.map(({ key }) => key));
  const entries = new Set(ours.flatMap(({ key, section }) => (section.kind === 'entry' ? [key] : [])));
  let place = (last === undefined ? -1 : order.indexOf(last)) + 1;
  while (entries.has(order[place] ?? '') && !common.has(order[place]!)) place++;
  return place;
};

/** Before the first day that is later. */
const placeOfDay = (order: readonly string[], date: string, units: readonly Unit[]): number => {
  const dates = new Map(
    units.flatMap(({ key, section }) => (section.kind === 'day' ? [[key, section.date ?? '']] : [])),
  );
  const later = order.findIndex((key) => (dates.get(key) ?? '') > date);
  return later < 0 ? order.length : later;
};

interface Made {
  readonly text: string;
  readonly conflict: boolean;
}

const mergedUnit = (key: string, { base, ours, theirs }: Versions, labels: Labels, newline: string): Made => {
  const [b, o, t] = [base.get(key), ours.get(key), theirs.get(key)];
  if (o && t) {
    if (o.said === t.said) return clean(withComments(o, t, b, newline));
    if (b && b.said === o.said) return clean(withComments(t, o, b, newline));
    if (b && b.said === t.said) return clean(withComments(o, t, b, newline));
    // A day that both began has the text of the one who wrote one.
    if (!b && o.section.kind === 'day' && (o.said === '' || t.said === ''))
      return clean(o.said === '' ? withComments(t, o, b, newline) : withComments(o, t, b, newline));
    return { text: conflictText(o.text, t.text, labels, newline) + newline, conflict: true };
  }
  const one = (o ?? t)!;
  if (!b) return clean(one.text);
  // One side took it out: it goes where the other left it as it was.
  if (b.said === one.said) return clean('');
  return { text: conflictText(o?.text, t?.text, labels, newline) + newline, conflict: true };
};

const clean = (text: string): Made => ({ text, conflict: false });

/** The one version, and the comments that the other has beside it. */
const withComments = (unit: Unit, other: Unit, base: Unit | undefined, newline: string): string => {
  if (base && unit.said === other.said && unit.text.trimEnd() === base.text.trimEnd()) return other.text;
  if (other.text.trimEnd() === base?.text.trimEnd()) return unit.text;
  return withCommentsOf(unit, other, base, newline);
};

export const conflictText = (
  ours: string | undefined,
  theirs: string | undefined,
  labels: Labels,
  newline: string,
): string => {
  const side = (text: string | undefined): string => (text === undefined ? '' : `${text.trimEnd()}${newline}`);
  return `<<<<<<< ${labels.ours}${newline}${side(ours)}=======${newline}${side(theirs)}>>>>>>> ${labels.theirs}${newline}`;
};

interface Chunk {
  readonly key: string;
  readonly text: string;
}

/** Which two stand one behind the other. */
const neighbours = (units: readonly Unit[]): readonly string[] =>
  units.slice(1).map(({ key }, at) => `${units[at]!.key}\n${key}`);

/** An empty line beside a day and beside an entry of several lines, where two come together that did not stand together. */
const joined = (chunks: readonly Chunk[], together: ReadonlySet<string>, newline: string): string => {
  let text = '';
  for (const [at, { key, text: chunk }] of chunks.entries()) {
    if (text !== '' && !text.endsWith(newline)) text += newline;
    const before = chunks[at - 1];
    const meet = before !== undefined && !together.has(`${before.key}\n${key}`);
    const needsGap = meet && !text.endsWith(newline + newline) && (isLong(chunk) || isLong(before.text));
    text += needsGap ? newline + chunk : chunk;
  }
  return text === '' ? '' : `${text.trimEnd()}${newline}`;
};

const isLong = (chunk: string): boolean => /\n./.test(chunk.trimEnd()) || /^\d{4}-/.test(chunk);

/** What was corrected, in words: every report that rests on a corrected figure says so, and names both readings, the day and the reason. */
import type { Entry } from '../engine/entry';
import type { Section } from '../syntax/tree';
import type { Place } from '../text/place';
import type { Correction } from '../workspace/correct';
import { correctionsIn } from '../workspace/parts';
import type { Workspace } from '../workspace/workspace';
import { stepWords } from './words';

/** What was mended in an entry: a figure, or the whole of it taken back. */
export interface Mended {
  /** As it counts; as it was written, where it was taken back. */
  readonly entry: Entry;
  /** The `correct` or `void`. */
  readonly by: Entry;
  /** Where that says so. */
  readonly place: Place;
  readonly says: string;
  /** The line that it changes; the entry's first, where it was taken back. */
  readonly at: Place;
}

const mended = (entry: Entry, correction: Correction): Mended => ({
  entry,
  by: correction.by,
  place: correction.place,
  at: correction.at,
  says: mendedWords(entry, correction),
});

/** Of entries as they count. */
export const mendedSays = (counted: readonly Entry[]): readonly string[] =>
  counted.flatMap((entry) => correctionsIn(entry).map((one) => mendedWords(entry, one)));

/** All of a record, in the order of its pages. */
export const mendedIn = (workspace: Workspace): readonly Mended[] => {
  const known = mendedOf.get(workspace) ?? lookFor(workspace);
  mendedOf.set(workspace, known);
  return known;
};

/** A document of each month of a long record asks as often as there are months. */
const mendedOf = new WeakMap<Workspace, readonly Mended[]>();

const lookFor = (workspace: Workspace): readonly Mended[] =>
  [...workspace.pages.values()].flatMap(({ entries }) =>
    entries.flatMap((by): readonly Mended[] => {
      if (by.broken) return [];
      if (by.prefix === 'void') return takenBack(workspace, by);
      if (by.prefix !== 'correct') return [];
      const { parts } = workspace.book.account(by);
      return parts.flatMap((entry) =>
        correctionsIn(entry).flatMap((one) => (one.by === by ? [mended(entry, one)] : [])),
      );
    }),
  );

const takenBack = ({ book }: Workspace, by: Entry): readonly Mended[] => {
  const entry = book.account(by).mends;
  if (!entry) return [];
  const why = by.said.because ? `, because ${by.said.because}` : '';
  return [
    {
      entry,
      by,
      place: by.head,
      at: entry.head,
      says: `${entryWords(entry)}, taken back${onWords(by)}${why}${handWords(by)}.`,
    },
  ];
};

/** `Corrected on 2026-05-06: out B 19.98 g was 19.89 g, because digits swapped.` */
export const correctionWords = (one: Correction): string =>
  `Corrected${one.by.date ? ` on ${one.by.date}` : ''}: ${bothWords(one)}.`;

/** `cast C1 of 2026-05-04, corrected on 2026-05-06: out B 19.98 g was 19.89 g, because digits swapped (AB).` */
const mendedWords = (entry: Entry, one: Correction): string =>
  `${entryWords(entry)}, corrected${onWords(one.by)}: ${bothWords(one)}${handWords(one.by)}.`;

const entryWords = (entry: Entry): string => `${stepWords(entry)}${entry.date ? ` of ${entry.date}` : ''}`;
const onWords = ({ date }: Entry): string => (date ? ` on ${date}` : '');
const handWords = ({ said }: Entry): string => (said.hand ? ` (${said.hand.name})` : '');

/** How many of these a lot rests on: they speak of it, or of what it was made of. */
export const countBehind = ({ book }: Workspace, all: readonly Mended[]): ((lot: string) => number) => {
  const parents = (lot: string): readonly string[] =>
    (book.lot(lot)?.events ?? []).flatMap(({ kind, entry }) => {
      if (kind === 'made' || kind === 'continued')
        return entry.flows.flatMap((flow) => (flow.word !== 'out' && flow.lot ? [flow.lot.name] : []));
      return kind === 'renamed' && entry.name ? [entry.name.name] : [];
    });
  return (lot) => {
    if (all.length === 0) return 0;
    const lots = new Set([lot]);
    // A set goes on to what is added to it meanwhile.
    for (const one of lots) for (const parent of parents(one)) lots.add(parent);
    return all.filter(speaksOf(lots)).length;
  };
};

const lotsOf = ({ entry }: Mended): ReadonlySet<string> =>
  new Set([entry.name, ...entry.flows.map(({ lot }) => lot)].flatMap((one) => (one ? [one.name] : [])));

/** What stands below a report; none where nothing that it rests on was corrected. */
export const correctedNote = (workspace: Workspace, restsOn: (mended: Mended) => boolean): string | undefined => {
  const all = mendedIn(workspace).filter(restsOn);
  const back = all.filter(({ by }) => by.prefix === 'void').length;
  const corrected = all.length - back;
  const parts = [
    ...(corrected > 0 ? [`${corrected === 1 ? '1 figure here was' : `${corrected} figures here were`} corrected`] : []),
    ...(back > 0 ? [`${back === 1 ? '1 entry was' : `${back} entries were`} taken back`] : []),
  ];
  return parts.length > 0 ? `${parts.join(', ')}: \`fineweight record\` tells how.` : undefined;
};

/** Of entries that speak of one of these lots. */
export const speaksOf =
  (lots: ReadonlySet<string>) =>
  (mended: Mended): boolean =>
    [...lotsOf(mended)].some((name) => lots.has(name));

/** Of entries of a time, each day included. */
export const isOfTime =
  ({ from, to }: { readonly from?: string | undefined; readonly to?: string | undefined }) =>
  ({ entry: { date = '' } }: Mended): boolean =>
    (from === undefined || date >= from) && (to === undefined || date <= to);

const bothWords = (one: Correction): string => {
  const why = reasonOf(one);
  return `${lineWords(one)}${why ? `, because ${why}` : ''}`;
};

/** `19.98 g`: what stands there now. */
export const newWords = ({ by, place }: Correction): string =>
  untilWas((by.anchor as Section).text, place.start)
    .split(/\swas\s/, 1)[0]!
    .trimEnd();

/** `out B 19.98 g was 19.89 g`, as written; from the value on where it stands in the entry's first line. */
const lineWords = ({ by, place }: Correction): string => {
  const { text } = by.anchor as Section;
  const start = text.lastIndexOf('\n', place.start - 1) + 1;
  return untilWas(text, start === 0 ? (metalBefore(by, place) ?? place).start : start);
};

/** Of a share of an assay: the metal that it is of. */
const metalBefore = ({ readings }: Entry, { start }: Place): Place | undefined =>
  readings.flatMap(({ reading }) => reading.metals).find(({ amount }) => amount.place.start === start)?.symbol.place;

/** From there to the old value. */
const untilWas = (text: string, start: number): string => {
  const line = text.slice(start).split(/[\r\n]/, 1)[0]!;
  return (/^.*?\bwas\b[^,#]*/.exec(line)?.[0] ?? line).split(/\s(?:because|note)\b/, 1)[0]!.trim();
};

/** Said on its line, else of the whole correction. */
const reasonOf = ({ by, place }: Correction): string | undefined => {
  const lines = [...by.flows, ...by.gear.map(({ item, said }) => ({ place: item.place, said })), ...by.others];
  const ofAmounts = by.amounts.map(({ amount, said }) => ({ place: amount.place, said }));
  const ofReadings = by.readings.map(({ reading, said }) => ({ place: reading.place, said }));
  const own = [...lines, ...ofAmounts, ...ofReadings].find(
    (line) => line.place.start <= place.start && place.start < line.place.end,
  );
  return own?.said.because ?? by.said.because;
};

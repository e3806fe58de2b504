/** What was corrected, in words: every report that rests on a corrected figure says so, and names both readings, the day and the reason. */
import type { Entry } from '../engine/entry';
import type { Section } from '../syntax/tree';
import type { Correction } from '../workspace/correct';
import { correctionsIn } from '../workspace/parts';
import type { Workspace } from '../workspace/workspace';
import { stepWords } from './words';

/** A correction with the entry that it mends, as that counts. */
export interface Mended {
  readonly entry: Entry;
  readonly correction: Correction;
}

/** Of entries as they count. */
export const mendedSays = (counted: readonly Entry[]): readonly string[] =>
  counted.flatMap((entry) => correctionsIn(entry).map((correction) => mendedWords({ entry, correction })));

/** All of a record, in the order of its pages. */
export const mendedIn = ({ pages, book }: Workspace): readonly Mended[] =>
  [...pages.values()].flatMap(({ entries }) =>
    entries
      .filter(({ prefix, broken }) => prefix === 'correct' && !broken)
      .flatMap((by) =>
        book
          .account(by)
          .parts.flatMap((entry) =>
            correctionsIn(entry).flatMap((correction) => (correction.by === by ? [{ entry, correction }] : [])),
          ),
      ),
  );

/** `Corrected on 2026-05-06: out B 19.98 g was 19.89 g, because digits swapped.` */
export const correctionWords = (one: Correction): string =>
  `Corrected${one.by.date ? ` on ${one.by.date}` : ''}: ${bothWords(one)}.`;

/** `cast C1 of 2026-05-04, corrected on 2026-05-06: out B 19.98 g was 19.89 g, because digits swapped (AB).` */
export const mendedWords = ({ entry, correction }: Mended): string => {
  const { by } = correction;
  const what = `${stepWords(entry)}${entry.date ? ` of ${entry.date}` : ''}`;
  const hand = by.said.hand ? ` (${by.said.hand.name})` : '';
  return `${what}, corrected${by.date ? ` on ${by.date}` : ''}: ${bothWords(correction)}${hand}.`;
};

/** What stands below a report; none where nothing that it rests on was corrected. */
export const correctedNote = (workspace: Workspace, restsOn: (mended: Mended) => boolean): string | undefined => {
  const count = mendedIn(workspace).filter(restsOn).length;
  if (count === 0) return undefined;
  return `${count === 1 ? '1 figure here was' : `${count} figures here were`} corrected: \`fineweight record\` tells how.`;
};

/** Of entries that speak of one of these lots. */
export const speaksOf =
  (lots: ReadonlySet<string>) =>
  ({ entry }: Mended): boolean =>
    [entry.name, ...entry.flows.map(({ lot }) => lot)].some((one) => one !== undefined && lots.has(one.name));

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
  untilWas((by.anchor as Section).text, place.start).split(/\s+was\s+/, 1)[0]!;

/** `out B 19.98 g was 19.89 g`, as written; from the value on where it stands in the entry's first line. */
const lineWords = ({ by, place }: Correction): string => {
  const { text } = by.anchor as Section;
  const start = text.lastIndexOf('\n', place.start - 1) + 1;
  return untilWas(text, start === 0 ? place.start : start);
};

/** From there to the old value. */
const untilWas = (text: string, start: number): string => {
  const line = text.slice(start).split(/[\r\n]/, 1)[0]!;
  return (/^.*?\bwas\b[^,#]*/.exec(line)?.[0] ?? line)
    .trim()
    .replace(/\s+(?:because|note)\b.*$/, '')
    .trim();
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

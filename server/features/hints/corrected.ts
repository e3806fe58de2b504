/** What a correction says, at the line that it changes: the page keeps what stood there. */
import type { Entry } from '../../engine/entry';
import { fitting } from '../../reports/figures';
import { escapeMarkdown } from '../../reports/markdown';
import type { Section } from '../../syntax/tree';
import type { Correction } from '../../workspace/correct';
import { correctionsIn } from '../../workspace/parts';
import { type Draft, familyOf, RANK, type Subject } from './draft';

export const correctedDrafts = ({ entry }: Subject): Draft[] =>
  correctionsIn(entry).map((one) => {
    const now = newWords(one);
    return {
      at: one.at,
      label: fitting(`corrected: ${now}`, 'corrected'),
      short: 'corrected',
      tooltip: () => escapeMarkdown(correctionWords(one)),
      family: familyOf(entry.verb),
      rank: RANK.doubt,
    };
  });

/** `Corrected on 2026-05-06: 19.98 g was 19.89 g, because digits swapped.` */
export const correctionWords = (one: Correction): string => {
  const { by } = one;
  const why = reasonOf(by, one);
  return `Corrected${by.date ? ` on ${by.date}` : ''}: ${writtenIn(one)}${why ? `, because ${why}` : ''}.`;
};

/** From the new value to the old one, as written. */
const writtenIn = ({ by, place }: Correction): string => {
  const { text } = by.anchor as Section;
  const line = text.slice(place.start).split(/[\r\n]/, 1)[0]!;
  return (/^.*?\bwas\b[^,#]*/.exec(line)?.[0] ?? line)
    .trim()
    .replace(/\s+(?:because|note)\b.*$/, '')
    .trim();
};

const newWords = (one: Correction): string => writtenIn(one).split(/\s+was\s+/, 1)[0]!;

/** Said on its line, else of the whole correction. */
const reasonOf = (by: Entry, { place }: Correction): string | undefined => {
  const lines = [...by.flows, ...by.gear.map(({ item, said }) => ({ place: item.place, said })), ...by.others];
  const ofAmounts = by.amounts.map(({ amount, said }) => ({ place: amount.place, said }));
  const ofReadings = by.readings.map(({ reading, said }) => ({ place: reading.place, said }));
  const own = [...lines, ...ofAmounts, ...ofReadings].find(
    (line) => line.place.start <= place.start && place.start < line.place.end,
  );
  return own?.said.because ?? by.said.because;
};

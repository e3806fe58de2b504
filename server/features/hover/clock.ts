/** A time of an entry: how long after the one above it, and what was read from its text. */
import type { Clock, Entry } from '../../engine/entry';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import { dayNumber, isDate } from '../../text/calendar';
import { EVENTS } from '../../vocabulary/words';
import { temperatureWords } from './amount';

export const clockMarkdown = (entry: Entry, offset: number): string | undefined => {
  const index = entry.clocks.findIndex(({ place }) => place.start <= offset && offset <= place.end);
  const clock = entry.clocks[index];
  if (!clock) return undefined;
  const before = entry.clocks.slice(0, index).findLast(({ time }) => time !== undefined);
  const when = [clock.time, clock.date && `on ${clock.date}`].filter(Boolean).join(' ');
  const since = before && sinceWords(before, clock);
  return paragraphs(`**${when}**${since ? ` · ${since}` : ''}`, readWords(clock));
};

const MINUTES_A_DAY = 1440;

/** Clock times on the wall: a night when clocks change is not told. */
const minutesOf = ({ date, time }: Clock): number | undefined => {
  if (!time || !date || !isDate(date)) return undefined;
  const [hour, minute] = [time.slice(0, 2), time.slice(3)].map(
    (two) => (two.charCodeAt(0) - 48) * 10 + two.charCodeAt(1) - 48,
  );
  return dayNumber(date) * MINUTES_A_DAY + hour! * 60 + minute!;
};

const sinceWords = (before: Clock, clock: Clock): string | undefined => {
  const [from, to] = [minutesOf(before), minutesOf(clock)];
  if (from === undefined || to === undefined || to < from) return undefined;
  const minutes = to - from;
  const hours = Math.floor(minutes / 60);
  const length = hours === 0 ? `${minutes} min` : minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return `${length} after ${before.time}`;
};

const readWords = ({ events, temperature, mould }: Clock): string | undefined => {
  const meanings = events.map((event) => `\`${event}\`: ${EVENTS.find(({ word }) => word === event)?.meaning ?? ''}`);
  const heat =
    temperature &&
    `${escapeMarkdown(`${temperature.text} ${temperature.unit!.symbol}`)} is ${temperatureWords(temperature)}.`;
  const into = mould && `Into ${escapeMarkdown(mould.name)}.`;
  const said = [...meanings, heat, into].filter((part) => part !== undefined);
  return said.length > 0 ? said.join(' ') : undefined;
};

/** Times and temperatures of an entry as figures. Clock times are those on the wall: a night when clocks change is not told. */
import { toCelsius } from '../quantity/units';
import { dayNumber, isDate } from '../text/calendar';
import type { Clock, Entry } from './entry';

const MINUTES_A_DAY = 1440;

/** Since the first of all days; none without a time. */
export const minutesOf = ({ date, time }: Clock): number | undefined => {
  if (!time || !date || !isDate(date)) return undefined;
  const [hour, minute] = [time.slice(0, 2), time.slice(3)].map(
    (two) => (two.charCodeAt(0) - 48) * 10 + two.charCodeAt(1) - 48,
  );
  return dayNumber(date) * MINUTES_A_DAY + hour! * 60 + minute!;
};

/** From one line to a later one, min; none where one has no time, or it is not later. */
export const minutesBetween = (from: Clock, to: Clock): number | undefined => {
  const [start, end] = [minutesOf(from), minutesOf(to)];
  return start === undefined || end === undefined || end < start ? undefined : end - start;
};

export const celsiusOf = ({ temperature }: Clock): number | undefined =>
  temperature?.unit?.kind === 'temperature' ? toCelsius(temperature.value, temperature.unit).toNumber() : undefined;

/** `5 min`, `1 h 5 min`. */
export const lengthWords = (minutes: number): string => {
  const hours = Math.floor(minutes / 60);
  if (hours === 0) return `${minutes} min`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
};

/** Of an entry as it stands under its day: a time on another date orders nothing there. */
export const ownTimeOf = (clocks: Entry['clocks'], day: string | undefined): string | undefined =>
  clocks.find(({ date, time }) => time !== undefined && date === day)?.time;

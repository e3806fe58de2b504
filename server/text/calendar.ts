/** Calendar dates and times of day as text. No clock, no zone: what a page says is what is meant. */

const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

const isLeap = (year: number): boolean => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);

const daysIn = (year: number, month: number): number => (month === 2 && isLeap(year) ? 29 : (DAYS[month - 1] ?? 0));

const whole = (text: string): number => {
  let value = 0;
  for (const digit of text) value = value * 10 + (digit.charCodeAt(0) - 48);
  return value;
};

const two = (value: number): string => (value < 10 ? `0${value}` : `${value}`);

/** `2026-05-04`, and a day that there is. */
export const isDate = (text: string): boolean => /^\d{4}-\d{2}-\d{2}$/.test(text) && datePartsFit(text);

const datePartsFit = (text: string): boolean => {
  const [year, month, day] = text.split('-').map(whole) as [number, number, number];
  return year >= 1 && month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month);
};

/**
 * `2026-5-4`, `2026/05/04` and `4.5.2026` written in full, if that is a day that there is. `04/05/2026` may be May or April: it is read only
 * where one of the two can be no month.
 */
export const asDate = (text: string): string | undefined => {
  const parts = DAY_LIKE.exec(text);
  if (!parts) return undefined;
  const [, first, mark, second, third] = parts as unknown as [string, string, string, string, string];
  if (first.length === 4) return fullDate(first, second, third);
  if (third.length === 4 && mark === '.') return fullDate(third, second, first);
  const [one, ...others] = readingsOf(text);
  return others.length === 0 ? one : undefined;
};

/** The days that `04/05/2026` may be: with its month behind the day, and before it. */
export const readingsOf = (text: string): readonly string[] => {
  const [, first, , second, third] = DAY_LIKE.exec(text) ?? [];
  if (first === undefined || second === undefined || third?.length !== 4) return [];
  const both = [fullDate(third, first, second), fullDate(third, second, first)];
  return [...new Set(both.filter((date) => date !== undefined))];
};

const DAY_LIKE = /^(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})$/;

/** Meant for a date, however it is written. */
export const looksLikeDate = (text: string): boolean => text.length <= 10 && DAY_LIKE.test(text);

const fullDate = (year: string, month: string, day: string): string | undefined => {
  const full = `${year}-${two(whole(month))}-${two(whole(day))}`;
  return isDate(full) ? full : undefined;
};

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

const WEEKDAYS: ReadonlySet<string> = new Set(['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun']);

/** `4 May 2026`, `May 4, 2026`, `Monday 2026-05-04` at the start of a line: how much of it that is, and the day. */
export const dayInWords = (line: string): { readonly length: number; readonly date: string } | undefined => {
  // Asked of every line at the margin.
  const head = line.slice(0, 3).toLowerCase();
  if (!/^\d/.test(head) && !MONTHS.includes(head) && !WEEKDAYS.has(head)) return undefined;
  const words = [...line.slice(0, MOST_IN_WORDS).matchAll(/[\p{L}\d-]+/gu)].map(({ 0: text, index }) => ({
    text,
    end: index + text.length,
  }));
  const short = (at: number): string => words[at]?.text.slice(0, 3).toLowerCase() ?? '';
  const from = WEEKDAYS.has(short(0)) ? 1 : 0;
  const whole = words[from];
  if (from > 0 && whole && isDate(whole.text)) return { length: whole.end, date: whole.text };
  const [one, two, year] = [short(from), short(from + 1), words[from + 2]];
  const month = MONTHS.includes(one) ? one : two;
  const day = /^\d{1,2}(?=$|[a-z]{2}$)/.exec(words[from + (month === one ? 1 : 0)]?.text ?? '')?.[0];
  if (!MONTHS.includes(month) || day === undefined || !year || !/^\d{4}$/.test(year.text)) return undefined;
  const date = fullDate(year.text, `${MONTHS.indexOf(month) + 1}`, day);
  return date === undefined ? undefined : { length: year.end, date };
};

/** `Wednesday, September 30th, 2026` is shorter. */
const MOST_IN_WORDS = 40;

/** `10:30pm`, `10.45`, `11h00` as it is written here, if that is a time that there is. */
export const timeMeant = (clock: string, half: string | undefined): string | undefined => {
  const [hour = '', minute = ''] = clock.split(/[:.h]/i);
  if (!/^\d{1,2}$/.test(hour) || !/^\d{2}$/.test(minute)) return undefined;
  const late = half?.toLowerCase().startsWith('p');
  const hours = whole(hour);
  if (half !== undefined && (hours === 0 || hours > 12) && !(late && hours > 12)) return undefined;
  const meant = half === undefined || hours > 12 ? hours : (hours % 12) + (late ? 12 : 0);
  const time = `${two(meant)}:${minute}`;
  return isTime(time) ? time : undefined;
};

/** `8:10` and `08:10`, up to `23:59`. */
export const isTime = (text: string): boolean => {
  const [hour, minute] = text.split(':');
  return hour !== undefined && minute !== undefined && minute.length === 2 && whole(hour) < 24 && whole(minute) < 60;
};

export const asTime = (text: string): string => (text.length === 4 ? `0${text}` : text);

/** Days since 0001-01-01, so that dates can be subtracted. Takes a valid date. */
export const dayNumber = (date: string): number => {
  const [year, month, day] = date.split('-').map(whole) as [number, number, number];
  const before = year - 1;
  let days = before * 365 + Math.floor(before / 4) - Math.floor(before / 100) + Math.floor(before / 400);
  for (let earlier = 1; earlier < month; earlier++) days += daysIn(year, earlier);
  return days + day - 1;
};

/** The day after. */
export const nextDate = (date: string): string => {
  const [year, month, day] = date.split('-').map(whole) as [number, number, number];
  if (day < daysIn(year, month)) return `${date.slice(0, 8)}${two(day + 1)}`;
  return month < 12 ? `${date.slice(0, 5)}${two(month + 1)}-01` : `${`${year + 1}`.padStart(4, '0')}-01-01`;
};

/** The day before; the same of the first day that there is. */
export const dayBefore = (date: string): string => {
  const [year, month, day] = date.split('-').map(whole) as [number, number, number];
  if (day > 1) return `${date.slice(0, 8)}${two(day - 1)}`;
  if (month > 1) return `${date.slice(0, 5)}${two(month - 1)}-${two(daysIn(year, month - 1))}`;
  return year > 1 ? `${`${year - 1}`.padStart(4, '0')}-12-31` : date;
};

/** So many days before; the first day that there is where that is earlier. */
export const daysBefore = (date: string, days: number): string =>
  Array.from({ length: days }).reduce<string>((day) => dayBefore(day), date);

/** The last day of a month that is given as `2026-06`. */
export const lastDateOf = (month: string): string => {
  const [year, of] = month.split('-').map(whole) as [number, number];
  return `${month}-${two(daysIn(year, of))}`;
};

/** Months from that of one day to that of another, as `2026-06`. */
export const monthsBetween = (first: string, last: string): readonly string[] => {
  const months: string[] = [];
  for (let date = `${first.slice(0, 7)}-01`; date <= last; date = nextDate(lastDateOf(date.slice(0, 7)))) {
    months.push(date.slice(0, 7));
  }
  return months;
};

/** How many days of each month lie between two days, both counted, and how many that month has. */
export const daysOfMonths = (first: string, last: string): readonly { readonly days: number; readonly of: number }[] =>
  monthsBetween(first, last).map((month) => {
    const [from, to] = [`${month}-01`, lastDateOf(month)];
    const [start, end] = [first > from ? first : from, last < to ? last : to];
    return { days: dayNumber(end) - dayNumber(start) + 1, of: dayNumber(to) - dayNumber(from) + 1 };
  });

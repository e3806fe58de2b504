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

/** `2026-5-4` written in full, if that is a day that there is. */
export const asDate = (text: string): string | undefined => {
  const parts = text.split('-');
  if (parts.length !== 3) return undefined;
  const full = `${parts[0]}-${two(whole(parts[1]!))}-${two(whole(parts[2]!))}`;
  return isDate(full) ? full : undefined;
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

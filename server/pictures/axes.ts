/** Scales with their lines and figures. */
import { type ScaleLinear, scaleLinear } from 'd3-scale';
import { decimal } from '../quantity/decimal';
import { showPlaces } from '../quantity/show';
import { LINE, line, text, widthOf } from './svg';

export type Scale = ScaleLinear<number, number>;

/** From the least to the most with a little air, and never without width. */
export const scaleOver = (values: readonly number[], from: number, to: number, air = 0.06): Scale => {
  const [least, most] = values.length > 0 ? [Math.min(...values), Math.max(...values)] : [0, 1];
  const width = most - least || Math.abs(most) * 0.1 || 1;
  return scaleLinear([least - air * width, most + air * width], [from, to]);
};

/** Round figures on a scale, as they are shown: alike in places, a real minus sign before those below nought. */
export const ticksOf = (scale: Scale, count: number): readonly { readonly at: number; readonly says: string }[] => {
  const ticks = scale.ticks(count);
  const step = ticks.length > 1 ? Math.abs(ticks[1]! - ticks[0]!) : 1;
  const places = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return ticks.map((value) => ({ at: scale(value), says: signed(showPlaces(decimal(value), places)) }));
};

export const signed = (says: string): string => says.replace(/^-/, '−');

/** Figures to the left of a panel, with a fine line across it. */
export const leftAxis = (scale: Scale, left: number, right: number, count: number, unit = ''): string[] =>
  ticksOf(scale, count).flatMap(({ at, says }) => [
    line(left, at, right, at, 'grid'),
    text(left - 6, at + 4, `${says}${unit}`, { of: 'soft small', anchor: 'end' }),
  ]);

/** Figures below a panel, with a fine line up it. */
export const bottomAxis = (scale: Scale, top: number, bottom: number, count: number, unit = ''): string[] =>
  roomyTicks(scale, count, unit).flatMap(({ at, says }) => [
    line(at, top, at, bottom, 'grid'),
    text(at, bottom + 15, `${says}${unit}`, { of: 'soft small', anchor: 'middle' }),
  ]);

/** As many figures as do not touch. */
const roomyTicks = (scale: Scale, count: number, unit: string): ReturnType<typeof ticksOf> => {
  const ticks = ticksOf(scale, count);
  const widest = Math.max(...ticks.map(({ says }) => widthOf(`${says}${unit}`, 11)));
  const apart = ticks.length > 1 ? Math.abs(ticks[1]!.at - ticks[0]!.at) : Number.POSITIVE_INFINITY;
  return apart < widest + 8 && count > 1 ? roomyTicks(scale, count - 1, unit) : ticks;
};

const MOST_DAYS = 7;

/** Days of the record under figures that stand in their order: as many as do not touch, the first and the last among them. */
export const dayAxis = (days: readonly string[], x: (at: number) => number, y: number): string[] => {
  const last = days.length - 1;
  const says = (at: number): string => days[at] || 'no day';
  const apart = (a: number, b: number): boolean => x(b) - x(a) >= (widthOf(says(a), 11) + widthOf(says(b), 11)) / 2 + 6;
  const shown = [0];
  for (let nth = 1; nth < MOST_DAYS - 1; nth++) {
    const at = Math.round((nth * last) / (MOST_DAYS - 1));
    if (apart(shown.at(-1)!, at) && apart(at, last)) shown.push(at);
  }
  if (last > 0 && apart(shown.at(-1)!, last)) shown.push(last);
  return shown.map((at) => text(x(at), y, says(at), { of: 'soft small', anchor: 'middle' }));
};

/** Heights of labels near where they belong, each a line from the next. */
export const labelled = (heights: readonly number[]): readonly number[] => {
  const order = heights.map((_, at) => at).sort((a, b) => heights[a]! - heights[b]! || b - a);
  const placed = [...heights];
  for (const [nth, at] of order.entries())
    if (nth > 0) placed[at] = Math.max(heights[at]!, placed[order[nth - 1]!]! + LINE);
  const down = placed.reduce((so, height, at) => so + height - heights[at]!, 0) / heights.length;
  return placed.map((height) => height - down);
};

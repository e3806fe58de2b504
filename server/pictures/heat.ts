/** One heat from its first clock time to its last: what happened when, and how hot it was. */
import { scaleLinear } from 'd3-scale';
import { line as curve } from 'd3-shape';
import type { Entry } from '../engine/entry';
import { toCelsius } from '../quantity/units';
import { stepWords } from '../reports/words';
import { dayNumber } from '../text/calendar';
import { leftAxis, scaleOver } from './axes';
import { framed, HEAD, MARGIN, nothingToShow, type Picture, WIDTH } from './frame';
import { diamond, element, LINE, line, text, texts, widthOf, wrapped } from './svg';

interface Moment {
  readonly minute: number;
  readonly clock: string;
  readonly says: string;
  readonly celsius: number | undefined;
}

const LEFT = 70;
const RIGHT = WIDTH - 40;
const HOT = 140;
const ROW = 18;
/** Words longer than this go on in the next line. */
const WIDEST = 320;

/** `parts` are the entry and what was written more of it. */
export const heatPicture = (parts: readonly Entry[]): Picture => {
  const [first] = parts;
  const name = first ? stepWords(first) : 'no step';
  const [key, title] = [`heat-${name}`, `${name}${first?.date ? `, ${first.date}` : ''}`];
  const moments = parts.flatMap(momentsOf).sort((a, b) => a.minute - b.minute);
  const [start, end] = [moments[0], moments.at(-1)];
  if (!first || !start || !end) return nothingToShow(key, title, 'No clock time is written of it.');
  const span = Math.max(10, end.minute - start.minute);
  const x = scaleLinear([start.minute - 0.03 * span, start.minute + span * 1.03], [LEFT, RIGHT]);
  const hot = moments.filter(({ celsius }) => celsius !== undefined);
  const panel = hot.length > 1 ? HOT : 0;
  const said = moments.map(({ clock, says }) => wrapped(`${clock} ${says}`, WIDEST));
  const rows = rowsOf(moments, said, x);
  const axis = HEAD + 16 + panel;
  const below = axis + 34;
  const height = below + ROW * Math.max(...rows.map((row, at) => row + spansOf(said[at]!))) + 12;
  const took = `${durationWords(end.minute - start.minute)} from the first clock time to the last`;
  return framed(
    key,
    title,
    gearWords(first, took),
    `${took}. ${moments.map(({ clock, says }) => `${clock} ${says}`).join('; ')}.`,
    height,
    [
      ...(panel > 0 ? temperatures(hot, x, HEAD + 16, panel - 14) : []),
      ...clockAxis(start, end, x, axis),
      ...moments.flatMap(({ minute, celsius }, at) => {
        const y = below + ROW * rows[at]!;
        const isRight = x(minute) > (LEFT + RIGHT) / 2;
        return [
          line(x(minute), axis, x(minute), y - 4, 'grid'),
          celsius === undefined
            ? element('circle', { cx: x(minute), cy: axis, r: 4, class: 'fill-ink' })
            : diamond(x(minute), axis, 5.5, 'fill-loss'),
          ...texts(x(minute) + (isRight ? -4 : 4), y, said[at]!, {
            of: 'halo',
            anchor: isRight ? 'end' : 'start',
          }),
        ];
      }),
    ],
  );
};

const momentsOf = (entry: Entry): Moment[] =>
  entry.clocks.flatMap(({ date, time, text: says, temperature }) => {
    if (time === undefined) return [];
    const day = date ?? entry.date;
    const minute = (day ? dayNumber(day) : 0) * 1440 + 60 * Number(time.slice(0, 2)) + Number(time.slice(3));
    const clock = day && day !== entry.date ? `${day} ${time}` : time;
    const celsius = temperature?.unit ? toCelsius(temperature.value, temperature.unit).toNumber() : undefined;
    return [{ minute, clock, says, celsius }];
  });

const gearWords = (entry: Entry, took: string): string =>
  [...entry.gear.map(({ word, item }) => `${word} ${item.name}`), took].join(', ');

const durationWords = (minutes: number): string => {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return hours === 0 ? `${rest} min` : `${hours} h ${rest} min`;
};

/** How many rows its lines take. */
const spansOf = (lines: readonly string[]): number => Math.ceil((LINE * (lines.length - 1)) / ROW) + 1;

/** The row for each moment's words: the first whose words are behind. Those on the right stand before their moment. */
const rowsOf = (
  moments: readonly Moment[],
  said: readonly (readonly string[])[],
  x: (minute: number) => number,
): readonly number[] => {
  const taken: [number, number][][] = [];
  return moments.map(({ minute }, at) => {
    const width = Math.max(...said[at]!.map((one) => widthOf(one))) + 8;
    const isRight = x(minute) > (LEFT + RIGHT) / 2;
    const [from, to] = isRight ? [x(minute) - width, x(minute) + 2] : [x(minute) - 2, x(minute) + width];
    const spans = Array.from({ length: spansOf(said[at]!) }, (_, nth) => nth);
    let row = 0;
    while (spans.some((nth) => taken[row + nth]?.some(([start, end]) => from < end && to > start))) row++;
    for (const nth of spans) taken[row + nth] = [...(taken[row + nth] ?? []), [from, to]];
    return row;
  });
};

const temperatures = (hot: readonly Moment[], x: (minute: number) => number, top: number, height: number): string[] => {
  const y = scaleOver(
    hot.map(({ celsius }) => celsius!),
    top + height,
    top,
    0.15,
  ).nice(3);
  const draw = curve<Moment>(
    ({ minute }) => x(minute),
    ({ celsius }) => y(celsius!),
  ).digits(2);
  return [
    ...leftAxis(y, LEFT, RIGHT, 3, ' °C'),
    element('path', { d: draw(hot) ?? '', class: 'stroke-loss' }),
    ...hot.map(({ minute, celsius }) => diamond(x(minute), y(celsius!), 4.5, 'fill-loss')),
  ];
};

const STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440, 2880];

const clockAxis = (start: Moment, end: Moment, x: (minute: number) => number, y: number): string[] => {
  const step = STEPS.find((minutes) => (end.minute - start.minute) / minutes <= 9) ?? 10080;
  const marks: number[] = [];
  for (let at = Math.ceil(start.minute / step) * step; at <= end.minute; at += step) marks.push(at);
  return [
    line(LEFT, y, RIGHT, y, 'axis'),
    text(MARGIN, y + 4, 'clock', { of: 'soft small' }),
    ...marks.flatMap((minute) => [
      line(x(minute), y - 4, x(minute), y + 4, 'axis'),
      text(x(minute), y - 8, clockWords(minute), { of: 'soft small halo', anchor: 'middle' }),
    ]),
  ];
};

const clockWords = (minute: number): string => {
  const ofDay = ((minute % 1440) + 1440) % 1440;
  return `${String(Math.floor(ofDay / 60)).padStart(2, '0')}:${String(ofDay % 60).padStart(2, '0')}`;
};

/** What is on hand of a metal over the days of the record, with how surely it is known. */
import { type ScaleLinear, scaleLinear } from 'd3-scale';
import { area, line as curve, curveStepAfter } from 'd3-shape';
import { type Inexact, spread } from '../engine/accounts/inexact';
import { showMass, showQuantity } from '../quantity/show';
import { asMeasured } from '../reports/fine';
import { metalWords } from '../reports/words';
import { dayNumber } from '../text/calendar';
import { leftAxis } from './axes';
import { colourOf, framed, HEAD, nothingToShow, type Picture, WIDTH } from './frame';
import { element, line, text } from './svg';

export interface StockDay {
  readonly date: string;
  /** By metal, in grams. */
  readonly grams: ReadonlyMap<string, Inexact>;
  /** Lots on hand of which nothing is known of the metal. */
  readonly unknown: ReadonlyMap<string, number>;
}

const LEFT = 70;
const RIGHT = WIDTH - 120;
const PANEL = 150;
/** Share of all days that the last one is as wide as. */
const LAST_DAY = 0.02;

/** A day's stock holds until the next. Of each metal a panel of its own, since one may be a hundred times the other. */
export const stockPicture = (days: readonly StockDay[], metals: readonly string[]): Picture => {
  const title = 'Metal on hand';
  const [first, last] = [days[0], days.at(-1)];
  if (!first || !last) return nothingToShow('stock', title, 'Nothing was on hand on any day.');
  const from = dayNumber(first.date);
  // The last day has a width too: how surely the newest figure is known is what is asked first.
  const to = dayNumber(last.date) + Math.max(1, LAST_DAY * (dayNumber(last.date) - from));
  const x = scaleLinear([from, to], [LEFT, RIGHT]);
  const says = metals.map((metal) => {
    const grams = last.grams.get(metal);
    const unknown = last.unknown.get(metal) ?? 0;
    const rest = unknown > 0 ? `, not known of ${unknown} ${unknown === 1 ? 'lot' : 'lots'}` : '';
    return `${metal} at the end: ${grams ? showQuantity(asMeasured(grams), 'g') : 'none known'}${rest}.`;
  });
  const body = metals.flatMap((metal, at) => panel(days, metal, x, HEAD + 18 + at * (PANEL + 46)));
  const height = HEAD + 18 + metals.length * (PANEL + 46) + 6;
  const below = `${first.date} to ${last.date}; the pale band is how surely it is known (k = 2)`;
  return framed(`stock-${metals.join('-')}`, title, below, [`${below}.`, ...says].join(' '), height, body);
};

const panel = (days: readonly StockDay[], metal: string, x: ScaleLinear<number, number>, top: number): string[] => {
  const points = days.map(({ date, grams }) => {
    const of = grams.get(metal);
    return { day: dayNumber(date), value: of?.value ?? 0, reach: of ? 2 * spread(of) : 0 };
  });
  const end = points.at(-1)!;
  const drawn = [...points, { ...end, day: x.domain()[1]! }];
  const most = Math.max(...drawn.map(({ value, reach }) => value + reach), 1e-3);
  const y = scaleLinear([0, most * 1.06], [top + PANEL, top]).nice(4);
  const colour = colourOf(metal);
  const unknown = days.at(-1)!.unknown.get(metal) ?? 0;
  const band = area<(typeof drawn)[number]>()
    .x(({ day }) => x(day))
    .y0(({ value, reach }) => y(Math.max(0, value - reach)))
    .y1(({ value, reach }) => y(value + reach))
    .curve(curveStepAfter)
    .digits(2);
  const middle = curve<(typeof drawn)[number]>()
    .x(({ day }) => x(day))
    .y(({ value }) => y(value))
    .curve(curveStepAfter)
    .digits(2);
  return [
    text(LEFT, top - 8, metalWords(metal), { of: 'strong' }),
    ...leftAxis(y, LEFT, RIGHT, 4, ' g'),
    ...timeAxis(days[0]!.date, days.at(-1)!.date, x, top, top + PANEL),
    element('path', { d: band(drawn) ?? '', class: `fill-${colour} veil` }),
    element('path', { d: middle(drawn) ?? '', class: `stroke-${colour}` }),
    line(LEFT, top + PANEL, RIGHT, top + PANEL, 'axis'),
    text(RIGHT + 6, y(end.value) + 4, endWords(days.at(-1)!.grams.get(metal)), { of: 'halo' }),
    ...(unknown > 0
      ? [
          text(RIGHT + 6, y(end.value) + 18, `not of ${unknown} ${unknown === 1 ? 'lot' : 'lots'}`, {
            of: 'soft small halo',
          }),
        ]
      : []),
  ];
};

/** In the digits of its text alternative, with its mark where so much of it is guessed that it shows. */
const endWords = (of: Inexact | undefined): string => (of ? showMass(asMeasured(of)) : '0 g');

/** First days of months or years, as many as have room. */
const timeAxis = (first: string, last: string, x: (day: number) => number, top: number, bottom: number): string[] => {
  const starts: string[] = [];
  let [year, month] = [Number(first.slice(0, 4)), Number(first.slice(5, 7))];
  for (let date = first.slice(0, 7); date <= last.slice(0, 7); ) {
    starts.push(`${date}-01`);
    month++;
    if (month > 12) [year, month] = [year + 1, 1];
    date = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}`;
  }
  const within = starts.filter((date) => date >= first);
  const every = [1, 3, 6, 12, 24, 60].find((months) => within.length / months <= 8) ?? 120;
  const shown = within.filter((date) => (12 * Number(date.slice(0, 4)) + Number(date.slice(5, 7)) - 1) % every === 0);
  const marks = shown.length > 0 ? shown : [first];
  return marks.flatMap((date) => [
    line(x(dayNumber(date)), top, x(dayNumber(date)), bottom, 'grid'),
    text(
      x(dayNumber(date)),
      bottom + 15,
      shown.length > 0 ? (every >= 12 ? date.slice(0, 4) : date.slice(0, 7)) : date,
      {
        of: 'soft small',
        anchor: 'middle',
      },
    ),
  ]);
};

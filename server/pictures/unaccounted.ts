/** A metal unaccounted for, step by step: single figures, their moving ranges, the running sums, and the moving average. */
import { scaleLinear } from 'd3-scale';
import { line as curve } from 'd3-shape';
import type { MetalRunning } from '../engine/longview/running';
import type { ChartSettings } from '../engine/longview/series';
import { metalWords, stepWords } from '../reports/words';
import { dayAxis, labelled, leftAxis, type Scale, scaleOver } from './axes';
import { colourOf, framed, HEAD, MARGIN, nothingToShow, type Picture, WIDTH } from './frame';
import { diamond, element, group, LINE, line, text, texts, widthOf, wrapped } from './svg';

const LEFT = 58;
const RIGHT = WIDTH - 118;
const FIRST = { top: HEAD + 26, height: 170 };
const SECOND = { top: FIRST.top + FIRST.height + 46, height: 90 };
const THIRD = { top: SECOND.top + SECOND.height + 46, height: 130 };
const FOURTH = { top: THIRD.top + THIRD.height + 46, height: 100 };
/** Past so many points they are drawn smaller. */
const MANY = 120;
/** So many names beside points can be read. */
const MOST_NAMED = 8;
/** Width of a name beside a point: a longer one goes on below. */
const NAMED = 150;

export const unaccountedPicture = (of: MetalRunning, settings: ChartSettings, notes: readonly string[]): Picture => {
  const { metal, scores, steps } = of;
  const key = `unaccounted-${metal}`;
  const title = `${metalWords(metal)} unaccounted for, step by step`;
  const capital = title[0]!.toUpperCase() + title.slice(1);
  if (scores.length === 0)
    return nothingToShow(key, capital, `No step has ${metalWords(metal)} known on both sides without a guess.`);
  const step = (RIGHT - LEFT - 24) / Math.max(1, scores.length - 1);
  const x = (at: number): number => (scores.length === 1 ? (LEFT + RIGHT) / 2 : LEFT + 12 + step * at);
  const count = `${scores.length} ${scores.length === 1 ? 'step' : 'steps'}`;
  return framed(
    key,
    capital,
    `Missing metal in each of ${count}, in units of its own uncertainty: within ±2 weighing, assays and usual losses explain it.`,
    [
      `${count} in four charts, one above the other: single figures, the differences of neighbours, running sums, a moving average.`,
      ...notes,
    ].join(' '),
    FOURTH.top + FOURTH.height + 34,
    [
      ...singles(of, x),
      ...ranges(of, x),
      ...sums(of, settings, x),
      ...average(of, settings, x),
      dayAxis(
        steps.map(({ date }) => date),
        x,
        FOURTH.top + FOURTH.height + 20,
      ).join(''),
    ],
  );
};

type Across = (at: number) => number;

const heading = (top: number, says: string): string => text(MARGIN, top - 10, says, { of: 'strong' });

const panel = (top: number, height: number, values: readonly number[]): Scale =>
  scaleOver(values, top + height, top, 0.08).nice(4);

const radius = (count: number): number => (count > MANY ? 2 : 3.4);

const singles = ({ scores, chart, steps, metal }: MetalRunning, x: Across): string[] => {
  const { top, height } = FIRST;
  const y = panel(top, height, [...scores, 2.5, -2.5, ...(chart.limits ? [chart.limits.low, chart.limits.high] : [])]);
  const beyond = new Set(chart.beyond);
  for (const [at, score] of scores.entries()) if (Math.abs(score) > 3) beyond.add(at);
  const farthest = [...beyond].sort((a, b) => Math.abs(scores[b]!) - Math.abs(scores[a]!));
  return [
    heading(top, 'each step, positive is missing'),
    element('rect', { x: LEFT, y: y(2), width: RIGHT - LEFT, height: y(-2) - y(2), class: 'band' }),
    ...leftAxis(y, LEFT, RIGHT, 5),
    ...(chart.limits
      ? levels([
          [y(chart.limits.low), 'limit', 'lower limit'],
          [y(chart.centre), 'centre', 'mean'],
          [y(chart.limits.high), 'limit', 'upper limit'],
        ])
      : [text(RIGHT + 6, y(0) + 4, 'too few for limits', { of: 'soft small' })]),
    // Above every line: a limit may lie just where it stands.
    text(LEFT + 4, y(2) + 13, 'explained', { of: 'soft small halo' }),
    pathOf(scores, x, y, `stroke-${colourOf(metal)} faint`),
    ...scores.map((score, at) =>
      beyond.has(at)
        ? diamond(x(at), y(score), 5.5, 'fill-loss')
        : element('circle', { cx: x(at), cy: y(score), r: radius(scores.length), class: `fill-${colourOf(metal)}` }),
    ),
    ...namesWithRoom(
      farthest.map((at) => {
        const lines = wrapped(stepWords(steps[at]!.step.entry), NAMED, 11);
        const half = Math.max(...lines.map((one) => widthOf(one, 11))) / 2;
        const middle = Math.max(LEFT + half, Math.min(WIDTH - MARGIN - half, x(at)));
        const isHigh = scores[at]! > 0;
        const first = y(scores[at]!) + (isHigh ? -9 - LINE * (lines.length - 1) : 17);
        return { lines, half, middle, first };
      }),
    ).flatMap(({ lines, middle, first }) => texts(middle, first, lines, { of: 'small halo', anchor: 'middle' })),
  ];
};

interface Name {
  readonly lines: readonly string[];
  readonly half: number;
  readonly middle: number;
  /** Height of its first line. */
  readonly first: number;
}

/** In their order, those that lie on none before them. */
const namesWithRoom = (names: readonly Name[]): readonly Name[] => {
  const placed: Name[] = [];
  for (const name of names) {
    if (placed.length < MOST_NAMED && !placed.some((other) => touch(name, other))) placed.push(name);
  }
  return placed;
};

const touch = (a: Name, b: Name): boolean =>
  Math.abs(a.middle - b.middle) < a.half + b.half + 4 &&
  a.first < b.first + LINE * b.lines.length &&
  b.first < a.first + LINE * a.lines.length;

/** Words beside a point in a strip of a panel, on the side where there is more room, and within the panel from that strip on. */
const told = (says: string, at: number, strip: { readonly top: number } | { readonly bottom: number }): string[] => {
  const isLeft = at < (LEFT + RIGHT) / 2;
  const lines = wrapped(says, (isLeft ? RIGHT - at : at - LEFT) - 10, 11);
  const first = 'top' in strip ? strip.top + 9 : strip.bottom - 2 - LINE * (lines.length - 1);
  return texts(at + (isLeft ? 10 : -10), first, lines, { of: 'small halo', anchor: isLeft ? 'start' : 'end' });
};

type Level = readonly [at: number, of: string, says: string];

const levels = (all: readonly Level[]): string[] => {
  const heights = labelled(all.map(([at]) => at));
  return all.flatMap(([at, of, says], nth) => [
    line(LEFT, at, RIGHT, at, of),
    text(RIGHT + 6, heights[nth]! + 4, says, { of: 'small halo' }),
  ]);
};

const pathOf = (values: readonly number[], x: Across, y: Scale, of: string): string => {
  const draw = curve<number>(
    (_, at) => x(at),
    (value) => y(value),
  ).digits(2);
  return values.length > 1 ? element('path', { d: draw(values) ?? '', class: of }) : '';
};

const ranges = ({ chart, metal }: MetalRunning, x: Across): string[] => {
  const { top, height } = SECOND;
  const limit = chart.rangeLimit;
  const y = scaleLinear([0, Math.max(1, ...chart.ranges, limit ?? 0) * 1.08], [top + height, top]).nice(3);
  const beyond = new Set(chart.rangesBeyond);
  return [
    heading(top, 'from one step to the next'),
    ...leftAxis(y, LEFT, RIGHT, 3),
    ...(chart.ranges.length === 0
      ? [text((LEFT + RIGHT) / 2, top + height / 2, 'one step has no neighbour', { of: 'soft halo', anchor: 'middle' })]
      : []),
    ...(chart.ranges.length > 0 && limit !== undefined
      ? levels([
          [y(chart.meanRange), 'centre', 'mean'],
          [y(limit), 'limit', 'limit'],
        ])
      : []),
    ...chart.ranges.map((range, at) =>
      beyond.has(at)
        ? diamond(x(at + 1), y(range), 5, 'fill-loss')
        : element('circle', {
            cx: x(at + 1),
            cy: y(range),
            r: radius(chart.ranges.length) - 0.6,
            class: `fill-${colourOf(metal)}`,
          }),
    ),
  ];
};

const sums = (
  { cusum, steps, metal }: MetalRunning,
  { cusum: { limit, slack } }: ChartSettings,
  x: Across,
): string[] => {
  const { top, height } = THIRD;
  const low = cusum.low.map((value) => -value);
  const most = Math.max(limit * 1.15, ...cusum.high, ...cusum.low);
  // A strip above and below is left for words.
  const y = scaleLinear([-most, most], [top + height - 13, top + 13]);
  return [
    heading(top, `running sums beyond a slack of ${slack}: what adds up`),
    ...leftAxis(y, LEFT, RIGHT, 5),
    line(LEFT, y(0), RIGHT, y(0), 'axis'),
    ...levels([
      [y(-limit), 'limit', 'too much'],
      [y(limit), 'limit', 'missing'],
    ]),
    pathOf(cusum.high, x, y, `stroke-${colourOf(metal)}`),
    group({ 'stroke-dasharray': '2 2' }, pathOf(low, x, y, `stroke-${colourOf(metal)}`)),
    ...cusum.signals.flatMap(({ at, side, began }) => {
      const value = side === 'high' ? cusum.high[at]! : -cusum.low[at]!;
      const says = `told at ${stepWords(steps[at]!.step.entry)}, began about ${stepWords(steps[began]!.step.entry)}`;
      return [
        diamond(x(at), y(value), 5.5, 'fill-loss'),
        ...told(says, x(at), side === 'high' ? { top } : { bottom: top + height }),
      ];
    }),
  ];
};

/** Dashes mark the limits, which are narrower for the first few: told without a colour. */
const average = ({ ewma, steps, metal }: MetalRunning, { ewmaWeight }: ChartSettings, x: Across): string[] => {
  const { top, height } = FOURTH;
  const highs = ewma.limits.map(({ high }) => high);
  const lows = ewma.limits.map(({ low }) => low);
  const y = panel(top, height, [...ewma.smoothed, ...highs, ...lows]);
  const beyond = new Set(ewma.beyond);
  const [first] = ewma.beyond;
  return [
    heading(
      top,
      `moving average, in which the newest step counts ${Math.round(100 * ewmaWeight)} %: a small lasting shift`,
    ),
    ...leftAxis(y, LEFT, RIGHT, 4),
    line(LEFT, y(0), RIGHT, y(0), 'axis'),
    ...[highs, lows].map((values) => pathOf(values, x, y, 'limit')),
    text(RIGHT + 6, y(highs.at(-1)!) + 4, 'missing', { of: 'small halo' }),
    text(RIGHT + 6, y(lows.at(-1)!) + 4, 'too much', { of: 'small halo' }),
    pathOf(ewma.smoothed, x, y, `stroke-${colourOf(metal)}`),
    ...ewma.smoothed.flatMap((value, at) => (beyond.has(at) ? [diamond(x(at), y(value), 5, 'fill-loss')] : [])),
    ...(first === undefined
      ? []
      : told(
          `beyond from ${stepWords(steps[first]!.step.entry)}`,
          x(first),
          ewma.smoothed[first]! > 0 ? { top } : { bottom: top + height },
        )),
  ];
};

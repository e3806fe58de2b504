/** Groups side by side on one scale: every step a point, the middle of each group with its interval. */
import type { Done, Grouping } from '../engine/longview/done';
import { summaryOf } from '../engine/longview/summary';
import { decimal } from '../quantity/decimal';
import { showPlaces } from '../quantity/show';
import { groupsBy, placesOf, type Share } from '../reports/history/groups';
import { bottomAxis, scaleOver, signed } from './axes';
import { colourOf, framed, HEAD, MARGIN, nothingToShow, type Picture, WIDTH } from './frame';
import { coordinate, element, LINE, line, text, texts, wrapped } from './svg';

export interface SpreadQuestion {
  readonly key: string;
  readonly title: string;
  readonly below: string;
  readonly by: Grouping;
  /** None where the step has none. */
  readonly share: (done: Done) => Share | undefined;
  readonly metal: string | undefined;
  /** Where no step has any. */
  readonly nothing: string;
  /** What is to be said of figures that are drawn. */
  readonly notes: (done: readonly Done[]) => readonly string[];
}

const LEFT = 190;
const RIGHT = WIDTH - 176;
/** More rows than these are no picture: the last ones are drawn. */
const MOST_ROWS = 60;
const ROOMY = 12;

/** Below a panel, with its figures. */
const AXIS = 34;

interface Row {
  readonly verb: string;
  readonly name: string;
  readonly shares: readonly Share[];
  readonly lines: readonly string[];
  readonly height: number;
}

export const spreadPicture = (done: readonly Done[], question: SpreadQuestion): Picture => {
  const { key, title, by, share, metal, nothing } = question;
  const groups = groupsBy(done, by);
  const all = groups
    .map(({ verb, of, steps }) => ({
      verb,
      name: by === 'kind' ? verb : `${verb}, ${of ?? `no ${by}`}`,
      shares: steps.flatMap((one) => share(one) ?? []),
    }))
    .filter(({ shares }) => shares.length > 0);
  if (all.length === 0) return nothingToShow(key, title, nothing);
  const left = Math.max(0, all.length - MOST_ROWS);
  const least = all.length > ROOMY ? 22 : 34;
  const rows = all.slice(left).map((one): Row => {
    const lines = wrapped(`${one.name} (${one.shares.length})`, LEFT - MARGIN - 8);
    return { ...one, lines, height: Math.max(least, LINE * lines.length + 8) };
  });
  const colour = metal === undefined ? 'soft' : colourOf(metal);
  let bottom = HEAD + 8;
  const panels = panelsOf(rows, by);
  const body = panels.flatMap((panel) => {
    const drawn = panelOf(panel, bottom, colour);
    bottom += heightOf(panel) + AXIS;
    return drawn;
  });
  const below = [
    question.below,
    ...(panels.length > 1 ? ['Each kind of step has a scale of its own.'] : []),
    ...(left > 0 ? [`The first ${left} ${left === 1 ? 'group is' : 'groups are'} not drawn.`] : []),
    ...question.notes(groups.flatMap(({ steps }) => steps)),
  ].join(' ');
  const said = rows.map(({ name, shares }) => `${name}, ${shares.length}: ${figuresOf(shares).words}.`);
  return framed(key, title, below, [below, ...said].join(' '), bottom, body);
};

/** Steps of one kind are held against each other, on a scale of their own: a burning would leave no room to see what melts lose. */
const panelsOf = (rows: readonly Row[], by: Grouping): readonly (readonly Row[])[] =>
  by === 'kind'
    ? [rows]
    : [...new Set(rows.map(({ verb }) => verb))].map((of) => rows.filter(({ verb }) => verb === of));

const heightOf = (rows: readonly Row[]): number => rows.reduce((sum, { height }) => sum + height, 0);

const figuresOf = (shares: readonly Share[]) => {
  const summary = summaryOf(shares.map((one) => one.share))!;
  const { interval, median } = summary;
  const places = placesOf(summary, shares);
  const figure = (value: number): string => signed(showPlaces(decimal(100 * value), places));
  const words = interval
    ? `${figure(median)} % (${figure(interval.low)} to ${figure(interval.high)})`
    : `${figure(median)} %, too few`;
  return { interval, median, words };
};

const panelOf = (rows: readonly Row[], top: number, colour: string): string[] => {
  const values = rows.flatMap(({ shares }) => shares.map((one) => 100 * one.share));
  const x = scaleOver(values, LEFT + 10, RIGHT - 10, 0.04).nice(6);
  let start = top;
  const body = rows.flatMap(({ shares, lines, height }, at) => {
    const y = start + height / 2;
    start += height;
    const { interval, median, words } = figuresOf(shares);
    return [
      at % 2 === 0
        ? element('rect', { x: MARGIN, y: y - height / 2, width: WIDTH - 2 * MARGIN, height, class: 'band veil' })
        : '',
      ...texts(MARGIN + 4, y + 4 - (LINE / 2) * (lines.length - 1), lines),
      ...shares.map((one, nth) =>
        element('circle', {
          cx: x(100 * one.share),
          cy: y + jitter(nth) * (height - 12),
          r: 2.6,
          class: `fill-${colour} faint`,
        }),
      ),
      ...(interval
        ? [
            line(x(100 * interval.low), y, x(100 * interval.high), y, 'interval'),
            line(x(100 * interval.low), y - 5, x(100 * interval.low), y + 5, 'interval'),
            line(x(100 * interval.high), y - 5, x(100 * interval.high), y + 5, 'interval'),
          ]
        : []),
      middle(x(100 * median), y, height / 2 - 4),
      text(RIGHT + 4, y + 4, words, { of: 'small' }),
    ];
  });
  return [...bottomAxis(x, top, top + heightOf(rows), 6, ' %'), ...body];
};

/** Points of a group lie apart, the same on every run: the golden section divides the row evenly. */
const jitter = (nth: number): number => ((nth * 0.6180339887) % 1) - 0.5;

const middle = (x: number, y: number, half: number): string =>
  element('path', {
    d: `M${coordinate(x)} ${coordinate(y - half)}V${coordinate(y + half)}`,
    class: 'median',
  });

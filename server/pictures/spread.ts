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
}

const LEFT = 190;
const RIGHT = WIDTH - 176;
/** More rows than these are no picture: the last ones are drawn. */
const MOST_ROWS = 60;
const ROOMY = 12;

export const spreadPicture = (done: readonly Done[], question: SpreadQuestion): Picture => {
  const { key, title, below, by, share, metal, nothing } = question;
  const rows = groupsBy(done, by)
    .map(({ verb, of, steps }) => ({
      name: by === 'kind' ? verb : `${verb}, ${of ?? `no ${by}`}`,
      shares: steps.flatMap((one) => share(one) ?? []),
    }))
    .filter(({ shares }) => shares.length > 0);
  if (rows.length === 0) return nothingToShow(key, title, nothing);
  const shown = rows.slice(-MOST_ROWS);
  const names = shown.map(({ name, shares }) => wrapped(`${name} (${shares.length})`, LEFT - MARGIN - 8));
  const heights = names.map((lines) => Math.max(shown.length > ROOMY ? 22 : 34, LINE * lines.length + 8));
  const [top, bottom] = [HEAD + 8, heights.reduce((sum, one) => sum + one, HEAD + 8)];
  const x = scaleOver(
    shown.flatMap(({ shares }) => shares.map((one) => 100 * one.share)),
    LEFT + 10,
    RIGHT - 10,
    0.04,
  ).nice(6);
  const colour = metal === undefined ? 'soft' : colourOf(metal);
  const said: string[] = [];
  let start = top;
  const body = shown.flatMap(({ name, shares }, at) => {
    const [height, lines] = [heights[at]!, names[at]!];
    const y = start + height / 2;
    start += height;
    const summary = summaryOf(shares.map((one) => one.share))!;
    const { interval, median, count } = summary;
    const places = placesOf(summary, shares);
    const figure = (value: number): string => signed(showPlaces(decimal(100 * value), places));
    const words = interval
      ? `${figure(median)} % (${figure(interval.low)} to ${figure(interval.high)})`
      : `${figure(median)} %, too few`;
    said.push(`${name}, ${count}: ${words}.`);
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
  const left = rows.length - shown.length;
  return framed(
    key,
    title,
    below,
    [`${below}.`, ...said, ...(left > 0 ? [`The first ${left} are not drawn.`] : [])].join(' '),
    bottom + 34,
    [...bottomAxis(x, top, bottom, 6, ' %'), ...body],
  );
};

/** Points of a group lie apart, the same on every run: the golden section divides the row evenly. */
const jitter = (nth: number): number => ((nth * 0.6180339887) % 1) - 0.5;

const middle = (x: number, y: number, half: number): string =>
  element('path', {
    d: `M${coordinate(x)} ${coordinate(y - half)}V${coordinate(y + half)}`,
    class: 'median',
  });

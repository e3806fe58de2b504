/** Our assays against another's on the same lots: one against the other with the line of equality, and the differences. */

import { spread } from '../engine/accounts/inexact';
import { biasOf } from '../engine/longview/bias';
import type { Comparison } from '../engine/longview/pairs';
import { fewWords, noneShown, placesOf, withSign } from '../reports/history/assays';
import { bottomAxis, leftAxis, scaleOver, signed } from './axes';
import { colourOf, framed, HEAD, nothingToShow, type Picture } from './frame';
import { coordinate, element, group, LINE, line, text, texts, wrapped } from './svg';

const TOP = HEAD + 20;
const SIDE = 280;
const BOTTOM = TOP + SIDE;
const FIRST = { left: 70, right: 70 + SIDE };
const SECOND = { left: 450, right: 450 + SIDE };

export const assayPicture = ({ metal, own, other, pairs }: Comparison, period: string): Picture => {
  const key = `assays-${metal}-${own}-${other}`;
  const title = `${metal}: our ${own} against ${other}`;
  const bias = biasOf(pairs);
  if (!bias) return nothingToShow(key, title, 'No lot has an assay of our own and one of theirs.');
  const percents = pairs.map((pair) => ({ own: 100 * pair.own.value, other: 100 * pair.other.value }));
  const all = pairs.flatMap((pair) =>
    [pair.own, pair.other].flatMap((one) =>
      [one.value - 2 * spread(one), one.value + 2 * spread(one)].map((share) => 100 * share),
    ),
  );
  const x = scaleOver(all, FIRST.left, FIRST.right);
  const y = scaleOver(all, BOTTOM, TOP);
  const differences = pairs.map((pair) => 1000 * (pair.own.value - pair.other.value));
  const { low, high } = bias.interval ?? { low: bias.mean, high: bias.mean };
  const across = scaleOver(percents.length > 1 ? percents.map((pair) => pair.other) : all, SECOND.left, SECOND.right);
  const up = scaleOver([0, ...differences, 1000 * low, 1000 * high], BOTTOM, TOP, 0.1);
  const colour = colourOf(metal);
  const places = placesOf(bias);
  const figure = (share: number): string => signed(withSign(share, places));
  const count = `${pairs.length} ${pairs.length === 1 ? 'pair' : 'pairs'} of ${period}`;
  const verdict = bias.interval
    ? `In the mean ours less theirs is ${figure(bias.mean)} ‰ (95 %: ${figure(low)} to ${figure(high)}), ${bias.shown ? `a bias that is shown${fewWords(bias)}` : noneShown(bias)}.`
    : `Ours less theirs is ${figure(bias.mean)} ‰: ${noneShown(bias)}.`;
  const faint = pairs.length > 60 ? ' faint' : '';
  const [ours, theirs] = [`ours, ${own}`, `theirs, ${other}`].map((says) => wrapped(says, SIDE, 11)) as [Lines, Lines];
  const lower = LINE * (ours.length - 1);
  const body = [
    ...leftAxis(y, FIRST.left, FIRST.right, 5, ' %'),
    ...bottomAxis(x, TOP, BOTTOM, 5, ' %'),
    ...texts(FIRST.left, TOP - 8 - lower, ours, { of: 'soft small' }),
    ...texts(FIRST.right, BOTTOM + 32, theirs, { of: 'soft small', anchor: 'end' }),
    line(x(x.domain()[0]!), y(x.domain()[0]!), x(x.domain()[1]!), y(x.domain()[1]!), 'limit'),
    // Below the least of all, where no point reaches.
    text(FIRST.left + 24, BOTTOM - 4, 'both the same', { of: 'small halo' }),
    ...percents.map((pair, at) =>
      crossed(x(pair.other), y(pair.own), halfOf(pairs[at]!.other, x), halfOf(pairs[at]!.own, y), `${colour}${faint}`),
    ),
    ...leftAxis(up, SECOND.left, SECOND.right, 5, ' ‰'),
    ...bottomAxis(across, TOP, BOTTOM, 5, ' %'),
    text(SECOND.left, TOP - 8, 'ours less theirs', { of: 'soft small' }),
    text(SECOND.right, BOTTOM + 32, 'theirs', { of: 'soft small', anchor: 'end' }),
    ...(bias.interval
      ? [
          element('rect', {
            x: SECOND.left,
            y: up(1000 * high),
            width: SIDE,
            height: Math.max(1, up(1000 * low) - up(1000 * high)),
            class: `fill-${colour} veil`,
          }),
          line(SECOND.left, up(1000 * bias.mean), SECOND.right, up(1000 * bias.mean), 'centre'),
        ]
      : []),
    line(SECOND.left, up(0), SECOND.right, up(0), 'limit'),
    ...differences.map((difference, at) =>
      element('circle', {
        cx: across(percents[at]!.other),
        cy: up(difference),
        r: 3,
        class: `fill-${colour}${faint}`,
      }),
    ),
    ...(bias.interval
      ? [text(SECOND.right - 4, up(1000 * bias.mean) - 6, 'mean', { of: 'small halo', anchor: 'end' })]
      : []),
    text(SECOND.left + 4, up(0) + (bias.mean > 0 ? 14 : -6), 'both the same', { of: 'small halo' }),
  ];
  return framed(
    key,
    title,
    `${count}. ${verdict}`,
    `${count}, on one metal each. ${verdict}`,
    BOTTOM + 48 + lower + LINE * (theirs.length - 1),
    lower === 0 ? body : [group({ transform: `translate(0 ${lower})` }, ...body)],
  );
};

type Lines = readonly string[];

const halfOf = (of: Comparison['pairs'][number]['own'], scale: (value: number) => number): number =>
  Math.abs(scale(200 * spread(of)) - scale(0));

/** A point with the errors of both, k = 2. */
const crossed = (x: number, y: number, halfX: number, halfY: number, colour: string): string =>
  element('path', {
    d: `M${coordinate(x - halfX)} ${coordinate(y)}H${coordinate(x + halfX)}M${coordinate(x)} ${coordinate(y - halfY)}V${coordinate(y + halfY)}`,
    class: `stroke-${colour}`,
  }) + element('circle', { cx: x, cy: y, r: 2.6, class: `fill-${colour}` });

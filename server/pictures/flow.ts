/** The way of a metal through steps: ribbons as wide as the fine metal in them, losses hatched. */
import { type SankeyLink, type SankeyNode, sankey, sankeyLeft } from 'd3-sankey';
import { type Inexact, spread, sum } from '../engine/accounts/inexact';
import type { FlowPlace, FlowWay, MetalFlow } from '../engine/longview/flow';
import { showQuantity } from '../quantity/show';
import { asMeasured } from '../reports/fine';
import { metalWords } from '../reports/words';
import { colourOf, framed, HEAD, MARGIN, nothingToShow, type Picture, WIDTH } from './frame';
import { element, LINE, text, widthOf, wrapped } from './svg';

/** What d3-sankey lays out, with what it stands for. */
interface Place extends FlowPlace {
  order: number;
  says: string;
}
type Node = SankeyNode<Place, Way>;
interface Way extends Pick<FlowWay, 'kind' | 'grams'> {
  source: string;
  target: string;
  value: number;
}
type Link = SankeyLink<Place, Way>;

/** Below this a ribbon cannot be seen: then it is drawn as a line. */
const THINNEST = 1.4;
const BAR = 9;
/** Between a bar and its words, and between the words and the next bar. */
const GAP = 4;
/** Room for words that none is denied: a picture of many columns is wider for it. */
const LEAST_WORDS = 56;
const MOST_LAST_WORDS = 132;
/** Of the longest that is said of a weight, the part that stands on one line. */
const LEAST_LAST_WORDS = widthOf('under 0.01 g');

export const flowPicture = (flow: MetalFlow, of: string): Picture => {
  const metal = metalWords(flow.metal);
  const key = `flow-${flow.metal}-${of}`;
  const title = `The way of the ${metal}${of === '' ? '' : ` of ${of}`}`;
  const { places, ways, dropped } = withoutCircles(flow);
  if (ways.length === 0) return nothingToShow(key, title, `How much ${metal} went its way is not known of any lot.`);
  const columns = columnsOf(places, ways);
  const tallest = Math.max(...columns.map((column) => column.length));
  const lastOnes = places.filter(({ id }) => columns.at(-1)!.includes(id));
  const room = roomOf(columns.length, Math.max(...lastOnes.map((place) => widthOf(nameOf(place)))));
  const shown = places.map((place, order): Place => ({ ...place, order, says: gramsWords(through(place, ways)) }));
  const lines = Math.max(...shown.map((place) => labelOf(place, room.words).length));
  const height = Math.max(260, Math.min(620, 70 * tallest), (LINE * lines + 8) * tallest);
  const { nodes, links } = sankey<Place, Way>()
    .nodeId(({ id }) => id)
    .nodeAlign(sankeyLeft)
    .nodeSort((a, b) => a.order - b.order)
    .nodeWidth(BAR)
    .nodePadding(Math.max(28, LINE * lines + 2))
    .iterations(32)
    .extent([
      [MARGIN, HEAD + 14],
      [room.width - MARGIN - room.last, HEAD + 14 + height],
    ])({
    nodes: shown,
    links: ways.map(({ from, to, grams, kind }) => ({ source: from, target: to, value: grams.value, grams, kind })),
  });
  const last = Math.max(...nodes.map(({ x1 }) => x1!));
  const unknown = flow.unknown + dropped;
  const below = `Width is fine ${metal}; what was lost is named, and hatched where it is wide enough${unknown > 0 ? `; not known, and not drawn: ${unknown} ${unknown === 1 ? 'charge or lot' : 'charges or lots'}` : ''}`;
  const says = links.map(
    (link) => `${nameOf(link.source as Node)} to ${nameOf(link.target as Node)} ${gramsWords(link.grams)}`,
  );
  const hatch = `${key.toLowerCase().replace(/[^a-z0-9]+/g, '-')}-hatch`;
  const body = [
    element(
      'defs',
      {},
      element(
        'pattern',
        { id: hatch, width: 6, height: 6, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' },
        element('rect', { width: 6, height: 6, class: 'fill-loss veil' }),
        element('line', { x1: 0, y1: 0, x2: 0, y2: 6, class: 'stroke-loss' }),
      ),
    ),
    ...links.map((link) => ribbon(link, hatch, flow.metal)),
    ...nodes.map((node) => bar(node, flow.metal)),
    ...nodes.flatMap((node) => words(node, node.x1 === last ? room.last : room.words)),
  ];
  return framed(key, title, below, `${below}. ${says.join('; ')}.`, HEAD + height + 34, body, room.width);
};

/** What words have beside the bars of a column and beside those of the last, and how wide the picture is for it. */
const roomOf = (columns: number, lastWords: number) => {
  const between = Math.max(1, columns - 1);
  const last = GAP + Math.min(MOST_LAST_WORDS, Math.max(LEAST_LAST_WORDS, lastWords));
  const least = (LEAST_WORDS + BAR + 2 * GAP) * between;
  const width = Math.max(WIDTH, 2 * MARGIN + BAR + last + least);
  const step = (width - 2 * MARGIN - BAR - last) / between;
  return { width, words: step - BAR - 2 * GAP, last: last - GAP };
};

/** A loss of less than a hundredth of a gram is a few hundredths give or take. */
const gramsWords = (grams: Inexact): string =>
  grams.value + 2 * spread(grams) < 0.01 ? 'under 0.01 g' : showQuantity(asMeasured(grams), 'g');

/** All that comes to a place or all that goes from it, as its bar is high. */
const through = ({ id }: FlowPlace, ways: readonly FlowWay[]): Inexact => {
  const of = (end: 'from' | 'to'): Inexact => sum(ways.filter((way) => way[end] === id).map(({ grams }) => grams));
  const [came, went] = [of('to'), of('from')];
  return came.value >= went.value ? came : went;
};

const nameOf = ({ kind, name, steps }: FlowPlace): string =>
  kind === 'step' && steps > 1 ? `${name} ×${steps}` : name;

/** As an outline: a broad stroke on a steep way would stick out beside its bar, and a pattern in a level one has no height in some programs. */
const ribbon = (link: Link, hatch: string, metal: string): string => {
  const [source, target] = [link.source as Node, link.target as Node];
  const half = Math.max(THINNEST, link.width ?? 0) / 2;
  const [x0, x1, y0, y1] = [source.x1!, target.x0!, link.y0!, link.y1!].map((one) => Number(one.toFixed(2))) as [
    number,
    number,
    number,
    number,
  ];
  const middle = Number(((x0 + x1) / 2).toFixed(2));
  const at = (value: number): string => value.toFixed(2);
  const isMetal = link.kind === 'metal';
  const isHatched = !isMetal && half > 2;
  return element('path', {
    d: `M${x0} ${at(y0 - half)}C${middle} ${at(y0 - half)} ${middle} ${at(y1 - half)} ${x1} ${at(y1 - half)}V${at(y1 + half)}C${middle} ${at(y1 + half)} ${middle} ${at(y0 + half)} ${x0} ${at(y0 + half)}Z`,
    fill: isHatched ? `url(#${hatch})` : undefined,
    class: isMetal ? `fill-${colourOf(metal)} faint` : isHatched ? undefined : 'fill-loss',
  });
};

const bar = ({ x0, x1, y0, y1, kind }: Node, metal: string): string =>
  element('rect', {
    x: x0!,
    y: y0!,
    width: x1! - x0!,
    height: Math.max(THINNEST, y1! - y0!),
    class: `fill-${kind === 'lost' || kind === 'too much' ? 'loss' : kind === 'step' ? 'ink' : colourOf(metal)}`,
  });

/** What a place is, and how much of the metal went through it. */
const labelOf = (place: Place, room: number): { says: string; of: string }[] => [
  ...wrapped(nameOf(place), room).map((says) => ({ says, of: 'halo' })),
  ...wrapped(place.says, room).map((says) => ({ says, of: 'soft small halo' })),
];

/** Beside the bar. */
const words = (node: Node, room: number): string[] => {
  const { x1, y0, y1 } = node;
  const lines = labelOf(node, room);
  const top = (y0! + y1!) / 2 - 1 - (LINE / 2) * (lines.length - 2);
  return lines.map(({ says, of }, at) => text(x1! + GAP, top + LINE * at, says, { of }));
};

/** Ways that would lead back to where the metal came from, as a wrong date may have it, are left out: a picture has one direction. */
const withoutCircles = ({ places, ways }: MetalFlow) => {
  const onward = new Map<string, string[]>();
  const reaches = (from: string, to: string, seen = new Set<string>()): boolean => {
    if (from === to) return true;
    if (seen.has(from)) return false;
    seen.add(from);
    return (onward.get(from) ?? []).some((next) => reaches(next, to, seen));
  };
  const kept = ways.filter(({ from, to }) => {
    if (reaches(to, from)) return false;
    onward.set(from, [...(onward.get(from) ?? []), to]);
    return true;
  });
  const named = new Set(kept.flatMap(({ from, to }) => [from, to]));
  return { places: places.filter(({ id }) => named.has(id)), ways: kept, dropped: ways.length - kept.length };
};

/** Places by how many ways lie before them at most. */
const columnsOf = (places: readonly FlowPlace[], ways: readonly FlowWay[]): string[][] => {
  const depths = new Map(places.map(({ id }) => [id, 0]));
  for (let round = 0; round < places.length; round++) {
    let changed = false;
    for (const { from, to } of ways) {
      const depth = depths.get(from)! + 1;
      if (depth <= depths.get(to)!) continue;
      depths.set(to, depth);
      changed = true;
    }
    if (!changed) break;
  }
  const columns: string[][] = [];
  for (const [id, depth] of depths) columns[depth] = [...(columns[depth] ?? []), id];
  return columns.filter((column) => column !== undefined);
};

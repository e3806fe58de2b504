/** The way of a metal through steps: ribbons as wide as the fine metal in them, losses hatched. */
import { type SankeyLink, type SankeyNode, sankey, sankeyLeft } from 'd3-sankey';
import { linkHorizontal } from 'd3-shape';
import type { FlowPlace, FlowWay, MetalFlow } from '../engine/longview/flow';
import { decimal } from '../quantity/decimal';
import { showDigits, showPlaces } from '../quantity/show';
import { metalWords } from '../reports/words';
import { colourOf, framed, HEAD, MARGIN, nothingToShow, type Picture, WIDTH } from './frame';
import { element, shortened, text } from './svg';

/** What d3-sankey lays out, with what it stands for. */
interface Place extends FlowPlace {
  order: number;
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
/** Room beside the last column for its words. */
const WORDS = 96;

export const flowPicture = (flow: MetalFlow, of: string): Picture => {
  const metal = metalWords(flow.metal);
  const key = `flow-${flow.metal}-${of}`;
  const title = `The way of the ${metal}${of === '' ? '' : ` of ${of}`}`;
  const { places, ways, dropped } = withoutCircles(flow);
  if (ways.length === 0) return nothingToShow(key, title, `How much ${metal} went its way is not known of any lot.`);
  const tallest = Math.max(...columnsOf(places, ways).map((column) => column.length));
  const height = Math.max(260, Math.min(620, 70 * tallest));
  const { nodes, links } = sankey<Place, Way>()
    .nodeId(({ id }) => id)
    .nodeAlign(sankeyLeft)
    .nodeSort((a, b) => a.order - b.order)
    .nodeWidth(BAR)
    .nodePadding(tallest > 9 ? 14 : 28)
    .iterations(32)
    .extent([
      [MARGIN, HEAD + 14],
      [WIDTH - MARGIN - WORDS, HEAD + 14 + height],
    ])({
    nodes: places.map((place, order) => ({ ...place, order })),
    links: ways.map(({ from, to, grams, kind }) => ({ source: from, target: to, value: grams, grams, kind })),
  });
  const unknown = flow.unknown + dropped;
  const below = `Width is fine ${metal}; what was lost is named, and hatched where it is wide enough${unknown > 0 ? `; not known, and not drawn: ${unknown} ${unknown === 1 ? 'charge or lot' : 'charges or lots'}` : ''}`;
  const says = links.map(
    (link) => `${nameOf(link.source as Node)} to ${nameOf(link.target as Node)} ${gramsWords(link.value)}`,
  );
  const hatch = `${key.toLowerCase().replace(/[^a-z0-9]+/g, '-')}-hatch`;
  return framed(key, title, below, `${below}. ${says.join('; ')}.`, HEAD + height + 34, [
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
    ...nodes.flatMap(words),
  ]);
};

/** To three digits, and no finer than a hundredth of a gram: a loss of less is a few hundredths give or take. */
const gramsWords = (grams: number): string => {
  if (grams < 0.005) return 'under 0.01 g';
  return `${grams < 1 ? showPlaces(decimal(grams), 2) : showDigits(decimal(grams), 3)} g`;
};

const nameOf = ({ kind, name, steps }: Node): string => (kind === 'step' && steps > 1 ? `${name} ×${steps}` : name);

const draw = linkHorizontal<Link, [number, number]>()
  .source(({ source, y0 }) => [(source as Node).x1!, y0!])
  .target(({ target, y1 }) => [(target as Node).x0!, y1!]);

const ribbon = (link: Link, hatch: string, metal: string): string => {
  const width = link.width ?? 0;
  if (link.kind === 'metal')
    return element('path', {
      d: draw.digits(2)(link) ?? '',
      class: `ribbon-${colourOf(metal)} faint`,
      'stroke-width': Math.max(THINNEST, width),
    });
  // A pattern as the stroke of a level line would have no height in some programs: the ribbon is drawn as an outline.
  const [source, target] = [link.source as Node, link.target as Node];
  const half = Math.max(THINNEST, width) / 2;
  const [x0, x1, y0, y1] = [source.x1!, target.x0!, link.y0!, link.y1!].map((one) => Number(one.toFixed(2))) as [
    number,
    number,
    number,
    number,
  ];
  const middle = Number(((x0 + x1) / 2).toFixed(2));
  const at = (value: number): string => value.toFixed(2);
  return element('path', {
    d: `M${x0} ${at(y0 - half)}C${middle} ${at(y0 - half)} ${middle} ${at(y1 - half)} ${x1} ${at(y1 - half)}V${at(y1 + half)}C${middle} ${at(y1 + half)} ${middle} ${at(y0 + half)} ${x0} ${at(y0 + half)}Z`,
    fill: half > 2 ? `url(#${hatch})` : undefined,
    class: half > 2 ? undefined : 'fill-loss',
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

/** Beside the bar: what it is, and how much of the metal went through it. */
const words = (node: Node): string[] => {
  const { x1, y0, y1, value = 0 } = node;
  const middle = (y0! + y1!) / 2;
  return [
    text(x1! + 4, middle - 1, shortened(nameOf(node), WORDS - 4), { of: 'halo' }),
    text(x1! + 4, middle + 12, gramsWords(value), { of: 'soft small halo' }),
  ];
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

/** What moved through entries, and every weight that was read. */
import type { FlowWeight, LotEvent, Weight } from '../engine/book';
import type { Amount, Entry, Flow } from '../engine/entry';
import { uncertainty } from '../quantity/measured';
import type { Section } from '../syntax/tree';
import { counting, flowName } from './keys';
import { column, type Row, type TableSource, type TidyTable } from './schema';

export const flows: TidyTable = {
  name: 'flows',
  means: 'Each line of an entry that moves something: in, add, out, lost, back, found, missing.',
  columns: [
    column('flow', 'text', 'its entry, and what the line says'),
    column('entry', 'text', 'where it stands'),
    column('word', 'text', 'in, add, out, lost, back, found or missing'),
    column('lot', 'text', 'the lot, or what an unnamed product is known by'),
    column('material', 'text', 'of what was added'),
    column('kind', 'text', 'of a product: button, slag, bar'),
    column('is_part', 'boolean', 'a part of the lot, not the whole'),
    column('is_none', 'boolean', 'looked, there was none'),
    column('net_g', 'decimal', 'grams, tare taken off'),
    column('net_u_g', 'decimal', 'standard uncertainty, grams'),
    column('ground', 'text', 'weighed, carried, solved, guessed or unknown'),
    column('volume_ml', 'decimal', 'millilitres, of a liquid'),
    column('owner', 'text', 'written beside it'),
    column('place', 'text', 'where it is said to be'),
  ],
  key: ['flow'],
  refers: { entry: 'entries' },
  rows: function* (source): Iterable<Row> {
    for (const { flow, weight, name, entry } of flowsOf(source)) {
      yield {
        shop: source.shop,
        flow: name,
        entry,
        word: flow.word,
        lot: flow.lot?.name,
        material: flow.material?.name,
        kind: flow.kind,
        is_part: flow.part,
        is_none: flow.none,
        net_g: weight?.mass?.value,
        net_u_g: weight?.mass && uncertainty(weight.mass),
        ground: weight?.ground,
        volume_ml: weight?.volume?.value,
        owner: flow.said.owner?.name,
        place: flow.said.at?.name,
      };
    }
  },
};

interface NamedFlow {
  readonly flow: Flow;
  readonly weight: Weight | undefined;
  readonly name: string;
  readonly entry: string;
}

/** Of a step with all its parts as it counts; of other entries, plans among them, as they are written. */
function* flowsOf({ workspace, keys }: TableSource): Iterable<NamedFlow> {
  const weights = weightsByFlow(workspace);
  const counter = counting();
  for (const { entries } of workspace.pages.values()) {
    for (const entry of entries) {
      for (const flow of entry.flows) {
        const key = keys.ofEntry(entry);
        yield { flow, weight: weights.get(flow), name: counter(`${key}/${flowName(flow)}`), entry: key };
      }
    }
  }
}

const weightsByFlow = ({ pages, book }: TableSource['workspace']): ReadonlyMap<Flow, Weight> => {
  const weights = new Map<Flow, Weight>();
  for (const name of book.lotNames()) {
    for (const { flow, weight } of book.lot(name)?.events ?? []) if (flow) weights.set(flow, weight);
  }
  for (const { entries } of pages.values()) {
    for (const entry of entries) {
      const step = entry.prefix ? undefined : book.step(entry);
      const all: readonly FlowWeight[] = step ? [...step.inputs, ...step.added, ...step.outputs, ...step.lost] : [];
      for (const one of all) weights.set(one.flow, one);
    }
  }
  return weights;
};

export const readings: TidyTable = {
  name: 'readings',
  means: 'Each weight or volume that was read for a lot, as written and as it counts.',
  columns: [
    column('reading', 'text', 'its entry and lot'),
    column('entry', 'text', 'where it stands'),
    column('day', 'day', 'of the entry'),
    column('lot', 'text', 'what was weighed'),
    column('event', 'text', 'received, made, weighed, used, found, …'),
    column('written', 'text', 'the amount as it stands on the page'),
    column('scale', 'text', 'that it was read on'),
    column('net_g', 'decimal', 'grams, tare taken off'),
    column('net_u_g', 'decimal', 'standard uncertainty, grams'),
    column('gross_g', 'decimal', 'grams, before the tare'),
    column('tare_g', 'decimal', 'grams'),
    column('division_g', 'decimal', "the scale's step, or the last written digit, grams"),
    column('volume_ml', 'decimal', 'millilitres'),
    column('states', 'text', 'wet, dry, hot, clean, annealed'),
  ],
  key: ['reading'],
  refers: { entry: 'entries', lot: 'lots' },
  rows: function* ({ shop, workspace: { book }, keys }): Iterable<Row> {
    const counter = counting();
    for (const lot of book.lotNames()) {
      for (const event of book.lot(lot)?.events ?? []) {
        const { weight, entry, kind, place } = event;
        const { amount } = weight;
        if (!amount || weight.ground === 'carried' || weight.ground === 'solved') continue;
        const key = keys.ofAnchor(place.anchor) ?? keys.ofEntry(entry);
        yield {
          shop,
          reading: counter(`${key}/${lot}`),
          entry: key,
          day: entry.date,
          lot,
          event: kind,
          written: textOf(amount),
          scale: scaleOf(event, amount),
          net_g: weight.mass?.value,
          net_u_g: weight.mass && uncertainty(weight.mass),
          gross_g: weight.gross?.value,
          tare_g: weight.tare?.value,
          division_g: weight.divisionGrams,
          volume_ml: weight.volume?.value,
          states: weight.states.join(' ') || undefined,
        };
      }
    }
  },
};

const textOf = ({ place: { anchor, start, end } }: Amount): string => (anchor as Section).text.slice(start, end);

const scaleOf = ({ entry, flow }: LotEvent, amount: Amount): string | undefined => {
  const line = (entry as Entry).amounts.find((one) => one.amount === amount);
  return (amount.scale ?? (flow?.said ?? line?.said ?? entry.said).scale)?.name;
};

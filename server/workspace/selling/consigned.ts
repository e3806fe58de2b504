/** What was sent to whom, as the entries of selling have it. */
import type { Lineage } from '../../engine/accounts/lineage';
import type { Entry } from '../../engine/entry';
import type { LotKnown } from './known';
import type { Sale, Sales } from './sales';

/** The first part of a sale, as it counts. */
export const headOf = ({ parts }: Sale): Entry => parts[0]!;

/** The lots of a shipment as they left; what came back is not among them. */
export const lotsIn = (lineage: Pick<Lineage, 'segment'>, { parts }: Sale): readonly LotKnown[] => {
  const flows = parts.flatMap((part) => part.flows);
  const back = new Set(flows.flatMap(({ word, lot }) => (word === 'back' && lot ? [lot.name] : [])));
  return flows.flatMap((flow): LotKnown[] => {
    const segment = flow.word === 'in' && !flow.none ? lineage.segment(flow) : undefined;
    if (!segment || back.has(segment.lot)) return [];
    const event = segment.events.find((one) => one.flow === flow);
    return [{ lot: segment.lot, segment, grams: event?.weight.mass }];
  });
};

/** The shipment of a name, else the last that took a lot of that name away. */
export const shipmentOf = ({ shipNamed, shipOfLot }: Sales, name: string): Sale | undefined =>
  shipNamed(name) ?? shipOfLot(name);

/** Whom a settlement or a bill is with: as it says, else whom it was shipped to. */
export const settledWith = (sales: Sales, sale: Sale): string | undefined => {
  const { name, party } = headOf(sale);
  const ship = party || !name ? undefined : shipmentOf(sales, name.name);
  return party?.name ?? (ship && headOf(ship).party?.name);
};

const settled = new WeakMap<Sales, ReadonlyMap<string, string>>();

/** The day on which something was first settled, or sold of hand, under a name; empty where none is told. Kept: a long journal is asked by months. */
const settledOn = (sales: Sales): ReadonlyMap<string, string> => {
  const known = settled.get(sales);
  if (known) return known;
  const days = new Map<string, string>();
  for (const { entry } of [...sales.settles, ...sales.sells]) {
    const [name, date = ''] = [entry.name?.name, entry.date];
    if (name !== undefined && !((days.get(name) ?? LATER) <= date)) days.set(name, date);
  }
  settled.set(sales, days);
  return days;
};

const LATER = '~';

const isPast = (date: string | undefined, until: string | undefined): boolean =>
  date !== undefined && (until === undefined || date <= until);

const NONE: readonly string[] = [];

/** Lots of a shipment that are neither back nor settled yet: by the name of the shipment, by their own, or because they were sold of hand. */
export const openLots = (sales: Sales, { entry, parts }: Sale, until?: string): readonly string[] => {
  const name = entry.name?.name;
  const days = settledOn(sales);
  if (name === undefined || isPast(days.get(name), until)) return NONE;
  const open = sales.lotsSettled(name).filter((lot) => !isPast(days.get(lot), until));
  if (open.length === 0) return NONE;
  const back = new Set<string>();
  for (const { date = '', flows } of parts) {
    if (isPast(date, until)) for (const { word, lot } of flows) if (word === 'back' && lot) back.add(lot.name);
  }
  return back.has(name) ? NONE : [...new Set(open)].filter((lot) => !back.has(lot));
};

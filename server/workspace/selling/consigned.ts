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
  const days = firstDays([...sales.settles, ...sales.sells].map(({ entry }) => [entry.name?.name, entry.date]));
  settled.set(sales, days);
  return days;
};

const firstDays = (all: readonly (readonly [name: string | undefined, day: string | undefined])[]) => {
  const days = new Map<string, string>();
  for (const [name, day = ''] of all) if (name !== undefined) days.set(name, firstOf(days.get(name), day)!);
  return days;
};

const firstOf = (...days: readonly (string | undefined)[]): string | undefined =>
  days.filter((day) => day !== undefined).sort()[0];

/**
 * Of each lot of a shipment the day from which it is out no more: settled or sold of hand, by the name of the shipment or by its own, or back; none
 * where it still is.
 */
export const closedOn = (sales: Sales, { entry, parts }: Sale): ReadonlyMap<string, string | undefined> => {
  const name = entry.name?.name;
  if (name === undefined) return new Map();
  const days = settledOn(sales);
  const back = firstDays(
    parts.flatMap(({ date, flows }) =>
      flows.flatMap(({ word, lot }) => (word === 'back' && lot ? [[lot.name, date] as const] : [])),
    ),
  );
  const ofAll = firstOf(days.get(name), back.get(name));
  return new Map(sales.lotsSettled(name).map((lot) => [lot, firstOf(ofAll, days.get(lot), back.get(lot))]));
};

/** Lots of a shipment that are neither back nor settled at the end of the record. */
export const openLots = (sales: Sales, sale: Sale): readonly string[] =>
  [...closedOn(sales, sale)].flatMap(([lot, day]) => (day === undefined ? [lot] : []));

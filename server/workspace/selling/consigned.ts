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

/** Lots of a shipment that are neither back nor settled yet: by the name of the shipment, by their own, or because they were sold of hand. */
export const openLots = (
  { settles, sells, lotsSettled }: Sales,
  { entry, parts }: Sale,
  until?: string,
): readonly string[] => {
  const name = entry.name?.name;
  if (name === undefined) return [];
  const isPast = ({ date }: Entry): boolean => until === undefined || (date ?? '') <= until;
  const settled = new Set([
    ...[...settles, ...sells].flatMap(({ entry: one }) => (one.name && isPast(one) ? [one.name.name] : [])),
    ...parts.flatMap((part) =>
      isPast(part) ? part.flows.flatMap(({ word, lot }) => (word === 'back' && lot ? [lot.name] : [])) : [],
    ),
  ]);
  return settled.has(name) ? [] : [...new Set(lotsSettled(name))].filter((lot) => !settled.has(lot));
};

/** Every amount of an entry with what is said of it, so that it can be read as the engine reads it. */
import type { Amount, Entry, Named, Said } from '../../engine/entry';
import { flowWords } from '../../reports/words';

export interface SpokenAmount {
  readonly amount: Amount;
  readonly said: Said;
  /** What it is the weight of. */
  readonly name: string;
}

/** The smallest amount that reaches over an offset of the entry's section. */
export const amountAt = (entry: Entry, offset: number): SpokenAmount | undefined => {
  const found = amountsIn(entry).filter(({ amount: { place } }) => place.start <= offset && offset < place.end);
  return found.sort((a, b) => size(a) - size(b))[0];
};

const size = ({ amount: { place } }: SpokenAmount): number => place.end - place.start;

const amountsIn = (entry: Entry): SpokenAmount[] => {
  const name = entry.name?.name ?? entry.verb;
  const isLine = entry.amounts.some(({ amount }) => amount === entry.amount);
  return [
    ...spoken(isLine ? undefined : entry.amount, entry.said, name),
    ...entry.amounts.flatMap(({ amount, said }) => spoken(amount, said, name)),
    ...entry.flows.flatMap((flow) => spoken(flow.amount, flow.said, flowWords(flow))),
    ...entry.gear.flatMap(({ item, said }) => spoken(undefined, said, item.name)),
    ...entry.others.flatMap(({ amounts, reading, said, word }) => [
      ...amounts.flatMap((amount) => spoken(amount, said, word)),
      ...metals(reading, said),
    ]),
    ...entry.readings.flatMap(({ reading, said }) => metals(reading, said)),
  ];
};

const metals = (reading: Entry['readings'][number]['reading'] | undefined, said: Said): SpokenAmount[] =>
  (reading?.metals ?? []).map(({ symbol, amount }) => ({ amount, said, name: symbol.name }));

/** The amount itself, and those that were said beside it: a tare, before, after. */
const spoken = (amount: Amount | undefined, said: Said, name: string): SpokenAmount[] => {
  const alone: Said = said.scale ? { scale: said.scale } : {};
  const beside = [said.before, said.after, isAmount(said.tare) ? said.tare : undefined];
  return [
    ...(amount ? [{ amount, said, name }] : []),
    ...beside.flatMap((one) => (one ? [{ amount: one, said: alone, name }] : [])),
  ];
};

const isAmount = (tare: Amount | Named | undefined): tare is Amount => tare !== undefined && !('name' in tare);

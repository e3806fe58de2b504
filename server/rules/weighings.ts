/** Every weighing of an entry, with the scale that it names: for rules about scales and vessels. */
import type { Amount, Entry, Named, Said } from '../engine/entry';

export interface Weighing {
  readonly amount: Amount;
  readonly said: Said;
  readonly scale: Named | undefined;
}

export const weighingsOf = (entry: Entry): readonly Weighing[] => {
  const found: Weighing[] = [];
  const add = (amount: Amount | undefined, said: Said): void => {
    if (amount?.figure) found.push({ amount, said, scale: amount.scale ?? said.scale });
  };
  const headAmount = entry.amounts.some(({ amount }) => amount === entry.amount) ? undefined : entry.amount;
  add(headAmount, entry.said);
  for (const { amount, said } of entry.amounts) add(amount, said);
  for (const { amount, said } of [
    ...entry.flows,
    ...entry.gear.map((gear) => ({ amount: undefined, said: gear.said })),
  ]) {
    add(amount, said);
    add(said.before, said);
    add(said.after, said);
  }
  return found;
};

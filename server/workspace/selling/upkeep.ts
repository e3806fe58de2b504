/** What work at the bench costs: the hours of each step by the wage, and what was added to it by the price of each material. */

import type { Step } from '../../engine/book';
import { addedParts } from '../../engine/charge';
import type { Hours } from '../../engine/selling/work';
import { findMaterial } from '../../engine/shelf';
import { balanceRow } from '../../engine/usual';
import { type Decimal, decimal, ZERO } from '../../quantity/decimal';
import { type Money, roundMoney } from '../../quantity/money';
import type { Workspace } from '../workspace';
import { hoursOf, lasted } from './hours';
import { asDecimal } from './known';
import { currencyOf, marketOn } from './money';
import { salesOf } from './sales';

/** How long a step took: by its own clock, by the middle of others that were timed here, or as is usual. */
export type TimedBy = 'clock' | 'journal' | 'common practice';

export interface Material {
  readonly name: string;
  readonly grams: number;
  /** None where no price of it is on file, or none in this currency. */
  readonly cost: Money | undefined;
}

export interface Upkeep {
  readonly currency: string | undefined;
  readonly steps: number;
  readonly hours: number;
  readonly timedBy: ReadonlySet<TimedBy>;
  /** Steps of which nothing tells how long they take: weighing, sampling, splitting. */
  readonly untimed: number;
  /** None where the workshop names no wage. */
  readonly labour: Money | undefined;
  readonly materials: readonly Material[];
  /** Labour and materials with a price; none where neither has one. */
  readonly total: Money | undefined;
}

/** Of these steps together; money in the shop's currency at the rates of a day, each line rounded once. */
export const upkeepOf = (workspace: Workspace, steps: readonly Step[], date: string): Upkeep => {
  const { workshop } = workspace;
  const sales = salesOf(workspace);
  const wage = workshop.shop.labour;
  const currency = currencyOf(undefined, undefined, workshop, sales, date) ?? wage?.currency;
  const convert = currency === undefined ? undefined : marketOn(sales, date, currency).convert;
  const timed = steps.flatMap((step) => timeOf(workspace, step) ?? []);
  const hours = timed.reduce((so, one) => so + one.hours, 0);
  const labour = wage && convert?.({ amount: wage.amount.times(asDecimal(hours)), currency: wage.currency });
  const grams = new Map<string, number>();
  // What is lent comes back, and is no cost.
  for (const { added } of steps)
    for (const { item } of addedParts(
      added.filter(({ flow }) => !flow.said.lent),
      workshop,
    ))
      grams.set(item.material.name, (grams.get(item.material.name) ?? 0) + item.massGrams);
  const materials = [...grams].map(([name, weight]): Material => {
    const price = findMaterial(workshop, name)?.price;
    const cost =
      price?.per &&
      convert?.({ amount: price.amount.times(asDecimal(weight)).div(price.per.factor), currency: price.currency });
    return { name, grams: weight, cost: cost ? roundMoney(cost) : undefined };
  });
  const rounded = labour && roundMoney(labour);
  const known: readonly Decimal[] = [rounded, ...materials.map(({ cost }) => cost)].flatMap((one) => one?.amount ?? []);
  return {
    currency,
    steps: steps.length,
    hours,
    timedBy: new Set(timed.map(({ by }) => by)),
    untimed: steps.length - timed.length,
    labour: rounded,
    materials,
    total:
      currency === undefined || known.length === 0
        ? undefined
        : { amount: known.reduce((a, b) => a.plus(b), ZERO), currency },
  };
};

/** What a step counts as, where no clock tells its time. */
const likeOf = (verb: string): keyof Hours | undefined => {
  if (verb === 'cupel' || verb === 'part') return verb;
  return balanceRow(verb)?.kind === 'melt' ? 'melt' : undefined;
};

const timeOf = (
  workspace: Workspace,
  { entry }: Step,
): { readonly hours: number; readonly by: TimedBy } | undefined => {
  const own = lasted(entry);
  if (own !== undefined) return { hours: own, by: 'clock' };
  const like = likeOf(entry.verb);
  if (!like) return undefined;
  const hours = hoursOf(workspace);
  return { hours: hours[like], by: hours.timed.has(like) ? 'journal' : 'common practice' };
};

/** A heat to melt something again: the wage for its time, and what such heats were given, in the middle of them. None without a wage. */
export const meltCost = (workspace: Workspace, melts: readonly Step[], date: string): Money | undefined => {
  const all = melts
    .map((step) => upkeepOf(workspace, [step], date))
    .flatMap(({ total, labour }) => (total && labour ? [total] : []));
  if (all.length === 0) return undefined;
  const sorted = [...all].sort((a, b) => a.amount.comparedTo(b.amount));
  const [low, high] = [sorted[(sorted.length - 1) >> 1]!, sorted[sorted.length >> 1]!];
  return roundMoney({ amount: low.amount.plus(high.amount).times(decimal('0.5')), currency: low.currency });
};

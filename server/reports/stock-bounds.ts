/** Lots of which no figure is known, but what they cannot hold less and more of: by a density, by a bead that weighs gold and silver together. */
import { spread } from '../engine/accounts/inexact';
import { PRECIOUS } from '../engine/accounts/known';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import type { StockRow } from './stock';

export interface StockBounds {
  readonly lots: number;
  /** Grams of all of them together. */
  readonly low: number;
  readonly high: number;
}

/** None where nothing is known of any of them but what they weigh. */
export const boundsIn = (rows: readonly StockRow[], metal: string): StockBounds | undefined => {
  const found = rows.flatMap((row) => boundsOf(row, metal) ?? []);
  if (found.length === 0) return undefined;
  const sum = (of: (one: { low: number; high: number }) => number): number =>
    found.reduce((so, one) => so + of(one), 0);
  return { lots: found.length, low: sum(({ low }) => low), high: sum(({ high }) => high) };
};

const boundsOf = ({ fine, amount }: StockRow, metal: string): { low: number; high: number } | undefined => {
  const own = fine.find((one) => one.metal === metal);
  if (own?.grams || !amount) return undefined;
  const both = fine.find((one) => one.metal === PRECIOUS)?.grams;
  const all = amount.value.toNumber();
  const low = own?.lowGrams ?? 0;
  const high = Math.min(all, own?.highGrams ?? all, both ? both.value + 2 * spread(both) : all);
  return both || low > 0 || high < all ? { low, high } : undefined;
};

/** `between 30 and 36 g in 2 lots`, `up to 6.0 g in 1 lot`. */
export const boundsWords = ({ lots, low, high }: StockBounds): string => {
  const [least, most] = [low, high].map((grams) => showDigits(decimal(grams), 2));
  return `${low > 0 ? `between ${least} and ${most} g` : `up to ${most} g`} in ${lots} ${lots === 1 ? 'lot' : 'lots'}`;
};

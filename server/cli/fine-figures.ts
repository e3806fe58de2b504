/** Amounts and fine metal as the commands print them for other programs: grams, with their ± at k = 2. */
import { type Inexact, spread } from '../engine/accounts/inexact';
import { type Fine, groundIn } from '../engine/accounts/stock';
import { type Measured, uncertainty } from '../quantity/measured';
import { showMass } from '../quantity/show';

export type AmountUnit = 'gram' | 'millilitre';

export const unitSymbol = (unit: AmountUnit): 'g' | 'mL' => (unit === 'gram' ? 'g' : 'mL');

/** `58.16 g`; `?` where it is not known. */
export const weightWords = (amount: Measured | undefined, unit: AmountUnit): string =>
  amount ? showMass(amount, unitSymbol(unit)) : '?';

export const figureJson = (of: Inexact) => ({ value: of.value, plusMinus: 2 * spread(of) });

export const amountJson = (of: Measured | undefined) =>
  of ? { value: of.value.toNumber(), plusMinus: 2 * uncertainty(of) } : null;

export const fineJson = (of: Fine) => ({
  metal: of.metal,
  grams: of.grams ? figureJson(of.grams) : null,
  low: of.lowGrams,
  high: of.highGrams,
  ground: groundIn(of),
});

export const FINE_COLUMNS: readonly string[] = ['metal', 'fine g', '± g (k = 2)', 'ground'];

/** The cells of each metal; of a lot of which nothing is known one row that says so. */
export const fineCells = (fine: readonly Fine[]): readonly (readonly (string | number | undefined)[])[] =>
  fine.length === 0
    ? [[undefined, undefined, undefined, 'unknown']]
    : fine.map((of) => [of.metal, of.grams?.value, of.grams && 2 * spread(of.grams), groundIn(of)]);

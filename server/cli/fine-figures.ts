/** Amounts and fine metal as the commands print them for other programs: grams, with their ± at k = 2. */
import { type Inexact, spread } from '../engine/accounts/inexact';
import type { Fine } from '../engine/accounts/stock';
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

export const fineJson = ({ metal, grams, lowGrams, highGrams, known }: Fine) => ({
  metal,
  grams: grams ? figureJson(grams) : null,
  low: lowGrams,
  high: highGrams,
  ground: known.ground,
});

export const FINE_COLUMNS: readonly string[] = ['metal', 'fine g', '± g (k = 2)', 'ground'];

/** The cells of each metal; of a lot of which nothing is known one row that says so. */
export const fineCells = (fine: readonly Fine[]): readonly (readonly (string | number | undefined)[])[] =>
  fine.length === 0
    ? [[undefined, undefined, undefined, 'unknown']]
    : fine.map(({ metal, grams, known }) => [metal, grams?.value, grams && 2 * spread(grams), known.ground]);

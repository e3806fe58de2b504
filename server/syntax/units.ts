/** Whether an amount's unit is there and of the right kind for its slot. */
import { decimal, decimalsOf } from '../quantity/decimal';
import { nearUnit, unit as unitRow } from '../quantity/units';
import type { Slot } from '../vocabulary/slots';
import { report } from './cursor';
import type { AmountNode, NumberNode, Problem, WordNode } from './tree';

const figures = (amount: AmountNode): boolean => amount.parts.length > 0;

export const checkUnit = (slot: Slot, amount: AmountNode, problems: Problem[]): void => {
  if (!figures(amount) || slot.takes.includes('temperature')) return;
  if (slot.takes.includes('number')) {
    if (amount.unit) report(problems, 'wrong-unit', amount.unit, amount.unit.text, { wanted: 'a number' });
    return;
  }
  if (slot.takes.includes('money') || slot.takes.includes('rate')) {
    if (!amount.unit) report(problems, 'missing-unit', amount, amount.parts[0]!.text, { wanted: 'a currency' });
    else if (slot.takes.includes('share')) checkShare(amount, problems);
    else report(problems, 'wrong-unit', amount, amount.unit.text, { wanted: 'a sum of money' });
    return;
  }
  if (slot.takes.includes('share') && !slot.takes.includes('amount')) checkShare(amount, problems);
  else if (!amount.unit) reportMissing(amount, 'g', problems);
  else checkWeight(slot, amount, amount.unit, problems);
};

const checkWeight = (slot: Slot, amount: AmountNode, unit: WordNode, problems: Problem[]): void => {
  const row = unitRow(unit.text);
  if (!row) return;
  const share = slot.takes.includes('share') && row.kind === 'proportion';
  if (row.kind !== 'mass' && row.kind !== 'volume' && !share) {
    report(problems, 'wrong-unit', amount, unit.text, { wanted: 'a weight' });
  }
  askWhich(unit, row.symbol, problems);
};

/** Of a reading, a claim, a payable share: a proportion. `metal`: what of. */
export const checkShare = (amount: AmountNode, problems: Problem[], metal?: string): void => {
  if (!figures(amount)) return;
  if (!amount.unit) {
    const { start, end, text } = amount.parts.at(-1)!;
    if (amount.parts.length > 1) reportMissing(amount, '%', problems);
    else {
      const wanted = asFineness(text, metal);
      report(problems, 'missing-unit', { start, end }, text, { wanted, mend: { start, end, text: wanted } });
    }
    return;
  }
  const row = unitRow(amount.unit.text);
  if (!row || row.kind === 'proportion') return;
  // Carats of fineness are karats here: `ct` is a weight.
  const mend = row.symbol === 'ct' ? { mend: { start: amount.unit.start, end: amount.unit.end, text: 'k' } } : {};
  report(problems, 'wrong-unit', amount, amount.unit.text, { wanted: 'a proportion', ...mend });
};

const KARATS: ReadonlySet<string> = new Set(['8', '9', '10', '12', '14', '15', '18', '20', '21', '22', '23', '24']);

/** A bare share with the unit that it plainly has: `585 fine`, `58.3 %` of `0.583`, `14 k` of gold. */
export const asFineness = (text: string, metal?: string): string => {
  const value = decimal(text);
  if (metal === 'Au' && KARATS.has(text)) return `${text} k`;
  if (value.lessThanOrEqualTo(1) && text.includes('.'))
    return `${value.times(100).toFixed(Math.max(0, decimalsOf(text) - 2))} %`;
  return value.greaterThan(100) ? `${text} fine` : `${text} %`;
};

/** Of a rate: a mass. An ounce of precious metal is a troy ounce. */
export const checkRateUnit = (per: WordNode, problems: Problem[]): void => {
  const row = unitRow(per.text);
  if (!row) {
    const near = nearUnit(per.text);
    const mend = near ? { mend: { start: per.start, end: per.end, text: near } } : {};
    report(problems, 'unknown-unit', per, per.text, { wanted: near ?? 'ozt', ...mend });
  } else if (row.kind !== 'mass') report(problems, 'wrong-unit', per, per.text, { wanted: 'a weight' });
  else askWhich(per, row.symbol, problems);
};

/** `gr` is the grain, `oz` the common ounce: both are often meant otherwise. */
const askWhich = (unit: WordNode, symbol: string, problems: Problem[]): void => {
  if (symbol !== 'gr' && symbol !== 'oz') return;
  const meant = symbol === 'gr' ? 'g' : 'ozt';
  const mend = { start: unit.start, end: unit.end, text: meant };
  report(problems, 'which-unit', unit, symbol, { wanted: meant, mend });
};

const reportMissing = (amount: AmountNode, unit: string, problems: Problem[]): void => {
  const last: NumberNode = amount.parts.at(-1)!;
  report(problems, 'missing-unit', { start: amount.parts[0]!.start, end: last.end }, last.text, {
    wanted: `${last.text} ${unit}`,
    mend: { start: last.end, end: last.end, text: ` ${unit}` },
  });
};

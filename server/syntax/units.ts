/** Whether an amount's unit is there and of the right kind for its slot. */
import { unit as unitRow } from '../quantity/units';
import type { Slot } from '../vocabulary/slots';
import { report } from './cursor';
import type { AmountNode, NumberNode, Problem, WordNode } from './tree';

const figures = (amount: AmountNode): boolean => amount.parts.length > 0;

export const checkUnit = (slot: Slot, amount: AmountNode, problems: Problem[]): void => {
  if (!figures(amount) || slot.takes.includes('number') || slot.takes.includes('temperature')) return;
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
  if (row.symbol === 'gr' || row.symbol === 'oz') {
    const meant = row.symbol === 'gr' ? 'g' : 'ozt';
    const mend = { start: unit.start, end: unit.end, text: meant };
    report(problems, 'which-unit', unit, row.symbol, { wanted: meant, mend });
  }
};

/** Of a reading, a claim, a payable share: a proportion. */
export const checkShare = (amount: AmountNode, problems: Problem[]): void => {
  if (!figures(amount)) return;
  if (!amount.unit) {
    reportMissing(amount, '%', problems);
    return;
  }
  const row = unitRow(amount.unit.text);
  if (!row || row.kind === 'proportion') return;
  // Carats of fineness are karats here: `ct` is a weight.
  const mend = row.symbol === 'ct' ? { mend: { start: amount.unit.start, end: amount.unit.end, text: 'k' } } : {};
  report(problems, 'wrong-unit', amount, amount.unit.text, { wanted: 'a proportion', ...mend });
};

const reportMissing = (amount: AmountNode, unit: string, problems: Problem[]): void => {
  const last: NumberNode = amount.parts.at(-1)!;
  report(problems, 'missing-unit', { start: amount.parts[0]!.start, end: last.end }, last.text, {
    wanted: unit,
    mend: { start: last.end, end: last.end, text: ` ${unit}` },
  });
};

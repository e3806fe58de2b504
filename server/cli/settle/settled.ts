/** A settlement as the command prints it. */
import { toPlain } from '../../quantity/decimal';
import { mendedSays } from '../../reports/corrections';
import { figureUnit, lineSays, lineTitle } from '../../reports/selling/lines';
import { lineCells, settledSays, settledSum, settledSumHead } from '../../reports/selling/settled';
import { NO_OFFER } from '../../reports/selling/sum';
import { termLines } from '../../reports/selling/terms';
import { visible } from '../../text/visible';
import { headOf } from '../../workspace/selling/consigned';
import type { Settlement } from '../../workspace/selling/settlements';
import type { Workspace } from '../../workspace/workspace';
import type { Paint } from '../paint';
import { whereIs, whereWords } from '../print';
import { type Column, table } from '../table';

const COLUMNS: readonly Column[] = [
  { head: 'line' },
  { head: 'theirs', right: true },
  { head: 'ours', right: true },
  { head: '' },
  { head: 'costs you', right: true },
];

/** All of a settlement, for a terminal. */
export const settledText = (workspace: Workspace, settlement: Settlement, paint: Paint): string => {
  const { sale, terms, byOffer, checked } = settlement;
  const [head, ...lines] = table(COLUMNS, lineCells(settlement));
  const differing = checked.lines.filter(({ verdict }) => verdict === 'differs');
  return [
    `${paint('bold', visible(`settle ${settlement.name}`))} ${paint('dim', visible(`(${whereWords(workspace, headOf(sale).head)})`))}`,
    ...settledSays(settlement).map(visible),
    ...mendedSays(sale.parts).map(visible),
    '',
    paint('dim', head!),
    ...lines.map(visible),
    ...(differing.length > 0 ? ['', ...differing.map((line) => visible(`- ${lineSays(settlement, line)}`))] : []),
    '',
    paint('bold', settledSumHead(settlement)),
    ...settledSum(settlement).map((line) => visible(`  ${line}`)),
    ...(terms
      ? [
          '',
          paint('bold', byOffer ? `Offered on ${terms.from}` : `Terms on file from ${terms.from}`),
          ...termLines(terms).map((line) => visible(`  ${line}`)),
        ]
      : []),
    '',
    NO_OFFER,
    '',
  ].join('\n');
};

/** Money as exact decimals in text; grams, shares and money for a gram as they were reckoned. */
export const settledJson = (workspace: Workspace, settlement: Settlement) => {
  const { name, party, currency, shippedOn, settledOn, paidOn, daysTaken, checked, sale, lots } = settlement;
  return {
    name,
    party: party ?? null,
    currency,
    lots: lots.map(({ lot, grams }) => ({ lot, grams: grams?.value.toNumber() ?? null })),
    shipped: shippedOn ?? null,
    settled: settledOn,
    paid: paidOn ?? null,
    days: daysTaken ?? null,
    stated: toPlain(checked.stated.amount),
    reckoned: toPlain(checked.payout.total.amount),
    owed: toPlain(checked.owed.amount),
    lines: checked.lines.map((line) => ({
      line: lineTitle(line),
      subject: line.subject,
      of: line.of ?? null,
      theirs: line.theirs ? toPlain(line.theirs) : null,
      ours: line.ours ? toPlain(line.ours) : null,
      unit: figureUnit(line, currency),
      verdict: line.verdict,
      because: line.because ?? null,
      owed: line.owed ? toPlain(line.owed.amount) : null,
      says: line.verdict === 'differs' ? lineSays(settlement, line) : null,
    })),
    ...whereIs(workspace, headOf(sale).head),
  };
};

export const SETTLED_COLUMNS = [
  'settlement',
  'party',
  'line',
  'theirs',
  'ours',
  'unit',
  'verdict',
  'owed',
  'currency',
  'file',
  'line number',
];

export const settledRows = (workspace: Workspace, settlement: Settlement) => {
  const { name, party, currency, checked, sale } = settlement;
  const { file, line: at } = whereIs(workspace, headOf(sale).head);
  return checked.lines.map((line) => [
    name,
    party,
    lineTitle(line),
    line.theirs?.toNumber(),
    line.ours?.toNumber(),
    figureUnit(line, currency),
    line.verdict,
    line.owed?.amount.toNumber(),
    currency,
    file,
    at,
  ]);
};

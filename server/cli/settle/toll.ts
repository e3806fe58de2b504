/** The account of a customer's lot as the command prints it. */
import { type Inexact, spread } from '../../engine/accounts/inexact';
import { toPlain } from '../../quantity/decimal';
import { BILL_HEADS, billCells, billLineSays, billSays } from '../../reports/selling/bill';
import { figureUnit, lineTitle } from '../../reports/selling/lines';
import { NO_OFFER } from '../../reports/selling/sum';
import { termLines } from '../../reports/selling/terms';
import {
  proceedsSays,
  TOLL_PIECE_HEADS,
  tollMetalCells,
  tollMetalHeads,
  tollPieceCells,
  tollSays,
  tollSum,
} from '../../reports/selling/toll';
import { visible } from '../../text/visible';
import type { Billed } from '../../workspace/selling/bills';
import type { Proceeds } from '../../workspace/selling/proceeds';
import type { Toll } from '../../workspace/selling/tolls';
import type { Paint } from '../paint';
import { type Column, table } from '../table';

const columns = (heads: readonly string[], right: readonly number[]): readonly Column[] =>
  heads.map((head, at) => ({ head, right: right.includes(at) }));

export const tollText = (toll: Toll, bills: readonly Billed[], proceeds: readonly Proceeds[], paint: Paint): string => {
  const [head, ...metals] = table(
    columns(tollMetalHeads(toll), [1, 2, 3, 4, 5, 6, 7, 8]),
    toll.metals.map((one) => tollMetalCells(one, toll)),
  );
  const [pieceHead, ...pieces] = table(columns(TOLL_PIECE_HEADS, [2, 3, 4]), toll.pieces.map(tollPieceCells));
  const charges = tollSum(toll);
  return [
    paint('bold', visible(`settle ${toll.name}`)),
    ...[...tollSays(toll), ...proceedsSays(toll, proceeds, bills)].map(visible),
    ...bills.flatMap((bill) => billText(bill, paint)),
    '',
    paint('dim', head!),
    ...metals.map(visible),
    '',
    paint('bold', 'What came of it'),
    paint('dim', pieceHead!),
    ...pieces.map(visible),
    ...(charges.length > 0 ? ['', paint('bold', 'The work'), ...charges.map((line) => visible(`  ${line}`))] : []),
    ...(toll.terms
      ? [
          '',
          paint('bold', `Agreed from ${toll.terms.from}`),
          ...termLines(toll.terms, true).map((line) => visible(`  ${line}`)),
        ]
      : []),
    '',
    NO_OFFER,
    '',
  ].join('\n');
};

const billText = (bill: Billed, paint: Paint): readonly string[] => {
  const [head, ...lines] = table(columns(BILL_HEADS, [1, 2, 4]), billCells(bill));
  const differing = bill.lines.filter(({ verdict }) => verdict === 'differs');
  return [
    '',
    paint('bold', visible(`The bill: settle ${bill.name}`)),
    ...billSays(bill).map(visible),
    paint('dim', head!),
    ...lines.map(visible),
    ...differing.map((line) => visible(`- ${billLineSays(bill, line)}`)),
  ];
};

const figure = (of: Inexact | undefined) => (of ? { value: of.value, plusMinus: 2 * spread(of) } : null);

/** Grams with ± at k = 2; money as exact decimals in text. */
export const tollJson = (toll: Toll, bills: readonly Billed[], proceeds: readonly Proceeds[]) => ({
  name: toll.name,
  customer: toll.customer,
  lots: toll.lots.map(({ lot }) => lot),
  received: toll.receivedOn ?? null,
  grams: toll.receivedGrams?.value.toNumber() ?? null,
  metals: toll.metals.map((one) => ({
    metal: one.metal,
    received: figure(one.received),
    pooled: figure(one.pooled),
    guessed: one.guessed,
    share: one.share ?? null,
    bought: one.bought,
    due: figure(one.due),
    returned: figure(one.returned),
    sold: figure(one.sold),
    onHand: figure(one.onHand),
    residues: figure(one.residues),
    owed: figure(one.owed),
  })),
  pieces: toll.pieces.map((one) => ({
    lot: one.lot,
    kind: one.kind ?? null,
    residue: one.residue,
    part: one.isPart,
    where: one.where,
    to: one.to ?? null,
    date: one.date ?? null,
    grams: figure(one.grams),
    gold: figure(one.fine.get('Au')),
    silver: figure(one.fine.get('Ag')),
    owner: one.owner ?? null,
  })),
  charges: toll.charges.map(({ word, cost }) => ({ charge: word, cost: toPlain(cost.amount) })),
  fee: toll.fee ? { amount: toPlain(toll.fee.amount), currency: toll.fee.currency } : null,
  residues: toll.residues ?? null,
  sold: proceeds.map(({ dealt, lots, money, isPart }) => ({
    name: dealt.name,
    lots,
    party: dealt.party ?? null,
    amount: toPlain(money.amount),
    currency: money.currency,
    part: isPart,
    paid: dealt.paidOn ?? null,
  })),
  bills: bills.map((bill) => ({
    name: bill.name,
    date: bill.date,
    total: toPlain(bill.total.amount),
    currency: bill.currency,
    payer: bill.payer,
    owed: toPlain(bill.owed.amount),
    paid: bill.paidOn ?? null,
    lines: bill.lines.map((line) => ({
      line: lineTitle(line),
      bill: line.theirs ? toPlain(line.theirs) : null,
      journal: line.ours ? toPlain(line.ours) : null,
      verdict: line.verdict,
      owed: line.owed ? toPlain(line.owed.amount) : null,
      owedMetal: Object.fromEntries([...line.metal].map(([symbol, grams]) => [symbol, toPlain(grams)])),
      says: line.verdict === 'differs' ? billLineSays(bill, line) : null,
    })),
  })),
});

export const TOLL_COLUMNS = [
  'customer',
  'lot',
  'what',
  'grams',
  'gold g',
  'silver g',
  'where',
  'to',
  'date',
  'whose',
  'bill says',
  'journal has',
  'unit',
  'verdict',
  'costs the customer',
  'currency',
];

/** What came of it, piece by piece; then each line of its bills. */
export const tollRows = (toll: Toll, bills: readonly Billed[]) => [...pieceRows(toll), ...bills.flatMap(billRows)];

const billRows = ({ toll: { customer }, name, date, currency, lines }: Billed) =>
  lines.map((line) => [
    customer,
    name,
    `bill: ${lineTitle(line)}`,
    ...Array.from({ length: 5 }, () => undefined),
    date,
    undefined,
    line.theirs?.toNumber(),
    line.ours?.toNumber(),
    figureUnit(line, currency),
    line.verdict,
    line.owed?.amount.toNumber(),
    line.owed?.currency,
  ]);

const pieceRows = ({ customer, pieces }: Toll) =>
  pieces.map((one) => [
    customer,
    one.lot,
    one.kind,
    one.grams?.value,
    one.fine.get('Au')?.value,
    one.fine.get('Ag')?.value,
    one.where,
    one.to,
    one.date,
    one.owner ?? 'the shop',
    ...Array.from({ length: 6 }, () => undefined),
  ]);

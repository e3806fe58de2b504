/** A customer's bill in words: its label, its lines against the journal, what is wrong with one. */
import type { BillLine } from '../../engine/selling/bill';
import { negateMoney, showMoney } from '../../quantity/money';
import type { Billed } from '../../workspace/selling/bills';
import { fitting } from '../figures';
import { listWords } from '../words';
import { figureWords, lineTitle, slipWords, verdictWords } from './lines';

const differing = ({ lines }: Billed): readonly BillLine[] => lines.filter(({ verdict }) => verdict === 'differs');

/** `bill agrees, 114.64 USD` · `bill: 2 lines differ, 12.00 USD` */
export const billLabel = (bill: Billed): string => {
  const count = differing(bill).length;
  if (count > 0) {
    const lines = `bill: ${count === 1 ? '1 line differs' : `${count} lines differ`}`;
    const { owed } = bill;
    const size = owed.amount.isNegative() ? negateMoney(owed) : owed;
    return owed.amount.isZero() ? fitting(lines) : fitting(`${lines}, ${showMoney(size)}`, lines);
  }
  const unchecked = bill.lines.some(({ verdict }) => verdict === 'unchecked');
  const so = `bill ${unchecked ? 'differs in nothing' : 'agrees'}, ${showMoney(bill.total)}`;
  return bill.paidOn === undefined ? fitting(`${so}, not paid yet`, so) : fitting(so);
};

/** What it comes to, who pays, whether it was paid, how it stands to the journal. */
export const billSays = (bill: Billed): readonly string[] => {
  const { date, total, payer, toll, paidOn } = bill;
  const count = differing(bill).length;
  const to = payer === 'shop' ? `to be paid to ${toll.customer}` : `to be paid by ${toll.customer}`;
  return [
    `Billed ${date}: ${showMoney(total)} ${to}, ${paidOn ? `paid ${paidOn}` : 'no payment written'}.`,
    count === 0
      ? 'Nothing on the bill differs from the journal.'
      : `${count === 1 ? '1 line of the bill differs' : `${count} lines of the bill differ`} from the journal as it stands${bill.owed.amount.isZero() ? '' : `: in all it ${whomItCosts(bill, bill.owed)}`}.`,
  ];
};

export const BILL_HEADS = ['line', 'bill', 'journal', '', 'costs the customer'] as const;

/** What putting a line right gives the customer: money, else metal. */
const gainWords = ({ owed, metal }: BillLine): string =>
  owed ? showMoney(owed) : [...metal].map(([symbol, grams]) => `${grams.toFixed(3)} g ${symbol}`).join(', ');

/** `costs hall-bench 12.00 USD` · `costs you 0.50 g of Au` */
const whomItCosts = ({ toll: { customer } }: Billed, owed: Billed['owed']): string =>
  owed.amount.isNegative() ? `costs you ${showMoney(negateMoney(owed))}` : `costs ${customer} ${showMoney(owed)}`;

const costs = (bill: Billed, { owed, metal }: BillLine): string => {
  const parts = [
    ...(owed && !owed.amount.isZero() ? [whomItCosts(bill, owed)] : []),
    ...[...metal].map(
      ([symbol, grams]) =>
        `costs ${grams.isNegative() ? 'you' : bill.toll.customer} ${grams.abs().toFixed(3)} g of ${symbol}`,
    ),
  ];
  return parts.length > 0 ? ` It ${listWords(parts)}.` : '';
};

export const billCells = ({ lines, currency }: Billed): readonly (readonly string[])[] =>
  lines.map((line) => [
    lineTitle(line),
    figureWords(line, line.theirs, currency),
    figureWords(line, line.ours, currency),
    verdictWords(line),
    gainWords(line),
  ]);

/** What is wrong with a line of it, and what to do. */
export const billLineSays = (bill: Billed, line: BillLine): string =>
  `${lineSays(bill, line)}${costs(bill, line)} ${ANEW}`;

const lineSays = ({ currency, toll: { terms }, date }: Billed, line: BillLine): string => {
  const { subject, of } = line;
  const [ours, theirs] = [line.ours, line.theirs].map((figure) => figureWords(line, figure, currency));
  const since = terms?.from;
  switch (subject) {
    case 'received':
      return `The bill says ${theirs} came in; the journal has ${ours}.`;
    case 'melted':
      return `The bill says ${theirs} came of it as metal; the journal has ${ours}.`;
    case 'assay':
      return `The bill says ${of} ${theirs}; the journal has ${ours}.`;
    case 'pays':
      return `The bill gives ${theirs} of ${of}; the terms from ${since} say ${ours}.`;
    case 'less':
    case 'keeps':
      return `The bill ${subject === 'less' ? 'takes' : 'keeps at least'} ${theirs} of ${of}${subject === 'less' ? ' off first' : ''}; the terms from ${since} say ${line.ours ? ours : 'nothing of it'}.`;
    case 'charge':
      return line.ours
        ? `The bill charges ${theirs} for ${of}; by the terms from ${since} it is ${ours}.`
        : `The bill charges ${theirs} for ${of}, of which the terms from ${since} say nothing.`;
    case 'credit':
      return `The bill credits ${theirs}; ${ours} came in for what was sold of theirs.`;
    case 'price':
      return `The bill reckons ${of} at ${theirs}; the quote of ${date} is ${ours}.`;
    case 'total':
      return `The lines of the bill come to ${figureWords(line, line.sum, currency)}, not to ${theirs}${line.slip ? `: ${slipWords(line.slip)}` : ''}.`;
    default:
      return `${lineTitle(line)}: the bill says ${theirs}, the journal ${ours}.`;
  }
};

const ANEW = 'Put right what is wrong, and give the bill out anew.';

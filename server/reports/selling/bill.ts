/** A customer's bill in words: its label, its lines against the journal, what is wrong with one. */
import type { BillLine } from '../../engine/selling/bill';
import { showMoney } from '../../quantity/money';
import type { Billed } from '../../workspace/selling/bills';
import { fitting } from '../figures';
import { listWords } from '../words';
import { figureWords, lineTitle, slipWords, strangeTotalSays, verdictWords } from './lines';

const differing = ({ lines }: Billed): readonly BillLine[] => lines.filter(({ verdict }) => verdict === 'differs');

/** `bill agrees, 114.64 USD` · `bill: 2 lines differ, 12.00 USD` */
export const billLabel = (bill: Billed): string => {
  const count = differing(bill).length;
  if (count > 0) {
    const lines = `bill: ${count === 1 ? '1 line differs' : `${count} lines differ`}`;
    const sizes = [...moneyOwed(bill.owed), ...metalOwed(bill.owedMetal)].map(({ size }) => size);
    return fitting(...(sizes.length > 0 ? [`${lines}, ${sizes.join(', ')}`, `${lines}, ${sizes[0]}`] : []), lines);
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
      ? `Nothing on the bill differs from the journal${uncheckedWords(bill)}.`
      : `${count === 1 ? '1 line of the bill differs' : `${count} lines of the bill differ`} from the journal as it stands${inAll(bill)}.`,
  ];
};

/** What was not held against anything agrees with nothing. */
const uncheckedWords = ({ lines }: Billed): string => {
  const unchecked = lines.filter(({ verdict }) => verdict === 'unchecked');
  return unchecked.length === 0 ? '' : `, as far as it can be checked: not ${listWords(unchecked.map(lineTitle))}`;
};

export const BILL_HEADS = ['line', 'bill', 'journal', '', 'costs the customer'] as const;

/** What putting a line right gives the customer: money, and metal. */
const gainWords = ({ owed, metal }: BillLine): string =>
  [
    ...(owed && (metal.size === 0 || !owed.amount.isZero()) ? [showMoney(owed)] : []),
    ...[...metal].map(([symbol, grams]) => `${grams.toFixed(3)} g ${symbol}`),
  ].join(', ');

interface Owed {
  readonly size: string;
  /** It is the shop's: the bill gives them too much. */
  readonly isOurs: boolean;
}

const moneyOwed = (owed: Billed['owed'] | undefined): readonly Owed[] =>
  !owed || owed.amount.isZero()
    ? []
    : [{ size: showMoney({ ...owed, amount: owed.amount.abs() }), isOurs: owed.amount.isNegative() }];

const metalOwed = (metal: BillLine['metal']): readonly Owed[] =>
  [...metal].map(([symbol, grams]) => ({
    size: `${grams.abs().toFixed(3)} g of ${symbol}`,
    isOurs: grams.isNegative(),
  }));

/** `costs hall-bench 12.00 USD and 0.241 g of Au, and you 0.035 g of Ag` */
const costWords = ({ toll: { customer } }: Billed, owed: readonly Owed[]): string => {
  const whom = (isOurs: boolean): readonly string[] => {
    const sizes = owed.filter((one) => one.isOurs === isOurs).map(({ size }) => size);
    return sizes.length > 0 ? [`${isOurs ? 'you' : customer} ${listWords(sizes)}`] : [];
  };
  return `costs ${[...whom(false), ...whom(true)].join(', and ')}`;
};

const inAll = (bill: Billed): string => {
  const owed = [...moneyOwed(bill.owed), ...metalOwed(bill.owedMetal)];
  return owed.length > 0 ? `: in all it ${costWords(bill, owed)}` : '';
};

const costs = (bill: Billed, line: BillLine): string => {
  const owed = [...moneyOwed(line.owed), ...metalOwed(line.metal)];
  return owed.length > 0 ? ` It ${costWords(bill, owed)}.` : '';
};

export const billCells = (bill: Billed): readonly (readonly string[])[] =>
  bill.lines.map((line) => [
    lineTitle(line),
    figureWords(line, line.theirs, bill.currency),
    line.subject === 'total' ? sumWords(bill, line, line.ours) : figureWords(line, line.ours, bill.currency),
    verdictWords(line),
    gainWords(line),
  ]);

/** A sum that the other side pays than the bill says: `12.00 USD to high-fell`. */
const sumWords = ({ payer, currency, toll: { customer } }: Billed, line: BillLine, of: BillLine['ours']): string =>
  of?.isNegative()
    ? `${figureWords(line, of.negated(), currency)} ${payer === 'customer' ? 'to' : 'by'} ${customer}`
    : figureWords(line, of, currency);

/** What is wrong with a line of it, and what to do. */
export const billLineSays = (bill: Billed, line: BillLine): string =>
  `${lineSays(bill, line)}${costs(bill, line)} ${ANEW}`;

const lineSays = (bill: Billed, line: BillLine): string => {
  const { currency, total, date } = bill;
  const { terms } = bill.toll;
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
      if (line.because === 'another currency') return strangeTotalSays(total, currency, line);
      return `The lines of the bill come to ${sumWords(bill, line, line.sum)}, not to ${theirs}${line.slip ? `: ${slipWords(line.slip)}` : ''}.`;
    default:
      return `${lineTitle(line)}: the bill says ${theirs}, the journal ${ours}.`;
  }
};

const ANEW = 'Put right what is wrong, and give the bill out anew.';

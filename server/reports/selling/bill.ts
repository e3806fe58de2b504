/** A customer's bill in words: its label, its lines against the journal, what is wrong with one. */
import type { Line } from '../../engine/selling/stated';
import { showMoney } from '../../quantity/money';
import type { Billed } from '../../workspace/selling/bills';
import { fitting } from '../figures';
import { figureWords, lineTitle, slipWords, verdictWords } from './lines';

const differing = ({ lines }: Billed): readonly Line[] => lines.filter(({ verdict }) => verdict === 'differs');

/** `bill agrees, 114.64 USD` · `bill: 2 lines differ` */
export const billLabel = (bill: Billed): string => {
  const count = differing(bill).length;
  if (count > 0) return fitting(`bill: ${count === 1 ? '1 line differs' : `${count} lines differ`}`);
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
      : `${count === 1 ? '1 line of the bill differs' : `${count} lines of the bill differ`} from the journal as it stands.`,
  ];
};

export const BILL_HEADS = ['line', 'bill', 'journal', ''] as const;

export const billCells = ({ lines, currency }: Billed): readonly (readonly string[])[] =>
  lines.map((line) => [
    lineTitle(line),
    figureWords(line, line.theirs, currency),
    figureWords(line, line.ours, currency),
    verdictWords(line),
  ]);

/** What is wrong with a line of it, and what to do. */
export const billLineSays = ({ currency, toll: { terms }, date }: Billed, line: Line): string => {
  const { subject, of } = line;
  const [ours, theirs] = [line.ours, line.theirs].map((figure) => figureWords(line, figure, currency));
  const since = terms?.from;
  switch (subject) {
    case 'received':
      return `The bill says ${theirs} came in; the journal has ${ours}. ${ANEW}`;
    case 'melted':
      return `The bill says ${theirs} came of it as metal; the journal has ${ours}. ${ANEW}`;
    case 'assay':
      return `The bill says ${of} ${theirs}; the journal has ${ours}. ${ANEW}`;
    case 'pays':
      return `The bill gives ${theirs} of ${of}; the terms from ${since} say ${ours}. ${ANEW}`;
    case 'less':
    case 'keeps':
      return `The bill ${subject === 'less' ? 'takes' : 'keeps at least'} ${theirs} of ${of}${subject === 'less' ? ' off first' : ''}; the terms from ${since} say ${line.ours ? ours : 'nothing of it'}. ${ANEW}`;
    case 'charge':
      return line.ours
        ? `The bill charges ${theirs} for ${of}; by the terms from ${since} it is ${ours}. ${ANEW}`
        : `The bill charges ${theirs} for ${of}, of which the terms from ${since} say nothing. ${ANEW}`;
    case 'price':
      return `The bill reckons ${of} at ${theirs}; the quote of ${date} is ${ours}. ${ANEW}`;
    case 'total':
      return `The lines of the bill come to ${ours}, not to ${theirs}${line.slip ? `: ${slipWords(line.slip)}` : ''}. ${ANEW}`;
    default:
      return `${lineTitle(line)}: the bill says ${theirs}, the journal ${ours}. ${ANEW}`;
  }
};

const ANEW = 'Put right what is wrong, and give the bill out anew.';

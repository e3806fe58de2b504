/** The lines of a settlement in words: the same in a finding, in the terminal and in a document. */
import type { Because, Line } from '../../engine/selling/stated';
import type { TotalSlip } from '../../engine/selling/total-slip';
import { type Decimal, decimal, toPlain } from '../../quantity/decimal';
import { money, showMoney } from '../../quantity/money';
import { showPlaces } from '../../quantity/show';
import type { Settlement } from '../../workspace/selling/settlements';
import { costsYou } from './money';
import { assayWords, percent, rateWords } from './terms';

/** What a line is about: `weight`, `Au assay`, `charge melting`. */
export const lineTitle = ({ subject, of }: Line): string => {
  const titles: Readonly<Record<Line['subject'], string>> = {
    received: 'weight received',
    melted: 'weight melted',
    assay: `${of} assay`,
    pays: `${of} paid share`,
    less: `${of} taken off`,
    keeps: `${of} kept`,
    charge: `charge ${of}`,
    price: `${of} price`,
    unpaid: `${of} not paid`,
    total: 'total',
  };
  return titles[subject];
};

/** A figure of a line in its own unit. */
export const figureWords = ({ subject }: Line, figure: Decimal | undefined, currency: string): string => {
  if (!figure) return '–';
  if (subject === 'received' || subject === 'melted') return `${atLeastTwo(figure, 3)} g`;
  if (subject === 'charge' || subject === 'total') return showMoney(money(figure, currency));
  if (subject === 'price') return rateWords(figure, currency);
  if ((subject === 'less' || subject === 'keeps') && figure.greaterThan(1)) return `${toPlain(figure)} g`;
  return subject === 'assay' ? assayWords(figure) : percent(figure.toDecimalPlaces(6));
};

const atLeastTwo = (figure: Decimal, most: number): string => {
  const cut = figure.toDecimalPlaces(most);
  return cut.toFixed(Math.max(2, cut.decimalPlaces()));
};

const BECAUSE: Readonly<Record<Because, string>> = {
  'not weighed': 'what was shipped is not weighed',
  'more than went in': 'more than went in',
  'no own assay': 'no assay of our own',
  'own assay too coarse': 'no farther than our own assay is good to',
  'no terms': 'no terms on file',
  'no price of that day': 'no quote of the agreed day',
  'no rate': 'no rate is written for its currency',
  'price not said': 'they name no price, and no quote is of the agreed day',
  'no total': 'no total is written',
  'left out': 'a price or a rate is not written',
  rounding: 'by rounding of the lines',
  'splitting limit': 'splitting limit',
  uncertainty: 'what weighing and assay explain',
  'mean of both': 'mean of both assays',
  umpire: 'by the umpire',
  'umpire wanted': 'beyond the splitting limit',
  'not agreed': 'not agreed',
  'far from the price in force': 'far from the price in force',
};

/** `agrees`, `differs`, `not checked: no assay of our own`. */
export const verdictWords = ({ verdict, because }: Line): string => {
  if (verdict === 'unchecked') return `not checked: ${because ? BECAUSE[because] : ''}`;
  if (verdict === 'agrees') return because === 'rounding' ? 'agrees, by rounding' : 'agrees';
  return because && SAID_OF_DIFFERENCE.has(because) ? `differs: ${BECAUSE[because]}` : 'differs';
};

const SAID_OF_DIFFERENCE: ReadonlySet<Because> = new Set([
  'umpire wanted',
  'mean of both',
  'umpire',
  'not agreed',
  'more than went in',
]);

/** What is wrong with a line, by how much, and what to do. */
export const lineSays = (settlement: Settlement, line: Line): string => {
  const { currency } = settlement;
  const { subject, of } = line;
  const [ours, theirs] = [line.ours, line.theirs].map((figure) => figureWords(line, figure, currency));
  const owed = line.owed ? costsYou(line.owed) : '';
  const since = settlement.terms?.from;
  switch (subject) {
    case 'received':
      return `They received ${theirs}; ${ours} was shipped: ${apart(line)}, more than weighing explains. ${owed} Ask for their weighing.`;
    case 'melted':
      if (line.because === 'more than went in')
        return `Their melt left ${theirs}, more than the ${ours} that went in. ${owed} Ask for both weighings.`;
      return `Their melt left ${theirs}; with ${lossWords(settlement)} lost it would be ${ours} at least. ${owed} Ask for the slag, or a second melt.`;
    case 'assay':
      return assaySays(settlement, line, ours!, theirs!, owed);
    case 'pays':
      return `They pay ${theirs} of ${of}; the terms from ${since} say ${ours}. ${owed}`;
    case 'less':
      return `They take ${theirs} of ${of} off first; the terms from ${since} say ${line.ours ? ours : 'nothing of it'}. ${owed}`;
    case 'keeps':
      return `They keep at least ${theirs} of ${of}; the terms from ${since} say ${line.ours ? ours : 'nothing of it'}. ${owed}`;
    case 'charge':
      return line.ours
        ? `They charge ${theirs} for ${of}; by the terms from ${since} it is ${ours}. ${owed}`
        : `They charge ${theirs} for ${of}, of which the terms from ${since} say nothing. ${owed}`;
    case 'price':
      return line.because
        ? `They reckon ${of} at ${theirs}; the last quote by ${settlement.market.date} is ${ours}. ${owed} Ask which day's price it is.`
        : `They reckon ${of} at ${theirs}; on ${settlement.market.date}, the agreed day, it was ${ours}. ${owed}`;
    case 'unpaid':
      return `Nothing is paid for ${of}; the terms from ${since} pay ${ours} of it. ${owed}`;
    case 'total':
      return `Their lines come to ${ours}, not to ${theirs}${line.slip ? `: ${slipWords(line.slip)}` : ''}. ${owed}`;
  }
};

export const slipWords = ({ kind, line }: TotalSlip): string => {
  switch (kind) {
    case 'left out':
      return `${line} is left out`;
    case 'taken twice':
      return `${line} is taken twice`;
    case 'on the wrong side':
      return `${line} stands on the wrong side`;
    case 'digits exchanged':
      return 'two of its digits are exchanged';
  }
};

const apart = ({ ours, theirs }: Line): string => {
  const grams = ours!.minus(theirs!);
  return `${atLeastTwo(grams.abs(), 3)} g ${grams.isNegative() ? 'more' : 'less'}`;
};

const lossWords = ({ terms }: Settlement): string =>
  terms?.meltLoss ? `the agreed ${percent(terms.meltLoss)}` : 'half a per cent';

const assaySays = (settlement: Settlement, line: Line, ours: string, theirs: string, owed: string): string => {
  const { of, because, allowed = 0 } = line;
  if (because === 'umpire') return `By the umpire ${of} settles at ${ours}; they reckon with ${theirs}. ${owed}`;
  if (because === 'mean of both')
    return `Both assays lie within the splitting limit: their mean, ${of} ${ours}, settles; they reckon with ${theirs}. ${owed}`;
  const limit = percent(decimal(Number(allowed.toPrecision(2))));
  const u = settlement.own.get(of!)?.share;
  const own = u ? `${ours} ±${showPlaces(decimal(200 * Math.hypot(...u.sizes)), 2)}` : ours;
  return because === 'umpire wanted'
    ? `They find ${of} ${theirs}, we ${own}: farther apart than the splitting limit of ${limit}. ${owed} Call the umpire.`
    : `They find ${of} ${theirs}, we ${own}: farther apart than the ${limit} that both assays explain. ${owed} Ask for their assay, or an umpire.`;
};

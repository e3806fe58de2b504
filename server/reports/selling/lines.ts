/** The lines of a settlement in words: the same in a finding, in the terminal and in a document. */
import type { Because, Line } from '../../engine/selling/stated';
import type { TotalSlip } from '../../engine/selling/total-slip';
import { type Decimal, decimal } from '../../quantity/decimal';
import { type Money, minorUnit, money, showMoney } from '../../quantity/money';
import { showPlaces } from '../../quantity/show';
import type { Settlement } from '../../workspace/selling/settlements';
import { listWords } from '../words';
import { costsYou } from './money';
import { assayWords, cutWords, percent, rateWords } from './terms';

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
    credit: 'credit',
    price: `${of} price`,
    unpaid: `${of} not paid`,
    payable: `${of} payable`,
    returns: `${of} given back`,
    worth: `${of} worth`,
    offer: 'against their offer',
    total: 'total',
  };
  return titles[subject];
};

const IN_MONEY: ReadonlySet<Line['subject']> = new Set(['charge', 'credit', 'worth', 'offer', 'total']);

/** A figure of a line in its own unit. */
export const figureWords = (line: Line, figure: Decimal | undefined, currency: string): string => {
  const { subject } = line;
  if (!figure) return '–';
  if (subject === 'received' || subject === 'melted' || subject === 'payable' || subject === 'returns')
    return `${atLeastTwo(figure, 3)} g`;
  if (IN_MONEY.has(subject)) return showMoney(money(figure, currency));
  if (subject === 'price') return rateWords(figure, currency, line.per?.unit, line.per?.digits);
  if (line.cuts) return cutWords(figure === line.theirs ? line.cuts.theirs : line.cuts.ours!);
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
  'nothing agreed': 'no terms and no offered shares to reckon with',
  'other lines': 'told by the other lines',
  'not exchanged': 'their own assay is not written',
  'no price of that day': 'no quote of the agreed day',
  'no rate of that day': 'no rate of the agreed day',
  'no price of that fixing': 'no quote of the agreed fixing',
  'no day agreed': 'no day is agreed for the price',
  'no rate': 'no rate is written for its currency',
  'price not said': 'they name no price, and no quote is of the agreed day',
  'no total': 'no total is written',
  'another currency': 'in another currency than its lines',
  'no lines': 'by our own figures',
  'reckoned with ours': 'their total is reckoned with ours',
  'left out': 'a price or a rate is not written',
  rounding: 'by rounding of the lines',
  'splitting limit': 'splitting limit',
  uncertainty: 'what weighing and assay explain',
  'mean of both': 'mean of both assays',
  'we were late': 'theirs binds, ours came late',
  'they were late': 'ours binds, theirs came late',
  umpire: 'by the umpire',
  'umpire wanted': 'beyond the splitting limit',
  'no mean of both': 'too far off to be a mean of both',
  'not agreed': 'not agreed',
  'far from the price in force': 'far from the price in force',
};

/** The unit of the figures of a line, as a table has them: a mass fraction as a share of 1. */
export const figureUnit = ({ subject, cuts }: Line, currency: string): string => {
  if (
    subject === 'received' ||
    subject === 'melted' ||
    subject === 'payable' ||
    subject === 'returns' ||
    cuts?.theirs.grams
  )
    return 'g';
  if (subject === 'price') return `${currency}/g`;
  return IN_MONEY.has(subject) ? currency : '1';
};

/** `agrees`, `differs`, `not checked: no assay of our own`. */
export const verdictWords = (line: Line): string => {
  const { verdict, because, subject } = line;
  if (verdict === 'unchecked') return `not checked: ${because ? BECAUSE[because] : ''}`;
  if (verdict === 'agrees' && isOfOtherLines(line)) return 'as their lines have it';
  if (verdict === 'agrees' && because === 'other lines') return 'the other lines tell why';
  if (verdict === 'agrees' && subject === 'total' && because === 'uncertainty')
    return 'agrees, as far as our own weight and assay are known';
  if (verdict === 'agrees') return because === 'rounding' ? 'agrees, by rounding' : 'agrees';
  return because && SAID_OF_DIFFERENCE.has(because) ? `differs: ${BECAUSE[because]}` : 'differs';
};

/** A sum that holds, of lines that do not. */
const isOfOtherLines = ({ subject, ours, sum }: Line): boolean =>
  subject === 'total' && ours !== undefined && sum !== undefined && !ours.equals(sum);

const SAID_OF_DIFFERENCE: ReadonlySet<Because> = new Set([
  'another currency',
  'no lines',
  'umpire wanted',
  'no mean of both',
  'reckoned with ours',
  'mean of both',
  'we were late',
  'they were late',
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
  const agreed = agreedWords(settlement);
  if (line.because === 'reckoned with ours')
    return `The sheet has ${lineTitle(line)} ${theirs}; ours is ${ours}, and their total is reckoned with ours. Nothing is owed for it: put right a slip of the pen, or ask for a new sheet.`;
  switch (subject) {
    case 'received':
      return `They received ${theirs}; ${ours} was shipped: ${apart(line)}, more than weighing explains. ${owed} ${swapWords(line) ?? `Ask for their weighing${photoWords(settlement)}.`}`;
    case 'melted':
      if (line.because === 'more than went in')
        return `Their melt left ${theirs}, more than the ${ours} that went in. ${owed} ${swapWords(line) ?? 'Ask for both weighings.'}`;
      return `Their melt left ${theirs}; with ${lossWords(settlement)} lost it would be ${ours} at least. ${owed} ${swapWords(line) ?? 'Ask for the slag, or a second melt.'}`;
    case 'assay':
      return assaySays(settlement, line, ours!, theirs!, owed);
    case 'pays':
      return `They pay ${theirs} of ${of}; ${agreed} say ${ours}. ${owed}`;
    case 'less':
      return `They take ${theirs} of ${of} off first; ${agreed} say ${line.ours ? ours : 'nothing of it'}. ${owed}`;
    case 'keeps':
      return `They keep at least ${theirs} of ${of}; ${agreed} say ${line.ours ? ours : 'nothing of it'}. ${owed}`;
    case 'charge':
      return line.ours
        ? `They charge ${theirs} for ${of}; by ${agreed} it is ${ours}. ${owed}`
        : `They charge ${theirs} for ${of}, of which ${agreed} say nothing. ${owed}`;
    case 'credit':
      return `They credit ${theirs}; it should be ${ours}. ${owed}`;
    case 'price':
      return line.because
        ? `They reckon ${of} at ${theirs}; the last quote by ${settlement.market.date} is ${ours}. ${owed} ${unitWords(line) ?? "Ask which day's price it is."}`
        : [
            `They reckon ${of} at ${theirs}; ${agreedPriceWords(settlement, line)} ${ours}. ${owed}`,
            unitWords(line) ?? insteadWords(line),
          ]
            .filter(Boolean)
            .join(' ');
    case 'unpaid':
      return `Nothing is paid for ${of}; ${agreed} pay ${ours} of it. ${owed}`;
    case 'returns':
      return `They give back ${theirs} of ${of}; their weight, assay and share come to ${ours}: ${apart(line)}. ${line.theirs!.lessThan(line.ours!) ? 'Ask for the rest, or for money.' : 'Ask whether it is theirs.'}`;
    case 'payable':
      return `They print ${theirs} of payable ${of}; their weight, assay and share come to ${ours}. ${owed}`;
    case 'worth':
      return `They print ${theirs} for ${of}; their own figures come to ${ours}. ${owed}`;
    case 'offer':
      return offerSays(settlement, line);
    case 'total':
      if (line.because === 'another currency') return strangeTotalSays(settlement.words.total!.value, currency, line);
      if (line.because === 'no lines')
        return `They name a sum and no lines: ${theirs}. By ${since ? agreed : 'what was agreed'} and our own weight and assay it comes to ${figureWords(line, line.sum, currency)}. ${owed} Ask for the sheet.`;
      return `Their lines come to ${figureWords(line, line.sum, currency)}, not to ${theirs}${line.slip ? `: ${slipWords(line.slip)}` : ''}. ${owed}`;
  }
};

/** What they offered, lot by lot where there are several, and what is left of the difference once the other lines are put right. */
const offerSays = ({ offers, currency }: Settlement, { ours, theirs, owed }: Line): string => {
  const lots = offers.map(({ lot }) => lot.lot);
  const [first] = offers;
  const on = offers.every(({ date }) => date === first?.date) ? `on ${first?.date} they` : 'they';
  const sum = showMoney(money(ours!, currency));
  const offered = offers.every(({ words }) => words.pays.size === 0)
    ? `${on} offered ${sum} for ${listWords(lots)}`
    : `by what ${on} offered for ${listWords(lots)} it comes to ${sum}`;
  const short = ours!.minus(theirs!);
  const isRest = owed && short.minus(owed.amount).abs().greaterThanOrEqualTo(minorUnit(currency));
  const costs = isRest
    ? `Its other lines make ${showMoney(money(short.minus(owed.amount), currency))} of that; the rest, ${showMoney(owed)}, is told by none.`
    : `That is ${showMoney(money(short, currency))} less.`;
  return `They pay ${showMoney(money(theirs!, currency))}; ${offered}. ${costs} Hold them to it, or ask what has changed.`;
};

/** `the terms from 2026-01-01`; where none are on file what they offered for the lot before it went. */
const agreedWords = ({ terms, byOffer }: Settlement): string =>
  byOffer ? `the lines of their offer of ${terms?.from}` : `the terms from ${terms?.from}`;

/** A slip in its currency, where the figure is that of the lines; else a rate is wanted. */
export const strangeTotalSays = (value: Money, currency: string, line: Line): string => {
  const lines = line.sum ? `come to ${figureWords(line, line.sum, currency)}` : `are in ${currency}`;
  return `Their lines ${lines}; the total is ${showMoney(value)}, and no rate is written. Put right a slip of the pen, or write \`quote ${value.currency} … ${currency}\`.`;
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

/** What shows the lot as it left. */
const photoWords = ({ consignment: { ship } }: Settlement): string => {
  const [photo] =
    ship?.parts
      .flatMap(({ said, flows }) => [said, ...flows.map((flow) => flow.said)])
      .flatMap(({ photos }) => photos ?? []) ?? [];
  return photo ? `, and show them ${photo.name}` : '';
};

/** `on 2026-05-11, the agreed day, it was`; of a fixing `… the afternoon fixing was`; or when it was fixed. */
const agreedPriceWords = ({ market, name }: Settlement, { by }: Line): string => {
  const { fixing, entry } = by!.quote;
  return entry.verb === 'ship'
    ? `for ${name} it was fixed on ${entry.date} at`
    : `on ${market.date}, the agreed day, ${fixing === undefined ? 'it' : `the ${fixing} fixing`} was`;
};

/** Another price of that day is no price that was agreed. */
const insteadWords = ({ instead }: Line): string | undefined =>
  instead &&
  (instead.quote.fixing === undefined
    ? 'It is another price of that day.'
    : `It is that of the ${instead.quote.fixing} fixing.`);

/** A price of another unit: the one is the other times a troy ounce, or a thousand. */
const unitWords = ({ ours, theirs }: Line): string | undefined => {
  const times = theirs!.div(ours!).toNumber();
  const found = [
    { times: 31.1034768, says: 'It looks like the price of a troy ounce.' },
    { times: 1000, says: 'It looks like the price of a kilogram.' },
    { times: 1 / 31.1034768, says: 'It looks like the price of a gram.' },
  ].find((one) => Math.abs(times / one.times - 1) < NEAR_UNIT);
  return found?.says;
};

/** Prices of a few days lie so near. */
const NEAR_UNIT = 0.05;

/** The likeliest slip of the pen, and whom to ask. */
const swapWords = (line: Line): string | undefined =>
  line.swapped && `Two of its digits may be exchanged, for ${atLeastTwo(line.swapped, 3)} g: look at their sheet.`;

const apart = ({ ours, theirs }: Line): string => {
  const grams = ours!.minus(theirs!);
  return `${atLeastTwo(grams.abs(), 3)} g ${grams.isNegative() ? 'more' : 'less'}`;
};

const lossWords = ({ terms }: Settlement): string =>
  terms?.meltLoss ? `the agreed ${percent(terms.meltLoss)}` : 'half a per cent';

const assaySays = (settlement: Settlement, line: Line, ours: string, theirs: string, owed: string): string => {
  const { of, because, allowed = 0 } = line;
  if (because === 'umpire') return `By the umpire ${of} settles at ${ours}; they reckon with ${theirs}. ${owed}`;
  const within = `the ${settlement.terms?.exchangeDays} days agreed for the exchange of assays`;
  if (because === 'they were late')
    return `Their assay came after ${within}: ours, ${of} ${ours}, binds them; they reckon with ${theirs}. ${owed}`;
  if (because === 'we were late')
    return `Our assay came after ${within}: theirs, ${of} ${ours}, binds us; they reckon with ${theirs}. ${owed}`;
  if (because === 'mean of both')
    return `Both assays lie within the splitting limit: their mean, ${of} ${ours}, settles; they reckon with ${theirs}. ${owed}`;
  const limit = percent(decimal(Number(allowed.toPrecision(2))));
  if (because === 'no mean of both')
    return `They settle with ${of} ${theirs}, and we found ${ours}: no mean of two assays within the splitting limit lies farther off than ${limit}. ${owed} Write their own assay, \`assay LOT by fire at ${settlement.party ?? 'PARTY'}\`, or call the umpire.`;
  const u = settlement.own.get(of!)?.share;
  const own = u ? `${ours} ±${showPlaces(decimal(200 * Math.hypot(...u.sizes)), 2)}` : ours;
  return because === 'umpire wanted'
    ? `They find ${of} ${theirs}, we ${own}: farther apart than the splitting limit of ${limit}. ${owed} Call the umpire.`
    : `They find ${of} ${theirs}, we ${own}: farther apart than the ${limit} that both assays explain. ${owed} Ask for their assay, or an umpire.`;
};

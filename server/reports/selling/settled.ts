/** A settlement in words: the label of its line, its lines against ours, its sum. */

import { isComplete } from '../../engine/selling/payout';
import { slipOfSums } from '../../engine/selling/settlement';
import { type Decimal, sum } from '../../quantity/decimal';
import { type Money, negateMoney, roundMoney, showMoney } from '../../quantity/money';
import { showQuantity } from '../../quantity/show';
import { fullOf } from '../../workspace/selling/dealt';
import type { GivenBack } from '../../workspace/selling/given-back';
import type { Settlement } from '../../workspace/selling/settlements';
import { unpaidSilverOf } from '../../workspace/selling/unpaid';
import { fitting } from '../figures';
import { asMeasured } from '../fine';
import { listWords } from '../words';
import { figureWords, lineTitle, verdictWords } from './lines';
import { aboutMoney, shareOfValue } from './money';
import { inColumns, type SumRow, sumRows } from './sum';
import { dayWords } from './words';

/** `agrees, 9879.10 USD` · `agrees, 9879.10 USD, not paid yet` · `2 lines differ: 84.20 USD owed` */
export const settledLabel = ({ checked, words, paidOn }: Settlement): string => {
  const differing = checked.lines.filter(({ verdict }) => verdict === 'differs').length;
  if (differing > 0) {
    const lines = `${differing} ${differing === 1 ? 'line differs' : 'lines differ'}`;
    return isOwedKnown(checked) ? fitting(`${lines}: ${owedWords(checked.owed)}`, lines) : fitting(lines);
  }
  if (!isComplete(checked.payout)) return fitting('not reckoned: a price or rate is missing');
  if (!words.total) return fitting(`comes to ${showMoney(checked.payout.total)}`);
  const unchecked = checked.lines.some(({ verdict }) => verdict === 'unchecked');
  const so = `${unchecked ? 'nothing differs' : 'agrees'}, ${showMoney(checked.stated)}`;
  return paidOn === undefined ? fitting(`${so}, not paid yet`, so) : fitting(so);
};

/** A total in another money than its lines tells nothing of what is owed. */
const isOwedKnown = ({ lines }: Settlement['checked']): boolean =>
  lines.every(({ because }) => because !== 'another currency');

/** `84.20 USD owed` · `3.00 USD paid too much` · `nothing owed` */
export const owedWords = (owed: Settlement['checked']['owed']): string =>
  owed.amount.isZero()
    ? 'nothing owed'
    : owed.amount.isNegative()
      ? `${showMoney({ ...owed, amount: owed.amount.negated() })} paid too much`
      : `${showMoney(owed)} owed`;

/** Each line: what it is, theirs, ours, how they agree, what it makes to the sum. */
export const lineCells = ({ checked, currency, words }: Settlement): readonly (readonly string[])[] =>
  checked.lines.map((line) => [
    lineTitle(line),
    line.because === 'another currency' && words.total
      ? showMoney(words.total.value)
      : figureWords(line, line.theirs, currency),
    line.subject === 'melted' && line.ours && line.because !== 'more than went in'
      ? `${figureWords(line, line.ours, currency)} at least`
      : figureWords(line, line.ours, currency),
    verdictWords(line),
    line.owed ? showMoney(line.owed) : '',
  ]);

/** Their figures worked through again, one step to a row. */
export const settledRows = ({ checked, words, melted, received, grams }: Settlement): readonly SumRow[] =>
  sumRows(checked.payout, {
    grams: (melted ?? received ?? grams)!.value,
    shares: new Map([...words.assay].map(([metal, { share }]) => [metal, share])),
  });

/** Above their sum: a sheet without lines is reckoned with ours. */
export const settledSumHead = ({ checked }: Settlement): string =>
  checked.lines.some(({ because }) => because === 'no lines') ? 'By our own figures' : 'Their figures, worked through';

export const settledSum = (settlement: Settlement): readonly string[] => inColumns(settledRows(settlement));

/** What it costs to sell so: charges, and metal that they do not find, or do not pay for. */
const costSays = (settlement: Settlement): readonly string[] => {
  const { checked, currency, words } = settlement;
  // What they keep cannot be told from money where metal comes back too.
  if (words.returns.size > 0) return [];
  const [full, paid] = [fullOf(settlement), checked.stated.amount];
  if (!full || !(full.value > 0) || !paid.greaterThan(0) || !isComplete(checked.payout)) return [];
  const charges = sum(checked.payout.charges.map(({ cost }) => cost.amount));
  const slip = slipOfSums(checked);
  const rest = { ...full, value: full.value - paid.plus(charges).plus(slip.amount).toNumber() };
  return [
    `By our own figures the metal was worth ${aboutMoney(full, currency)} in full, of which they pay ${shareOfValue(paid.toNumber() / full.value)}: ${charges.isZero() ? '' : `${showMoney({ amount: charges, currency })} are charges, `}${rest.value < 0 ? `${charges.isZero() ? '' : 'and '}they reckon ${aboutMoney({ ...rest, value: -rest.value }, currency)} above it` : `${aboutMoney(rest, currency)} is metal that they do not find or do not pay in full`}${slipWords(slip)}.`,
  ];
};

const slipWords = (slip: Money): string =>
  slip.amount.isZero()
    ? ''
    : slip.amount.isNegative()
      ? `; their sums are ${showMoney(negateMoney(slip))} too high for their lines`
      : `; ${showMoney(slip)} is wrong in their sums`;

/** `53.22 g of Au`: metal that is still to come back in place of money. */
export const metalDueBack = (back: readonly GivenBack[]): readonly string[] =>
  back.flatMap(({ metal, dueGrams, step }) => (dueGrams.greaterThan(0) ? [gramsBack(metal, dueGrams, step)] : []));

/** With the digits that were written. */
const gramsBack = (metal: string, grams: Decimal, step: Decimal): string =>
  `${grams.toFixed(step.decimalPlaces())} g of ${metal}`;

const returnSays = ({ words, party, back }: Settlement): readonly string[] => {
  if (back.length === 0) return [];
  const metal = listWords(back.map((one) => gramsBack(one.metal, one.grams, one.step)));
  const fine = back.flatMap((one) => (one.came ? [`${showQuantity(asMeasured(one.came), 'g')} of ${one.metal}`] : []));
  const came = `weighed in as ${listWords(words.returned)}${fine.length > 0 ? `, ${listWords(fine)}` : ''}`;
  return [
    `${metal} comes back from ${party ?? 'the buyer'} in place of money: ${back[0]!.weighedIn ? came : 'not weighed in yet'}.`,
    ...back.flatMap((one) => (one.weighedIn && !one.dueGrams.isZero() ? [givenBackSays(words, party, one)] : [])),
  ];
};

/** What came back is less than was to come, or more: by how much, and what to do. */
export const givenBackSays = (
  { returned }: Settlement['words'],
  party: string | undefined,
  { metal, grams, step, came, dueGrams }: GivenBack,
): string => {
  const holds = `${listWords(returned)} ${returned.length > 1 ? 'hold' : 'holds'} ${showQuantity(asMeasured(came!), 'g')} of ${metal}`;
  const was = `${gramsBack(metal, grams, step)} was to come back`;
  const size = `${dueGrams.abs().toFixed(step.decimalPlaces())} g`;
  return dueGrams.isNegative()
    ? `${holds}, ${size} more than the ${grams.toFixed(step.decimalPlaces())} g that was to come back. Assay it again, or ask ${party ?? 'them'} whose it is.`
    : `${holds}; ${was}: ${size} is missing. Ask ${party ?? 'them'} for it, and name the lot that it comes as with another \`returned\`.`;
};

/** What it comes to, as sentences. */
export const settledSays = (settlement: Settlement): readonly string[] => {
  const { checked, party, shippedOn, settledOn, paidOn, daysTaken, terms, currency, owners, isShared } = settlement;
  const differing = checked.lines.filter(({ verdict }) => verdict === 'differs');
  const alone = sum(differing.flatMap(({ owed }) => (owed ? [owed.amount] : [])));
  const together = checked.owed.amount;
  const apart = together.minus(alone);
  const silver = unpaidSilverOf(settlement);
  const late = daysTaken === undefined || terms?.days === undefined ? 0 : daysTaken - terms.days;
  return [
    [
      `${party ?? 'The buyer'}: ${shippedOn ? `shipped ${shippedOn}, ` : ''}settled ${settledOn}`,
      paidOn ? `, paid ${paidOn}` : ', no payment written',
      daysTaken === undefined ? '' : `; ${dayWords(daysTaken)} in all`,
      terms?.days === undefined ? '' : `, ${dayWords(terms.days)} agreed`,
      late > 0 ? `: ${dayWords(late)} late` : '',
      '.',
    ].join(''),
    ...(owners.length > 0
      ? [
          isShared
            ? `Part of the metal is of ${listWords(owners)}: what is paid for that part is theirs.`
            : `The metal is of ${listWords(owners)}: what is paid for it is theirs.`,
        ]
      : []),
    ...returnSays(settlement),
    ...(silver
      ? [
          `Nothing is paid for ${silver.fineGrams.toFixed(2)} g of silver, worth ${showMoney(roundMoney(silver.value))} at its full price.`,
        ]
      : []),
    differing.length === 0
      ? isComplete(checked.payout)
        ? 'Nothing differs from the journal.'
        : 'Not reckoned whole: a price or a rate is not written. Nothing that could be held against the journal differs.'
      : `${differing.length === 1 ? '1 line differs' : `${differing.length} lines differ`} from the journal${isOwedKnown(checked) ? `: ${owedWords(checked.owed)}` : ''}.`,
    ...(differing.length > 1 && !apart.isZero()
      ? [`Each line is put right alone; all together they make ${showMoney({ amount: apart, currency })} besides.`]
      : []),
    ...costSays(settlement),
    `Each line is rounded to the smallest coin once, ${terms?.rounding ?? 'half-even'}${terms?.rounding ? ' by the terms' : ''}.`,
  ];
};

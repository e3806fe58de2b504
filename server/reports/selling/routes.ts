/** Ways to sell a lot in words: a row for each, which is better and how surely, and where both pay the same. */
import type { Assumption } from '../../engine/bench/result';
import { HOLD_DAYS } from '../../engine/selling/hold';
import type { Outcome, Route } from '../../engine/selling/route';
import { costWords } from '../../engine/selling/work';
import { decimal, toPlain } from '../../quantity/decimal';
import { showMoney } from '../../quantity/money';
import { placesFor, showPlaces, showQuantity } from '../../quantity/show';
import type { LeftOut } from '../../workspace/selling/buyers';
import type { NoRoutes, Ranked, Refining, Routes } from '../../workspace/selling/routes';
import { asMeasured } from '../fine';
import { spreadMoney } from './money';
import { chargeWords } from './terms';
import { dayWords, passedSays } from './words';

export const ROUTE_WORDS: Readonly<Record<Route['key'], string>> = {
  sell: 'sell as it is',
  cupel: 'cupel, then sell',
  part: 'part, then sell',
  'cupel and part': 'cupel and part, then sell',
  'melt together': 'melt with other lots, then sell',
  hold: `hold ${HOLD_DAYS} days, then sell as it is`,
};

const NONE: Readonly<Record<NoRoutes, (lot: string) => string>> = {
  'no such lot': (lot) => `No lot ${lot} comes in or is made in this journal.`,
  'not on hand': (lot) => `${lot} is not on hand at the end of the record.`,
  'not weighed': (lot) => `What is left of ${lot} is not weighed.`,
  'no metal': (lot) => `${lot} is not metal: what it would bring can be told of what is melted out of it.`,
  'gold not known': (lot) => `Nothing is known of the gold in ${lot}: assay it, or write what you \`expect\`.`,
  'no price': () => 'No price of gold is written: `quote Au … USD/ozt` gives it.',
  'not ours': (lot) => `${lot} is not the shop's own to sell.`,
};

export const noRoutesSays = (why: NoRoutes, lot: string): string => NONE[why](lot);

/** What the buyer pays by: `by the terms`, `by its offer`, `by common practice`. */
const byWords = ({ buyer }: Route): string =>
  buyer.by === 'terms' ? 'by the terms' : buyer.by === 'offer' ? 'by its offer' : 'by common practice';

export const toWords = (route: Route): string => `${route.buyer.party ?? 'any buyer'}, ${byWords(route)}`;

/** The net with its error. */
export const netWords = ({ outcome, u }: Ranked, guessed = false): string =>
  spreadMoney(
    { value: outcome.net.amount.toNumber(), sources: [{ label: 'net' }], sizes: [u] },
    outcome.net.currency,
    guessed,
  );

/** Why a buyer would not take it. */
export const notTaken = ({ route, outcome }: Ranked): string | undefined => {
  const [piece] = outcome.worked.pieces;
  const least = route.buyer.minimumGrams ?? 0;
  if (piece && piece.grams < least) return `below the least lot of ${toPlain(decimal(least))} g`;
  return 'nothing is paid at this fineness';
};

/** The cells of one row: what is done, to whom, what is paid, what it costs, what is left, days. */
export const routeCells = (ranked: Ranked, guessed: boolean): readonly string[] => {
  const { route, outcome, taken } = ranked;
  const { unconverted, unpriced } = ranked;
  const bound = unconverted.length > 0 ? '≤ ' : unpriced.length > 0 ? '≥ ' : '';
  const left = [
    ...unconverted.map((term) => `without its charge of ${chargeWords(term)}: no rate`),
    ...(unpriced.length > 0 ? [`without ${unpriced.join(' and ')}: no price`] : []),
  ];
  return [
    ROUTE_WORDS[route.key],
    toWords(route),
    `${bound}${showMoney(outcome.paid)}`,
    outcome.costs.length > 0 ? `${isPriced(outcome) ? '' : '≥ '}${showMoney(outcome.cost)}` : '',
    `${bound}${netWords(ranked, guessed)}`,
    `${route.days}`,
    [...(taken ? [] : [notTaken(ranked) ?? '']), ...left].join('; '),
  ];
};

/** Everything that it takes has a price on file. */
const isPriced = ({ costs }: Outcome): boolean => costs.every((one) => one.money !== undefined);

/** What the lot is, and what it is worth at the full price. */
export const lotSays = (of: Routes): readonly string[] => {
  const { lot, kind, grams, shares, date, full, currency, guessed } = of;
  const known = [...shares].map(
    ([metal, one]) => `${metal} ${showQuantity(asMeasured(one.share, one.ground === 'guessed'), '%')} ${one.ground}`,
  );
  const all = showPlaces(decimal(full), full >= 100 ? 0 : 2);
  return [
    `${lot.lot}${kind ? `, ${kind}` : ''}: ${showQuantity(grams, 'g')}; ${known.join(', ')}.`,
    `By the prices of ${date}, the last day of the journal, its gold and silver are worth ${guessed ? '~' : ''}${all} ${currency} in full.`,
    ...oldSays(of),
    ...of.passed.map(passedSays),
    ...of.leftOut.map((one) => leftOutSays(of, one)),
  ];
};

/** Which of the prices is too old to tell by. */
const oldSays = ({ old }: Routes): readonly string[] =>
  old.map(({ metal, quote, rate, ageDays }) => {
    const of = rate && rate.date < quote.date ? rate : quote;
    const what = of === quote ? `The price of ${metal}` : `The rate of ${of.of} for ${metal}`;
    return `${what} is of ${of.date}, ${dayWords(ageDays)} old: write a \`quote\` of today.`;
  });

/** Why an offer is not among the routes. */
export const leftOutSays = ({ grams }: Routes, { party, date, because }: LeftOut): string => {
  const offer = `The offer of ${party} of ${date} is not among them`;
  if (because === 'no share')
    return `${offer}: it names no share, and no terms are on file. Write what they pay with \`pays\`, or its \`total\`.`;
  return 'offeredFor' in because
    ? `${offer}: it was for ${showQuantity(because.offeredFor, 'g')}, and the lot is ${showQuantity(grams, 'g')} now.`
    : `${offer}: it is in ${because.noRateFor}, and no rate is written. \`quote ${because.noRateFor} … ${because.wanted}\` gives it.`;
};

/** Which is better, by how much, how surely; where both pay the same. */
export const refiningSays = (of: Refining): readonly string[] => {
  const { direct } = of;
  const [fineness, share] = [of.fineness(), of.share()];
  const from = direct.route.buyer.party ?? 'any buyer';
  return [
    gainSays(of),
    fineness
      ? `Both pay the same at ${percentWords(fineness.at)} gold${fineness.jumps ? ', where a band of the terms begins' : ''}, the silver and the weight as they are.`
      : 'At no fineness would both pay the same.',
    ...(share
      ? [
          `Both pay the same if ${from} paid ${percentWords(share.at)} of the gold as it is${share.at > 1 ? ', more than there is' : ''}.`,
        ]
      : []),
  ];
};

/** Which is better, by how much, how surely. */
export const gainSays = ({ direct, further, comparison: { gain, u, cases } }: Refining): string => {
  const { currency } = direct.outcome.net;
  const size = spreadMoney({ value: Math.abs(gain), sources: [{ label: 'gain' }], sizes: [u] }, currency);
  const [more, less] = [ROUTE_WORDS[further.route.key], ROUTE_WORDS[direct.route.key]];
  const to = further.route.buyer.party ?? 'any buyer';
  const from = direct.route.buyer.party ?? 'any buyer';
  const verdict =
    Math.abs(gain) < 2 * u ? 'Too close to call' : gain > 0 ? 'Refining pays' : 'Refining does not pay its cost';
  return `${verdict}: to ${more} to ${to} brings ${size} ${gain < 0 ? 'less' : 'more'} than to ${less} to ${from}. It is better in ${casesWords(cases)} of a hundred cases.`;
};

/** Nothing is ever sure. */
const casesWords = (cases: number): string => (cases >= 100 ? 'more than 99' : cases <= 0 ? 'less than 1' : `${cases}`);

const percentWords = (share: number): string => `${(100 * share).toFixed(2)} %`;

/** What holding the lot means: nothing is foretold. */
export const holdSays = ({ full, currency }: Routes): string => {
  const onePercent = full / 100;
  return `To hold it is to hold its metal: a price higher or lower by 1 % makes ${showPlaces(decimal(onePercent), Math.min(2, placesFor(onePercent / 10)))} ${currency}. No price is foretold.`;
};

/** What the routes take for granted, each once; hours by the journal's own times or by what is usual. */
export const routesAssumed = ({ ranked, hours }: Routes): readonly string[] => {
  const assumed = new Map<string, Assumption>();
  for (const { route } of ranked) for (const one of route.assumed) assumed.set(one.says, one);
  const steps = new Set(
    ranked.flatMap(({ outcome }) =>
      outcome.costs.flatMap(({ what }) => (what.startsWith('labour, ') ? what.slice(8) : [])),
    ),
  );
  const times = [...steps].map((step) => {
    const count = hours.timed.get(step as 'cupel');
    const by = count ? `the middle of ${count} timed in this journal` : 'common practice, no source';
    return `Taken: to ${step} takes ${hours[step as 'cupel']} h of work (${by}).`;
  });
  const free = ranked.every(({ outcome }) => outcome.costs.every(({ what }) => !what.startsWith('labour')));
  const worked = ranked.some(({ route }) => route.key !== 'sell' && route.key !== 'hold');
  const waits = ranked.some(({ route }) => route.days > 0 && !route.interest);
  return [
    ...[...assumed.values()].map(({ says, source }) => `Taken: ${says} (${source}).`),
    ...times,
    ...(free && worked ? ['Work is not counted: `labour` under `shop` in the workshop file gives its price.'] : []),
    ...(waits
      ? [
          'Waiting for the money is not counted: `interest` under `shop` in the workshop file says what a year of it costs.',
        ]
      : []),
  ];
};

/** What a route costs, item by item: work, and waiting. */
export const costsSays = ({ outcome }: Ranked): readonly string[] => outcome.costs.map(costWords);

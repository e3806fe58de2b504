/** What the other side found of a shipment: weights and assays against ours, each line of the money, and what is owed. */
import { shareOf } from '../engine/accounts/assays';
import { inexact, minus } from '../engine/accounts/inexact';
import type { Segment } from '../engine/accounts/segments';
import type { Weight } from '../engine/book';
import type { Entry, OtherDetail } from '../engine/entry';
import { weighAmount } from '../engine/weigh';
import { add, subtract } from '../quantity/measured';
import { BILL_HEADS, billCells, billSays } from '../reports/selling/bill';
import { lineCells, settledRows, settledSays, settledSumHead } from '../reports/selling/settled';
import { NO_OFFER } from '../reports/selling/sum';
import { stepWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import { originalOf } from '../workspace/parts';
import { type Billed, billOf } from '../workspace/selling/bills';
import { bestOf, sharesOf } from '../workspace/selling/known';
import { type Settlement, settlementOf } from '../workspace/selling/settlements';
import type { Workspace } from '../workspace/workspace';
import { coins, mass, percent, typed, typedMoney } from './cells';
import { type Column, NOTHING, type Row, type Section, says, section, sentences, table, words } from './model';

/** A lot as it left. */
export interface Gone {
  readonly segment: Segment | undefined;
  readonly weight: Weight;
}

const SETTLED: readonly Column[] = [
  { head: 'what' },
  { head: 'their figure', right: true },
  { head: 'ours', right: true },
  { head: 'theirs less ours', right: true },
];

/** Weights and assays against ours, and the money, where there is a deal to hold it against. */
export const settledSections = (workspace: Workspace, entry: Entry, going: readonly Gone[]): readonly Section[] => {
  const settlement = settlementOf(workspace, originalOf(entry));
  const bill = settlement ? undefined : billOf(workspace, originalOf(entry));
  if (bill) return billSections(bill);
  return [
    ...saidSection(workspace, entry, going, settlement === undefined),
    ...(settlement ? moneySections(settlement) : []),
  ];
};

/** What a customer was told and is to pay, against the journal as it stands. */
const billSections = (bill: Billed): readonly Section[] =>
  section(
    `Bill of ${bill.name} to ${bill.toll.customer}`,
    sentences(billSays(bill).map((text) => says(text))),
    table(
      BILL_HEADS.map((head, at) => ({ head: head || 'so', right: at === 1 || at === 2 || at === 4 })),
      billCells(bill).map((cells, at): Row => ({ cells: cells.map(words), place: bill.lines[at]!.place })),
    ),
    sentences([says(NO_OFFER)]),
  );

/** Their figures as the journal has them, against ours; of their deal no more than what is not told of as money. */
const saidSection = (
  workspace: Workspace,
  entry: Entry,
  going: readonly Gone[],
  withDeal: boolean,
): readonly Section[] => {
  const masses = going.flatMap((one) => one.weight.mass ?? []);
  const ours = masses.length > 0 ? add(...masses) : undefined;
  const others = entry.others.filter(({ word }) => withDeal || WEIGHTS.has(word) || !DEAL.has(word));
  const rows = others.map((other): Row => {
    const { word, amounts, place } = other;
    const theirs =
      amounts[0] && WEIGHTS.has(word) ? weighAmount(amounts[0], {}, workspace.workshop, word).mass : undefined;
    const cells = theirs && ours ? [mass(theirs), mass(ours), mass(subtract(theirs, ours))] : [words(dealWords(other))];
    return { cells: [words(word), ...cells], place };
  });
  const { metals } = accountsOf(workspace);
  const lots = going.flatMap(({ segment, weight }) =>
    segment ? [{ lot: segment.lot, segment, grams: weight.mass }] : [],
  );
  // Their assay of several lots is held against what all of them come to.
  const known = lots.length === going.length ? sharesOf(lots, bestOf(metals)) : undefined;
  const found = entry.readings.flatMap(({ reading }) =>
    reading.metals.map(({ symbol, amount }): Row => {
      const own = known?.get(symbol.name)?.share;
      const [theirs] = shareOf(amount);
      const apart = own && theirs && minus(inexact(theirs.value, theirs.u, { label: 'settlement' }), own);
      return {
        cells: [
          words(`assay, ${symbol.name}`),
          words(typed(amount)),
          own ? percent(own) : NOTHING,
          apart ? percent(apart) : NOTHING,
        ],
        place: reading.place,
      };
    }),
  );
  const title = `What they said: ${stepWords(entry)}${entry.date ? `, ${entry.date}` : ''}`;
  return section(title, table(SETTLED, [...found, ...rows]));
};

const WEIGHTS: ReadonlySet<string> = new Set(['received', 'melted']);

/** `Au 98.5 %`, `refining 0.30 USD/g of melted`, `2026-07-04`. */
const dealWords = ({ names, amounts, money, least, date }: OtherDetail): string => {
  const [first, ...rest] = names.map(({ name }) => name);
  return [
    first,
    ...amounts.map(typed),
    money && typedMoney(money).text,
    rest.length > 0 && `of ${rest.join(' ')}`,
    least && `at least ${typedMoney(least).text}`,
    date,
  ]
    .filter(Boolean)
    .join(' ');
};

/** Told as money, line by line. */
const DEAL: ReadonlySet<string> = new Set(['pays', 'less', 'keeps', 'charge', 'price', 'credit', 'total', 'paid']);

const LINES: readonly Column[] = [
  { head: 'what' },
  { head: 'theirs', right: true },
  { head: 'ours', right: true },
  { head: 'so' },
  { head: 'costs you', right: true },
];

/** Each line against the journal, and their sum worked through; what is wrong with those that differ is among the findings. */
const moneySections = (settlement: Settlement): readonly Section[] => {
  const { checked, name, party } = settlement;
  const rows = lineCells(settlement).map(([line, theirs, ours, verdict], at): Row => {
    const { owed, place } = checked.lines[at]!;
    return {
      cells: [words(line), words(theirs), words(ours), words(verdict), owed ? coins(owed) : NOTHING],
      place,
    };
  });
  return [
    ...section(
      `Settlement of ${name} with ${party ?? 'the buyer'}`,
      sentences(settledSays(settlement).map((text) => says(text))),
      table(LINES, rows),
    ),
    ...section(
      settledSumHead(settlement),
      table(
        [{ head: 'step' }, { head: settlement.currency, right: true }],
        settledRows(settlement).map(
          ({ left, right }): Row => ({
            cells: [words(left), words(right)],
            ...(left === 'total' ? { total: true } : {}),
          }),
        ),
      ),
      sentences([says(NO_OFFER)]),
    ),
  ];
};

/** What each buyer paid against what our own figures let us expect. */
import { type Inexact, minus, plus, spread } from '../../engine/accounts/inexact';
import { decimal, ZERO } from '../../quantity/decimal';
import { negateMoney } from '../../quantity/money';
import { shareOfValue } from '../../reports/selling/money';
import { listWords } from '../../reports/words';
import { headOf } from '../../workspace/selling/consigned';
import { type Dealt, dealtForOthers, dealtIn } from '../../workspace/selling/dealt';
import { othersPart } from '../../workspace/selling/proceeds';
import { salesOf } from '../../workspace/selling/sales';
import { settlementOf } from '../../workspace/selling/settlements';
import { consignmentOf } from '../../workspace/selling/shipments';
import { tollOf } from '../../workspace/selling/tolls';
import type { Workspace } from '../../workspace/workspace';
import { moneyCell, reckonedMoney, restingOn } from '../cells';
import { type Choice, isWithin } from '../choice';
import { groupedBy } from '../grouped';
import {
  type Cell,
  type Column,
  NOTHING,
  type Row,
  type Section,
  says,
  section,
  sentences,
  table,
  words,
} from '../model';
import { fewWords } from './few';

const COLUMNS: readonly Column[] = [
  { head: 'sale' },
  { head: 'to' },
  { head: 'day' },
  { head: 'days', right: true },
  { head: 'our metal in full', right: true },
  { head: 'expected', right: true },
  { head: 'comes to', right: true },
  { head: 'paid on' },
  { head: 'more than expected', right: true },
  { head: 'their charges', right: true },
  { head: 'of the metal', right: true },
];

/** Settled or sold in the period. */
export const dealtWithin = (workspace: Workspace, choice: Choice): readonly Dealt[] =>
  dealtIn(workspace)
    .filter(({ date }) => isWithin(choice, date))
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));

export const buyersSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const all = dealtWithin(workspace, choice);
  const groups = groupedBy(all, ({ party, paid }) => `${party ?? ''} ${paid.currency}`);
  const rows = [...groups.values()].flatMap((own) => [...own.map(rowOf), ...(own.length > 1 ? [totalOf(own)] : [])]);
  const unpaid = unreckoned(workspace, choice);
  const others = [...forOthers(workspace, choice), ...partlyOthers(workspace, all)];
  const nothing =
    all.length + unpaid.length + others.length === 0 ? [says('Nothing was settled or sold in this period.')] : [];
  return section(
    'What buyers pay',
    table(COLUMNS, rows),
    sentences([...nothing, ...unpaid, ...others, ...notes(all), ...[...groups.values()].flatMap(fewSales)]),
  );
};

/** Metal of customers that was sold: told, and not counted. */
const forOthers = (workspace: Workspace, choice: Choice) =>
  dealtForOthers(workspace)
    .filter(({ dealt }) => isWithin(choice, dealt.date))
    .map(({ dealt: { name, paid, place }, owners }) =>
      says(
        `${name}: ${moneyCell(paid).text} for metal of ${listWords(owners)} is theirs, and is not among our sales.`,
        place,
      ),
    );

/** Sales of ours with lots of customers among them. */
const partlyOthers = (workspace: Workspace, all: readonly Dealt[]) =>
  all.flatMap((dealt) => {
    const part = othersPart(workspace, dealt);
    return part
      ? [
          says(
            `${dealt.name}: ${moneyCell(part.money).text} of it is for metal of ${listWords(part.owners)}, and theirs; the line above counts all of it.`,
            dealt.place,
          ),
        ]
      : [];
  });

/** Settlements that say too little to reckon with. */
const unreckoned = (workspace: Workspace, choice: Choice) => {
  const names = salesOf(workspace).settles.flatMap((sale) => {
    const { name, date } = headOf(sale);
    return name && isWithin(choice, date) && isSale(workspace, name.name) && !settlementOf(workspace, sale.entry)
      ? [name.name]
      : [];
  });
  return names.length > 0
    ? [
        says(
          `${listWords(names, MOST_NAMED)}: settled without what it was paid by; \`pays Au 98 %\`, \`price Au 2561.00 USD/ozt\` and \`total 8209.76 USD\` give it.`,
        ),
      ]
    : [];
};

/** Something of ours was shipped or sold by this name: it is no customer's bill, and no slip in a name. */
const isSale = (workspace: Workspace, name: string): boolean =>
  (consignmentOf(workspace, name)?.lots.length ?? 0) > 0 && !tollOf(workspace, name);

const MOST_NAMED = 8;

const fewSales = (own: readonly Dealt[]) => {
  const [note] = fewWords(own.length, 'sale');
  return note ? [says(`${own[0]!.party ?? 'No party named'}: ${note.text}`)] : [];
};

/** Paid less expected, the error of what was expected. */
const moreThan = ({ paid, expected }: Dealt): Inexact | undefined =>
  expected && minus({ value: paid.amount.toNumber(), sources: [], sizes: [] }, expected);

const rowOf = (of: Dealt): Row => {
  const { name, party, date, days, agreedDays, full, expected, paid, paidOn, charges } = of;
  const { currency } = paid;
  const late = days === undefined || agreedDays === undefined ? 0 : days - agreedDays;
  return {
    cells: [
      words(name),
      words(party),
      words(date),
      days === undefined
        ? NOTHING
        : { text: `${days}${late > 0 ? `, ${late} late` : ''}`, figure: { value: `${days}`, unit: 'days' } },
      reckonedMoney(full, currency),
      reckonedMoney(expected, currency),
      moneyCell(paid),
      words(paidOn ?? 'not yet'),
      reckonedMoney(moreThan(of), currency),
      moneyCell(charges),
      shareCell(paid.amount.toNumber(), full),
    ],
    place: of.place,
  };
};

const shareCell = (paid: number, full: Inexact | undefined): Cell =>
  full && full.value > 0
    ? restingOn(
        {
          text: shareOfValue(paid / full.value),
          figure: { value: decimal((100 * paid) / full.value).toFixed(4), unit: '%' },
        },
        full,
      )
    : NOTHING;

const totalOf = (own: readonly Dealt[]): Row => {
  const [{ party, paid: first }] = own as [Dealt];
  const { currency } = first;
  const paid = own.reduce((so, one) => so.plus(one.paid.amount), ZERO);
  const charged = own.flatMap(({ charges }) => charges?.amount ?? []);
  const all = (pick: (of: Dealt) => Inexact | undefined): Inexact | undefined => {
    const known = own.flatMap((one) => pick(one) ?? []);
    return known.length === own.length ? known.reduce(plus) : undefined;
  };
  const full = all((one) => one.full);
  return {
    cells: [
      words('together'),
      words(party),
      NOTHING,
      NOTHING,
      reckonedMoney(full, currency),
      reckonedMoney(
        all((one) => one.expected),
        currency,
      ),
      moneyCell({ amount: paid, currency }),
      NOTHING,
      reckonedMoney(all(moreThan), currency),
      charged.length > 0 ? moneyCell({ amount: charged.reduce((a, b) => a.plus(b), ZERO), currency }) : NOTHING,
      shareCell(paid.toNumber(), full),
    ],
    total: true,
  };
};

const notes = (all: readonly Dealt[]) => [
  ...(all.some(({ expected }) => expected)
    ? [
        says(
          'Expected: by our own weights and assays, the terms on file and the prices of the agreed day. What it comes to holds all of it: what they weighed and found, what they keep, what they charge.',
        ),
      ]
    : []),
  ...awaited(all),
  ...all.flatMap((one) => owedSays(one)),
  ...missing(
    all,
    ({ full }) => !full,
    'no price or no assay of its own',
    '`quote Au` and an assay give what the metal was worth',
  ),
  ...missing(
    all,
    ({ expected, full }) => full !== undefined && !expected,
    'no terms on file',
    '`terms` of the party in workshop.yaml give what to expect',
  ),
];

/** Settled, and the money has not come. */
const awaited = (all: readonly Dealt[]) =>
  all
    .filter(({ paidOn }) => paidOn === undefined)
    .map(({ name, paid, place }) =>
      says(
        `${name}: settled at ${moneyCell(paid).text}, and no payment is written; \`paid DATE\` gives its day.`,
        place,
      ),
    );

/** What the settlement is short of by the journal; of a sale of hand that it is below the terms on file. */
const owedSays = (one: Dealt) => {
  const { name, owed, isSettled, paid, party } = one;
  if (owed && !owed.amount.isZero()) {
    const words = owed.amount.isNegative()
      ? `${moneyCell(negateMoney(owed)).text} too much was paid`
      : `${moneyCell(owed).text} is still owed`;
    return [says(`${name}: by the journal ${words}; \`fineweight settle ${name}\` tells why.`, one.place)];
  }
  const more = moreThan(one);
  if (isSettled || !more || more.value >= 0 || -more.value <= 2 * spread(more)) return [];
  const size = reckonedMoney({ ...more, value: -more.value }, paid.currency).text;
  return [says(`${name}: ${size} less than the terms of ${party ?? 'the buyer'} on file would give.`, one.place)];
};

const missing = (all: readonly Dealt[], test: (of: Dealt) => boolean, what: string, gives: string) => {
  const names = all.filter(test).map(({ name }) => name);
  return names.length > 0 ? [says(`${names.join(', ')}: ${what}; ${gives}.`)] : [];
};

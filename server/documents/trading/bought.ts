/** Purchases with what they brought. */
import { certain, type Inexact, NOTHING as NO_MONEY, plus } from '../../engine/accounts/inexact';
import { decimal, ZERO } from '../../quantity/decimal';
import { listWords } from '../../reports/words';
import { type Bought, boughtUntil, type Came, WHOLE } from '../../workspace/selling/bought';
import type { Workspace } from '../../workspace/workspace';
import { moneyCell, plainFigure, reckonedMoney, restingOn } from '../cells';
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
  { head: 'lot' },
  { head: 'bought' },
  { head: 'from' },
  { head: 'paid', right: true },
  { head: 'brought so far', right: true },
  { head: 'still open, would bring', right: true },
  { head: 'left over', right: true },
  { head: 'of what was paid', right: true },
  { head: 'made by the gold price', right: true },
  { head: 'so' },
];

/** Each purchase of the period, with all that came of it until the end of it. */
export const boughtSection = (workspace: Workspace, choice: Choice, until: string): readonly Section[] => {
  const all = boughtUntil(workspace, until).filter(({ date }) => isWithin(choice, date));
  if (all.length === 0)
    return section(
      'What purchases brought',
      sentences([says('No purchase with its price (`bought 3480.00 USD`) is written in this period.')]),
    );
  const groups = groupedBy(all, ({ paid }) => paid.currency);
  const rows = [...groups].flatMap(([currency, own]) => [
    ...own.map(rowOf),
    ...(own.length > 1 ? [totalOf(own, currency)] : []),
  ]);
  return section('What purchases brought', table(COLUMNS, rows), sentences(notes(all)));
};

/** What a purchase leaves over, where all that came of it is sold or can be priced. */
const leftOver = (of: Bought): Inexact | undefined =>
  !of.wouldBring || of.came.length === 0 || of.otherCurrency.length > 0
    ? undefined
    : plus(
        { ...of.wouldBring, value: decimal(of.wouldBring.value).plus(of.brought).minus(of.paid.amount).toNumber() },
        guessIn(of),
      );

/** Money is exact; whose it is may rest on a guess. */
const broughtIn = (of: Bought): Inexact => plus(certain(of.brought.toNumber()), guessIn(of));

const guessIn = ({ came }: Bought): Inexact => ({
  ...NO_MONEY,
  guess: came.reduce(
    (so, { sale, share, guessed }) => so + (sale && guessed ? share * sale.paid.amount.toNumber() : 0),
    0,
  ),
});

const isOpen = ({ came }: Bought): boolean => came.some(({ open }) => open);

const rowOf = (of: Bought): Row => {
  const { entry, lot, from, date, paid, brought, wouldBring, came, byPrice } = of;
  const { currency } = paid;
  const left = leftOver(of);
  const sold = came.some(({ sale }) => sale);
  const bySales = broughtIn(of);
  return {
    cells: [
      words(lot),
      words(date),
      words(from),
      moneyCell(paid),
      sold ? restingOn(moneyCell({ amount: brought, currency }), bySales) : NOTHING,
      isOpen(of) ? reckonedMoney(wouldBring, currency) : NOTHING,
      left && !isOpen(of)
        ? restingOn(moneyCell({ amount: brought.minus(paid.amount), currency }), bySales)
        : reckonedMoney(left, currency),
      left && paid.amount.greaterThan(0)
        ? restingOn(plainFigure((100 * left.value) / paid.amount.toNumber(), '%', 2), left)
        : NOTHING,
      sold && byPrice ? moneyCell({ amount: byPrice, currency }) : NOTHING,
      words(stateWords(of)),
    ],
    place: entry.head,
  };
};

const stateWords = ({ came, joint, untold, from, otherCurrency, converted, wouldBring, paid }: Bought): string => {
  if (came.length + joint.length + untold.length === 0)
    return 'nothing that came of it was sold, or is known to be here';
  const sold = came.flatMap((part) =>
    part.sale ? [`${part.sale.name}${partWords(part)}${part.sale.paidOn === undefined ? ', not paid yet' : ''}`] : [],
  );
  const open = came.flatMap((part) =>
    part.open
      ? [`${part.open.name}${partWords(part)} ${part.open.shipped ? `with ${part.open.shipped.party}` : 'here'}`]
      : [],
  );
  return [
    sold.length > 0 && `sold: ${sold.join(', ')}`,
    open.length > 0 && open.join(', '),
    joint.length > 0 && `${joint.join(', ')} here, with metal of ${from} in it`,
    untold.length > 0 &&
      `${listWords(untold)}, of which it is not known what ${untold.length > 1 ? 'they hold' : 'it holds'}`,
    !wouldBring && 'what that would bring is not known',
    converted.length > 0 && `${converted.join(', ')} turned into ${paid.currency} by the rate of the day`,
    otherCurrency.length > 0 && `${otherCurrency.join(', ')} in another currency, and no rate is written`,
  ]
    .filter(Boolean)
    .join('; ');
};

const partWords = ({ share, guessed }: Came): string =>
  share > WHOLE ? '' : ` (${guessed ? '~' : ''}${(100 * share).toFixed(1)} % of it)`;

const totalOf = (all: readonly Bought[], currency: string): Row => ({
  cells: [
    words(`all in ${currency}`),
    NOTHING,
    NOTHING,
    ...totalCells(all, currency),
    priceSum(all, currency),
    NOTHING,
  ],
  total: true,
});

/** Of several: paid, brought so far, what is open would bring, left over, of what was paid in per cent. */
export const totalCells = (all: readonly Bought[], currency: string): readonly Cell[] => {
  const known = all.flatMap((one) => {
    const left = leftOver(one);
    return left ? [{ left, paid: one.paid.amount }] : [];
  });
  const left = known.length === all.length ? known.map((one) => one.left).reduce(plus) : undefined;
  const paid = all.reduce((so, one) => so.plus(one.paid.amount), ZERO);
  const brought = all.reduce((so, one) => so.plus(one.brought), ZERO);
  const open = all.filter(isOpen);
  const would = open.flatMap(({ wouldBring }) => wouldBring ?? []);
  return [
    moneyCell({ amount: paid, currency }),
    restingOn(moneyCell({ amount: brought, currency }), all.map(broughtIn).reduce(plus)),
    open.length > 0 && would.length === open.length ? reckonedMoney(would.reduce(plus), currency) : NOTHING,
    open.length > 0
      ? reckonedMoney(left, currency)
      : left
        ? restingOn(moneyCell({ amount: brought.minus(paid), currency }), left)
        : NOTHING,
    left && paid.greaterThan(0) ? restingOn(plainFigure((100 * left.value) / paid.toNumber(), '%', 2), left) : NOTHING,
  ];
};

const priceSum = (all: readonly Bought[], currency: string): Cell => {
  const known = all.flatMap(({ byPrice }) => byPrice ?? []);
  return known.length === all.length
    ? moneyCell({ amount: known.reduce((a, b) => a.plus(b), ZERO), currency })
    : NOTHING;
};

const notes = (all: readonly Bought[]) => [
  says('Left over is before work, materials and other costs of the shop: what a fine gram costs stands below.'),
  ...(all.some(isOpen)
    ? [
        says(
          'What is still open counts as it is, to the buyer who pays most by the terms and prices of the last day; what nobody takes alone counts as nothing.',
        ),
      ]
    : []),
  ...(all.some(({ came }) => came.some(({ share, ofPurchase }) => share < 0.9995 || ofPurchase < 0.9995))
    ? [says('What was made of several purchases is shared out by the gold and silver that each brought.')]
    : []),
  ...(all.some(({ byPrice, came }) => !byPrice && came.some(({ sale }) => sale))
    ? [says('What the gold price made is told where a `quote Au` stands by the day of the purchase and of the sale.')]
    : []),
  ...fewWords(all.length, 'purchase'),
];

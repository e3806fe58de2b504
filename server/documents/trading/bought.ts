/** Purchases with what they brought. */
import { type Inexact, plus } from '../../engine/accounts/inexact';
import { decimal, ZERO } from '../../quantity/decimal';
import { type Bought, boughtUntil } from '../../workspace/selling/bought';
import type { Workspace } from '../../workspace/workspace';
import { moneyCell, plainFigure, reckonedMoney } from '../cells';
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
const leftOver = ({ paid, brought, wouldBring, came, otherCurrency }: Bought): Inexact | undefined =>
  !wouldBring || came.length === 0 || otherCurrency.length > 0
    ? undefined
    : { ...wouldBring, value: decimal(wouldBring.value).plus(brought).minus(paid.amount).toNumber() };

const isOpen = ({ came }: Bought): boolean => came.some(({ open }) => open);

const isGuess = ({ came }: Bought): boolean => came.some(({ open }) => open?.guessed);

const rowOf = (of: Bought): Row => {
  const { entry, lot, from, date, paid, brought, wouldBring, came, byPrice } = of;
  const { currency } = paid;
  const left = leftOver(of);
  const sold = came.some(({ sale }) => sale);
  return {
    cells: [
      words(lot),
      words(date),
      words(from),
      moneyCell(paid),
      sold ? moneyCell({ amount: brought, currency }) : NOTHING,
      isOpen(of) ? reckonedMoney(wouldBring, currency, isGuess(of)) : NOTHING,
      left && !isOpen(of)
        ? moneyCell({ amount: brought.minus(paid.amount), currency })
        : reckonedMoney(left, currency, isGuess(of)),
      left && paid.amount.greaterThan(0) ? plainFigure((100 * left.value) / paid.amount.toNumber(), '%', 2) : NOTHING,
      sold && byPrice ? moneyCell({ amount: byPrice, currency }) : NOTHING,
      words(stateWords(of)),
    ],
    place: entry.head,
  };
};

const stateWords = ({ came, joint, from, otherCurrency, converted, wouldBring, paid }: Bought): string => {
  if (came.length === 0 && joint.length === 0) return 'nothing that came of it was sold, or is known to be here';
  const sold = came.flatMap(({ sale, share }) =>
    sale ? [`${sale.name}${partWords(share)}${sale.paidOn === undefined ? ', not paid yet' : ''}`] : [],
  );
  const open = came.flatMap(({ open: one, share }) =>
    one ? [`${one.name}${partWords(share)} ${one.shipped ? `with ${one.shipped.party}` : 'here'}`] : [],
  );
  return [
    sold.length > 0 && `sold: ${sold.join(', ')}`,
    open.length > 0 && open.join(', '),
    joint.length > 0 && `${joint.join(', ')} here, with metal of ${from} in it`,
    !wouldBring && 'what that would bring is not known',
    converted.length > 0 && `${converted.join(', ')} turned into ${paid.currency} by the rate of the day`,
    otherCurrency.length > 0 && `${otherCurrency.join(', ')} in another currency, and no rate is written`,
  ]
    .filter(Boolean)
    .join('; ');
};

const partWords = (share: number): string => (share > 0.9995 ? '' : ` (${(100 * share).toFixed(1)} % of it)`);

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
    return left ? [{ left, paid: one.paid.amount, guessed: isGuess(one) }] : [];
  });
  const left = known.length === all.length ? known.map((one) => one.left).reduce(plus) : undefined;
  const paid = all.reduce((so, one) => so.plus(one.paid.amount), ZERO);
  const brought = all.reduce((so, one) => so.plus(one.brought), ZERO);
  const open = all.filter(isOpen);
  const would = open.flatMap(({ wouldBring }) => wouldBring ?? []);
  const guessed = open.some(isGuess);
  return [
    moneyCell({ amount: paid, currency }),
    moneyCell({ amount: brought, currency }),
    open.length > 0 && would.length === open.length ? reckonedMoney(would.reduce(plus), currency, guessed) : NOTHING,
    open.length > 0
      ? reckonedMoney(left, currency, guessed)
      : left
        ? moneyCell({ amount: brought.minus(paid), currency })
        : NOTHING,
    left && paid.greaterThan(0) ? plainFigure((100 * left.value) / paid.toNumber(), '%', 2) : NOTHING,
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

/** Metal that nobody has paid for yet, and what a fall of the price would do to it. */
import { type Inexact, scaled, sum } from '../../engine/accounts/inexact';
import { decimal, ZERO } from '../../quantity/decimal';
import { addMoney, type Money, negateMoney } from '../../quantity/money';
import { listWords } from '../../reports/words';
import { boughtUntil } from '../../workspace/selling/bought';
import { atPrices, type Open, openOn } from '../../workspace/selling/open';
import type { Workspace } from '../../workspace/workspace';
import { grams, moneyCell, plainFigure, reckonedMoney, restingOn } from '../cells';
import { type Column, NOTHING, type Row, type Section, says, section, sentences, table, words } from '../model';

/** A twentieth. */
const FALL_PERCENT = 5;
const FALLEN = decimal(100 - FALL_PERCENT).div(100);

const COLUMNS: readonly Column[] = [
  { head: 'lot' },
  { head: 'where' },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'in full', right: true },
  { head: 'would bring', right: true },
  { head: `${FALL_PERCENT} % lower, less by`, right: true },
  { head: 'was paid for it', right: true },
  { head: 'left over then', right: true },
  { head: 'may fall by', right: true },
];

interface Hurt {
  readonly open: Open;
  readonly fallen: Money | undefined;
  readonly lossAtFall: Money | undefined;
  readonly paid: Money | undefined;
  readonly leftThen: Money | undefined;
}

export const exposedSection = (workspace: Workspace, until: string): readonly Section[] => {
  const paidFor = paidByOpen(workspace, until);
  const all = openOn(workspace, until).map((open) => hurtOf(workspace, open, paidFor.get(keyOf(open))));
  if (all.length === 0) return section(TITLE, sentences([says('No metal of ours is unsold at the end.')]));
  const sorted = [...all].sort((a, b) => lossIn(b) - lossIn(a));
  return section(TITLE, table(COLUMNS, [...sorted.map(rowOf), ...totals(all)]), sentences(notes(sorted)));
};

const TITLE = `Not paid for yet, and what ${FALL_PERCENT} % lower prices would do`;

const keyOf = ({ name, shipped }: Pick<Open, 'name' | 'shipped'>): string => `${name} ${shipped ? 'shipped' : ''}`;

/** What was paid for what is open: a purchase of which a part was sold counts with the part that is left, by worth. */
const paidByOpen = (workspace: Workspace, until: string): ReadonlyMap<string, Money> => {
  const paid = new Map<string, Money>();
  for (const one of boughtUntil(workspace, until)) {
    // Where nobody knows what some of it holds, nobody knows which part of the price that is.
    if (one.untold.length > 0) continue;
    for (const { open, ofPurchase } of one.came) {
      if (!open) continue;
      const part = ofPurchase > 1 - 1e-9 ? one.paid.amount : one.paid.amount.times(decimal(ofPurchase.toPrecision(12)));
      const so = paid.get(keyOf(open));
      if (so && so.currency !== one.paid.currency) continue;
      paid.set(keyOf(open), { amount: (so?.amount ?? ZERO).plus(part), currency: one.paid.currency });
    }
  }
  return paid;
};

const hurtOf = (workspace: Workspace, open: Open, paid: Money | undefined): Hurt => {
  const fallen = atPrices(workspace, open, FALLEN);
  const now = open.best?.payout.total;
  const lossAtFall = fallen && now && addMoney(now, negateMoney(fallen));
  const same = paid && fallen && paid.currency === fallen.currency;
  return { open, fallen, lossAtFall, paid, leftThen: same ? addMoney(fallen, negateMoney(paid)) : undefined };
};

const lossIn = ({ lossAtFall, open }: Hurt): number =>
  lossAtFall?.amount.toNumber() ?? ((open.full?.value ?? 0) * FALL_PERCENT) / 100;

/** By how much all prices may fall until it brings no more than was paid: money is a straight line of the price. */
const mayFall = ({ open, fallen, paid }: Hurt): number | undefined => {
  const now = open.best?.payout.total;
  if (!now || !fallen || !paid || paid.currency !== now.currency) return undefined;
  const slope = now.amount.minus(fallen.amount).div(FALL_PERCENT);
  return slope.isZero() ? undefined : now.amount.minus(paid.amount).div(slope).toNumber();
};

const rowOf = (of: Hurt): Row => {
  const { open, lossAtFall, paid, leftThen } = of;
  const { currency, full, best, shipped } = open;
  const fall = mayFall(of);
  return {
    cells: [
      words(open.name),
      words(shipped ? `with ${shipped.party} since ${shipped.date}` : ['here', open.kind].filter(Boolean).join(', ')),
      grams(open.fineGrams.get('Au')),
      grams(open.fineGrams.get('Ag')),
      reckonedMoney(full, currency),
      reckonedMoney(best?.total, best?.payout.currency),
      open.fixed
        ? words('price agreed')
        : lossAtFall
          ? restingOn(moneyCell(lossAtFall), full)
          : reckonedMoney(full && scaled(full, FALL_PERCENT / 100), currency),
      moneyCell(paid),
      restingOn(moneyCell(leftThen), full),
      fall === undefined ? NOTHING : fall < 0 ? words('below it already') : restingOn(plainFigure(fall, '%', 2), full),
    ],
    place: open.place,
  };
};

const totals = (all: readonly Hurt[]): readonly Row[] => {
  const currencies = new Set(all.flatMap(({ open }) => open.currency ?? []));
  if (all.length < 2) return [];
  return [...currencies].map((currency) => {
    const own = all.filter(({ open }) => open.currency === currency);
    const fine = (metal: string): Inexact => sum(own.flatMap(({ open }) => open.fineGrams.get(metal) ?? []));
    const full = own.flatMap(({ open }) => open.full ?? []);
    return {
      cells: [
        words('together'),
        NOTHING,
        grams(fine('Au')),
        grams(fine('Ag')),
        full.length === own.length ? reckonedMoney(sum(full), currency) : NOTHING,
      ],
      total: true as const,
    };
  });
};

const notes = (sorted: readonly Hurt[]) => {
  const hurt = sorted.filter(({ leftThen }) => leftThen?.amount.isNegative());
  return [
    ...(hurt.length > 0
      ? hurt.map(({ open, leftThen }) =>
          says(
            `${open.name} hurts: ${FALL_PERCENT} % lower it brings ${moneyCell(negateMoney(leftThen!)).text} less than was paid for it.`,
            open.place,
          ),
        )
      : sorted.some(({ leftThen }) => leftThen)
        ? [
            says(
              `Nothing here that was bought would bring less than was paid for it if all prices were ${FALL_PERCENT} % lower.`,
            ),
          ]
        : []),
    says(
      'Would bring: as it is, to the buyer who pays most by the terms and prices of that day, before work; `fineweight routes LOT` tells whether refining pays. No price is foretold.',
    ),
    ...whyNot(sorted.map(({ open }) => open)),
  ];
};

/** Why there is no buyer, each reason with all the lots that it holds for. */
const WHY_NOT: Readonly<Record<NonNullable<Open['unsold']>, string>> = {
  'no price': 'no price is written for its metal; `quote Au` or `quote Ag` gives it.',
  'no buyer':
    'no buyer on file takes it as it is: it is below the least lot, its fineness is not paid, its price is missing, or charges leave nothing.',
  'not known': 'what it holds is not known: an assay tells.',
  feed: 'it has to be worked first; what it would bring is not known.',
};

const whyNot = (all: readonly Open[]) =>
  (Object.keys(WHY_NOT) as (keyof typeof WHY_NOT)[]).flatMap((reason) => {
    const names = all.filter(({ unsold }) => unsold === reason).map(({ name }) => name);
    return names.length > 0 ? [says(`${listWords(names, names.length)}: ${WHY_NOT[reason]}`)] : [];
  });

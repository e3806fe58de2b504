/** What a fine gram of gold costs: work, materials, buyers' charges, what they do not pay, and metal that is gone. */
import { type Inexact, NOTHING as NO_METAL, plus, scaled, spread, sum } from '../../engine/accounts/inexact';
import type { Movement } from '../../engine/accounts/moves';
import type { Moved } from '../../engine/accounts/period';
import { perGram } from '../../engine/selling/stated';
import { type Decimal, decimal, ZERO } from '../../quantity/decimal';
import { type Money, roundMoney } from '../../quantity/money';
import { isInPart } from '../../reports/account';
import { listWords } from '../../reports/words';
import { daysOfMonths } from '../../text/calendar';
import { accountsOf } from '../../workspace/accounts';
import type { Dealt } from '../../workspace/selling/dealt';
import { marketOn } from '../../workspace/selling/money';
import { othersPart } from '../../workspace/selling/proceeds';
import { salesOf } from '../../workspace/selling/sales';
import { upkeepOf } from '../../workspace/selling/upkeep';
import type { Workspace } from '../../workspace/workspace';
import { grams, moneyCell, plainFigure, reckonedMoney, restingOn } from '../cells';
import type { Choice } from '../choice';
import { countedEntries, stepsWithin } from '../entries';
import { type Cell, NOTHING, type Row, type Section, says, section, sentences, table, words } from '../model';
import { billsOf } from './bills';
import { dealtWithin } from './buyers';
import { hoursSays, unpricedSays } from './upkeep';

interface Cost {
  readonly what: string;
  readonly money: Inexact | undefined;
  /** Exact to the coin, where it is. */
  readonly exact?: Money | undefined;
  readonly of: string;
}

/** Over the period; divided by the fine gold that was sold in it. */
export const costSection = (workspace: Workspace, choice: Choice, until: string): readonly Section[] => {
  const steps = stepsWithin(workspace, choice);
  const upkeep = upkeepOf(workspace, steps, until);
  const { currency } = upkeep;
  if (currency === undefined) return [];
  const dealt = dealtWithin(workspace, choice);
  const own = dealt.filter(({ paid }) => paid.currency === currency);
  const { convert } = marketOn(salesOf(workspace), until, currency);
  const { bills, leftOut } = billsOf(workspace, choice, convert);
  const costs: readonly Cost[] = [
    exactly('labour', upkeep.labour, `${plainFigure(upkeep.hours, 'h').text} in ${upkeep.steps} steps`),
    ...upkeep.materials.flatMap(({ name, grams: weight, cost }) =>
      cost ? [exactly(name, cost, plainFigure(weight, 'g').text)] : [],
    ),
    ...overheadOf(workspace, choice, until, currency),
    ...bills.map(({ word, money, count }) => exactly(word, money, countWords(count, 'bill'))),
    exactly(
      "buyers' charges",
      chargesOf(own, currency),
      countWords(own.filter(({ charges }) => charges).length, 'settlement'),
    ),
    notPaid(own),
    ...slipsOf(own, currency),
    ...goneOf(workspace, choice, until, currency),
  ].filter(({ money }) => money !== undefined);
  const total = costs.flatMap(({ money }) => money ?? []).reduce(plus, NO_METAL);
  const gold = sum(own.flatMap(({ fineGrams }) => fineGrams.get('Au') ?? []));
  const rows = [
    ...costs.map(
      (one): Row => ({
        cells: [words(one.what), costCell(one, currency), words(one.of), perGramCell(one.money, gold, currency)],
      }),
    ),
    {
      cells: [words('together'), reckonedMoney(total, currency), NOTHING, perGramCell(total, gold, currency)],
      total: true as const,
    },
  ];
  const others = dealt.filter(({ paid }) => paid.currency !== currency);
  const isSold = gold.value > 0;
  return section(
    'What a fine gram costs',
    costs.length > 0
      ? table(
          [
            { head: 'cost' },
            { head: `in ${currency}`, right: true },
            { head: 'of what' },
            { head: 'for each gram of gold sold', right: true },
          ],
          rows,
        )
      : undefined,
    sentences([
      says(
        isSold
          ? `Divided by ${grams(gold).text} of fine gold that was sold in this period by our own figures. What the metal itself was bought for is not in it; work on what is still here is.`
          : 'No gold was sold in this period, so there is nothing to divide by.',
      ),
      ...own.flatMap((one) => {
        const part = othersPart(workspace, one);
        return part
          ? [says(`${one.name} is in it whole, with metal of ${listWords(part.owners)} that was sold beside ours.`)]
          : [];
      }),
      ...(workspace.workshop.shop.overhead
        ? []
        : [
            says(
              'Rent, gas and current are not in it: `overhead` under `shop` in workshop.yaml says what a month of them costs.',
            ),
          ]),
      says(
        'Metal unaccounted for is not in it as long as weighing and assays explain it, or as it may be in lots and steps of which it is not known what they hold.',
      ),
      ...(upkeep.labour ? [] : [says('Work is not counted: `labour` under `shop` in workshop.yaml gives its price.')]),
      ...hoursSays([upkeep]),
      ...unpricedSays([upkeep]),
      ...(leftOut.length > 0 ? [says(`Left out, for want of a sum in ${currency}: ${listWords(leftOut)}.`)] : []),
      ...(others.length > 0
        ? [says(`Left out, in another currency: ${others.map(({ name }) => name).join(', ')}.`)]
        : []),
    ]),
  );
};

/** Of a month that is not whole as many parts as it has days here. */
const overheadOf = (workspace: Workspace, choice: Choice, until: string, currency: string): readonly Cost[] => {
  const { overhead } = workspace.workshop.shop;
  const from = choice.from ?? countedEntries(workspace)[0]?.date;
  if (!overhead || from === undefined || from > until) return [];
  const months = daysOfMonths(from, until);
  const share = months.reduce((so, { days, of }) => so.plus(decimal(days).div(decimal(of))), ZERO);
  const money = marketOn(salesOf(workspace), until, currency).convert({
    amount: overhead.amount.times(share),
    currency: overhead.currency,
  });
  const days = months.reduce((so, one) => so + one.days, 0);
  return [exactly('overhead', money && roundMoney(money), countWords(days, 'day'))];
};

const countWords = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`;

const exactly = (what: string, money: Money | undefined, of: string): Cost => ({
  what,
  money: money && { ...NO_METAL, value: money.amount.toNumber() },
  exact: money,
  of,
});

const costCell = ({ money, exact }: Cost, currency: string): Cell =>
  exact ? moneyCell(exact) : reckonedMoney(money, currency);

const chargesOf = (own: readonly Dealt[], currency: string): Money | undefined => {
  const known: readonly Decimal[] = own.flatMap(({ charges }) => charges?.amount ?? []);
  return known.length > 0 ? { amount: known.reduce((a, b) => a.plus(b)), currency } : undefined;
};

/** Their own sums against their own lines, until they pay it. */
const slipsOf = (own: readonly Dealt[], currency: string): readonly Cost[] => {
  const slips = own.flatMap(({ slip }) => (slip && !slip.amount.isZero() ? [slip.amount] : []));
  if (slips.length === 0) return [];
  const money = { amount: slips.reduce((a, b) => a.plus(b)), currency };
  return [exactly("wrong in buyers' sums", money, countWords(slips.length, 'settlement'))];
};

/** Our metal at the full price, less what was paid and charged, and what their sums are wrong by: what buyers keep, weigh less, or find less. */
const notPaid = (own: readonly Dealt[]): Cost => {
  const known = own.flatMap(({ full, paid, charges, slip }) => {
    const others = [charges, slip].reduce((so, one) => so + (one?.amount.toNumber() ?? 0), paid.amount.toNumber());
    return full ? [{ ...full, value: full.value - others }] : [];
  });
  return {
    what: 'metal that buyers do not pay',
    money: known.length > 0 ? sum(known) : undefined,
    of: `${countWords(known.length, 'sale')}, at the full price of the day`,
  };
};

const GONE: ReadonlySet<Movement> = new Set(['discarded', 'lost', 'assayed']);

/** By the metal account: thrown away, used up in assays, and left over unexplained. Lots of customers alone are left out of what is known; what is left over may be theirs. */
const goneOf = (workspace: Workspace, { from, to }: Choice, until: string, currency: string): readonly Cost[] => {
  const market = marketOn(salesOf(workspace), until, currency);
  const accounts = accountsOf(workspace);
  const isTheirs = ({ lot, entry }: Moved): boolean => {
    const segment = lot === undefined ? undefined : accounts.metals.lineage.segmentAt(lot, entry);
    const owners = segment ? accounts.namesOf(accounts.ownedAt(segment, entry)) : [];
    return owners.length > 0 && !owners.includes(accounts.shop);
  };
  const gone = ['Au', 'Ag'].flatMap((metal) => {
    const price = market.priceFor(metal);
    if (!price) return [];
    const value = (of: Inexact): Inexact => scaled(of, perGram(price).toNumber());
    const out = [...accounts.movements(metal, from, to)].filter((one) => GONE.has(one.movement) && !isTheirs(one));
    const account = accounts.period(metal, from, to);
    const rest = isInPart(account) ? NO_METAL : value(account.unaccounted);
    return [{ known: value(sum(out.flatMap(({ grams }) => grams ?? []))), rest }];
  });
  if (gone.length === 0) return [];
  const [known, rest] = [sum(gone.map((one) => one.known)), sum(gone.map((one) => one.rest))];
  const isExplained = Math.abs(rest.value) <= 2 * spread(rest);
  return [
    ...(known.value === 0
      ? []
      : [
          {
            what: 'metal thrown away, seen to be lost or used in assays',
            money: known,
            of: 'by the metal account, at the last price',
          },
        ]),
    ...(isExplained
      ? []
      : [{ what: 'metal unaccounted for', money: rest, of: 'by the metal account, at the last price' }]),
  ];
};

const perGramCell = (of: Inexact | undefined, gold: Inexact, currency: string): Cell => {
  if (!of || !(gold.value > 0)) return NOTHING;
  const each = roundMoney({ amount: decimal(of.value).div(decimal(gold.value)), currency });
  const cell = { text: moneyCell(each).text, figure: { value: each.amount.toFixed(), unit: `${currency}/g` } };
  return restingOn(cell, of, gold);
};

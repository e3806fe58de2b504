/** Slag on hand: whether a heat of its own pays. */
import { fromMeasured, type Inexact, plus, scaled, spread, sum } from '../../engine/accounts/inexact';
import type { Holding } from '../../engine/accounts/stock';
import { perGram } from '../../engine/selling/stated';
import { balanceRow } from '../../engine/usual';
import { add, type Measured } from '../../quantity/measured';
import type { Money } from '../../quantity/money';
import { accountsOf } from '../../workspace/accounts';
import { currencyOf, type Market, marketOn } from '../../workspace/selling/money';
import { salesOf } from '../../workspace/selling/sales';
import { meltCost } from '../../workspace/selling/upkeep';
import type { Workspace } from '../../workspace/workspace';
import { fine, grams, mass, moneyCell, plainFigure, reckonedMoney, restingOn } from '../cells';
import { stepsWithin } from '../entries';
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

const COLUMNS: readonly Column[] = [
  { head: 'slag' },
  { head: 'of' },
  { head: 'since' },
  { head: 'weight', right: true },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'gold a tonne', right: true },
  { head: 'worth at most', right: true },
  { head: 'a heat costs', right: true },
  { head: 'pays from', right: true },
  { head: 'so' },
];

/** At the end of a day, what is ours or stays here, the most first, and all of it in one heat. */
export const slagSection = (workspace: Workspace, until: string): readonly Section[] => {
  const accounts = accountsOf(workspace);
  const all = accounts
    .stock(until)
    .filter(
      ({ segment, unit, ownership, amount }) =>
        unit === 'gram' &&
        amount !== undefined &&
        (segment.start.flow?.kind ?? segment.story.make?.kind) === 'slag' &&
        accounts.namesOf(ownership).every((owner) => owner === accounts.shop),
    );
  if (all.length === 0) return [];
  const currency = currencyOf(undefined, undefined, workspace.workshop, salesOf(workspace), until);
  const market = currency === undefined ? undefined : marketOn(salesOf(workspace), until, currency);
  const melts = stepsWithin(workspace, { to: until }).filter(({ entry }) => balanceRow(entry.verb)?.kind === 'melt');
  const heat = meltCost(workspace, melts, until);
  const rows = all
    .map((holding) => ({ holding, worth: worthOf(holding, market) }))
    .sort((a, b) => (b.worth?.value ?? -1) - (a.worth?.value ?? -1))
    .map(({ holding, worth }): Row => {
      const amount = holding.amount!;
      const [gold, silver] = ['Au', 'Ag'].map((metal) => fine(holding.fine.find((one) => one.metal === metal)));
      const { segment } = holding;
      return {
        cells: [
          words(holding.lot),
          words(segment.start.entry.name?.name),
          words(holding.since),
          mass(amount),
          gold ?? NOTHING,
          silver ?? NOTHING,
          gradeOf(holding.fine.find((one) => one.metal === 'Au')?.grams, amount),
          ...judged(amount, worth, heat, market),
        ],
        place: segment.start.place,
      };
    });
  return section(
    'Slag: is it worth a heat',
    table(COLUMNS, [...rows, ...togetherRow(all, market, heat)]),
    sentences([
      says(
        'Worth at most: all its gold and silver got back and paid in full, which no heat and no buyer does. A heat costs its work and what such heats here were given, in the middle; fuel, crucible and time on the shelf are not in it.',
      ),
      ...(heat ? [] : [says('What a heat costs is not known: `labour` under `shop` in workshop.yaml gives it.')]),
      ...(market?.priceFor('Au') ? [] : [says('No price of gold is written: `quote Au` gives it.')]),
      says('An assay of the ground slag tells more than any balance: crush, sample, and write it under the slag.'),
    ]),
  );
};

const worthOf = (holding: Holding, market: Market | undefined): Inexact | undefined => {
  const values = holding.fine.flatMap(({ metal, grams: of }) => {
    const price = of && (metal === 'Au' || metal === 'Ag') ? market?.priceFor(metal) : undefined;
    return price && of ? [scaled(of, perGram(price).toNumber())] : [];
  });
  return values.length > 0 ? sum(values) : undefined;
};

/** Worth, cost, the grade of gold from which a heat pays, and the verdict. */
const judged = (
  amount: Measured,
  worth: Inexact | undefined,
  heat: Money | undefined,
  market: Market | undefined,
): readonly Cell[] => {
  const price = market?.priceFor('Au');
  const least =
    heat && price && amount.value.greaterThan(0)
      ? heat.amount.div(perGram(price)).div(amount.value).times(1e6).toNumber()
      : undefined;
  const so = (): string => {
    if (!heat || !price) return '';
    if (!worth) return 'not known: assay it';
    const [value, u, cost] = [worth.value, 2 * spread(worth), heat.amount.toNumber()];
    if (value + u < cost) return 'no';
    return value - u > cost ? 'it may' : 'not sure: assay it';
  };
  return [
    reckonedMoney(worth, market?.currency),
    moneyCell(heat),
    least === undefined ? NOTHING : restingOn(plainFigure(least, 'g/t'), fromMeasured(amount)),
    words(so()),
  ];
};

/** Grams of gold a tonne. */
const gradeOf = (gold: Inexact | undefined, amount: Measured): Cell =>
  gold && amount.value.greaterThan(0)
    ? restingOn(plainFigure((1e6 * gold.value) / amount.value.toNumber(), 'g/t', 2), gold, fromMeasured(amount))
    : NOTHING;

const togetherRow = (all: readonly Holding[], market: Market | undefined, heat: Money | undefined): readonly Row[] => {
  if (all.length < 2) return [];
  const amount = add(...all.flatMap((one) => one.amount ?? []));
  const of = (metal: string): Inexact[] => all.flatMap((one) => one.fine.find((it) => it.metal === metal)?.grams ?? []);
  const worths = all.flatMap((one) => worthOf(one, market) ?? []);
  return [
    {
      cells: [
        words('all in one heat'),
        NOTHING,
        NOTHING,
        mass(amount),
        of('Au').length > 0 ? grams(sum(of('Au'))) : NOTHING,
        of('Ag').length > 0 ? grams(sum(of('Ag'))) : NOTHING,
        gradeOf(of('Au').length > 0 ? sum(of('Au')) : undefined, amount),
        ...judged(amount, worths.length > 0 ? worths.reduce(plus) : undefined, heat, market),
      ],
      total: true,
    },
  ];
};

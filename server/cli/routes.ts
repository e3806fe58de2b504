/** `fineweight routes LOT`: sell as it is, or refine further; what each brings, and how surely. */
import { spread } from '../engine/accounts/inexact';
import { toPlain } from '../quantity/decimal';
import { correctedNote, speaksOf } from '../reports/corrections';
import { csv } from '../reports/csv';
import {
  costsSays,
  holdSays,
  leftOutSays,
  lotSays,
  noRoutesSays,
  notTaken,
  ROUTE_WORDS,
  refiningSays,
  routeCells,
  routesAssumed,
} from '../reports/selling/routes';
import { NO_OFFER } from '../reports/selling/sum';
import { chargeWords } from '../reports/selling/terms';
import { passedSays } from '../reports/selling/words';
import { nearest } from '../text/nearest';
import { visible } from '../text/visible';
import { type NoRoutes, type Ranked, type Routes, routesOf } from '../workspace/selling/routes';
import type { Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import { correctionsJson } from './corrections';
import type { Opened } from './journals';
import { UsageError } from './options';
import type { Paint } from './paint';
import { type Column, table } from './table';

export interface RoutesOptions {
  readonly lot: string;
  readonly format: 'text' | 'json' | 'csv';
  readonly paint: Paint;
}

/** Throws a UsageError for a lot of which nothing can be told, with the reason. */
export const routes = ({ journals, failures }: Opened, { lot, format, paint }: RoutesOptions): Outcome => {
  const all = journals.map(({ workspace }) => ({ workspace, routes: routesOf(workspace, lot) }));
  const found = all.flatMap(({ routes: one }) => (typeof one === 'string' ? [] : [one]));
  const notes = all.flatMap(({ workspace }) => correctedNote(workspace, speaksOf(new Set([lot]))) ?? []);
  if (found.length === 0) throw new UsageError(nothing(all, lot));
  const corrections = all.flatMap(({ workspace }) => correctionsJson(workspace, speaksOf(new Set([lot]))));
  const text =
    format === 'text'
      ? [...found.map((one) => asText(one, paint)), ...notes.map((note) => `${note}\n`)].join('\n')
      : format === 'json'
        ? `${JSON.stringify({ version: 1, lots: found.map(asJson), corrections }, null, 2)}\n`
        : csv(
            CSV_COLUMNS,
            found.flatMap(csvRows).map((row) => [...row, corrections.length]),
          );
  return { text, exit: failures.length > 0 ? 2 : 0 };
};

const nothing = (
  all: readonly { readonly workspace: Workspace; readonly routes: Routes | NoRoutes }[],
  lot: string,
): string => {
  const whys = all.map(({ routes: one }) => one as NoRoutes);
  const why = whys.find((one) => one !== 'no such lot') ?? 'no such lot';
  const names = all.flatMap(({ workspace: { book } }) =>
    [...book.lotNames()].filter((name) => (book.lot(name)?.births.length ?? 0) > 0),
  );
  const near = why === 'no such lot' ? nearest(lot, names) : undefined;
  return `${noRoutesSays(why, lot)}${near ? ` Did you mean ${near}?` : ''}`;
};

const COLUMNS: readonly Column[] = [
  { head: 'route' },
  { head: 'to' },
  { head: 'paid', right: true },
  { head: 'costs', right: true },
  { head: 'left', right: true },
  { head: 'days', right: true },
  { head: '' },
];

const asText = (of: Routes, paint: Paint): string => {
  const [head, ...lines] = table(
    COLUMNS,
    of.ranked.map((one) => routeCells(one, of.guessed)),
  );
  const costs = of.ranked.flatMap((one) => {
    const items = costsSays(one);
    return items.length > 0
      ? [`  ${ROUTE_WORDS[one.route.key]} to ${one.route.buyer.party ?? 'any buyer'}: ${items.join('; ')}`]
      : [];
  });
  return [
    ...lotSays(of).map((line, at) => (at === 0 ? paint('bold', visible(line)) : visible(line))),
    '',
    paint('dim', head!),
    ...lines.map(visible),
    '',
    ...(of.refining ? refiningSays(of.refining) : []).map(visible),
    holdSays(of),
    ...(costs.length > 0 ? ['', paint('bold', 'What work and waiting cost'), ...costs.map(visible)] : []),
    '',
    ...routesAssumed(of).map(visible),
    ...(of.guessed ? ['All of it rests on a guess of the metal: an assay would make it sure.'] : []),
    NO_OFFER,
    '',
  ].join('\n');
};

const rankedJson = (one: Ranked) => ({
  route: one.route.key,
  to: one.route.buyer.party ?? null,
  by: one.route.buyer.by,
  paid: toPlain(one.outcome.paid.amount),
  cost: toPlain(one.outcome.cost.amount),
  left: toPlain(one.outcome.net.amount),
  plusMinus: 2 * one.u,
  days: one.route.days,
  taken: one.taken,
  because: one.taken ? null : (notTaken(one) ?? null),
  withoutCharges: one.unconverted.map(chargeWords),
  withoutMetals: one.unpriced,
  costs: one.outcome.costs.map(({ what, size, money }) => ({
    what,
    size,
    money: money ? toPlain(money.amount) : null,
  })),
  assumed: one.route.assumed,
});

/** Money as exact decimals in text; grams and shares with ± at k = 2. */
const asJson = (of: Routes) => ({
  lot: of.lot.lot,
  date: of.date,
  currency: of.currency,
  grams: of.grams.value.toNumber(),
  shares: [...of.shares].map(([metal, { share, ground }]) => ({
    metal,
    share: share.value,
    plusMinus: 2 * spread(share),
    ground,
  })),
  guessed: of.guessed,
  fullValue: of.full,
  oldPrices: of.old.map(({ metal, quote, ageDays }) => ({ metal, quoted: quote.date, ageDays })),
  notUsed: [...of.passed.map(passedSays), ...of.leftOut.map((one) => leftOutSays(of, one))],
  routes: of.ranked.map(rankedJson),
  refining: of.refining
    ? {
        route: of.refining.further.route.key,
        to: of.refining.further.route.buyer.party ?? null,
        against: of.refining.direct.route.buyer.party ?? null,
        gain: of.refining.comparison.gain,
        plusMinus: 2 * of.refining.comparison.u,
        casesOfHundred: of.refining.comparison.cases,
        breakEvenFineness: of.refining.fineness() ?? null,
        breakEvenShare: of.refining.share() ?? null,
      }
    : null,
});

const CSV_COLUMNS = [
  'lot',
  'route',
  'to',
  'by',
  'paid',
  'cost',
  'left',
  '± (k = 2)',
  'currency',
  'days',
  'taken',
  'corrected',
];

const csvRows = (of: Routes) =>
  of.ranked.map(({ route, outcome, u, taken }) => [
    of.lot.lot,
    route.key,
    route.buyer.party,
    route.buyer.by,
    outcome.paid.amount.toNumber(),
    outcome.cost.amount.toNumber(),
    outcome.net.amount.toNumber(),
    2 * u,
    of.currency,
    route.days,
    taken ? 'yes' : 'no',
  ]);

/** Metal that is a customer's: which lots are theirs, and what became of its gold and silver in all. */
import {
  fromMeasured,
  type Inexact,
  minus,
  NOTHING as NO_GRAMS,
  plus,
  scaled,
  spread,
  sum,
  times,
} from '../engine/accounts/inexact';
import { movedBy, moveIn } from '../engine/accounts/moves';
import { type Segment, segmentsOf } from '../engine/accounts/segments';
import { fineOf } from '../engine/accounts/stock';
import type { LotEvent } from '../engine/book';
import type { Measured } from '../quantity/measured';
import { accountsOf } from '../workspace/accounts';
import { gainedInPools, partOf, restOf, unlent } from '../workspace/pools';
import { purchasedOf } from '../workspace/selling/purchases';
import type { Workspace } from '../workspace/workspace';
import { besides, grams } from './cells';
import { type Choice, isWithin } from './choice';
import { countedEntries } from './entries';
import { NOTHING, type Row, type Section, says, section, sentences, table, words } from './model';

export const ownersIn = (workspace: Workspace): readonly string[] => {
  const accounts = accountsOf(workspace);
  const names = [...workspace.book.lotNames()].flatMap((name) =>
    segmentsOf(workspace.book.lot(name)!).all.flatMap((one) => accounts.namesOf(accounts.owners(one))),
  );
  return [...new Set(names)];
};

/** Stretches of lots that are theirs, alone or in a pool, in the order in which they came to be. */
export const ownedBy = (workspace: Workspace, party: string): readonly Segment[] => {
  const accounts = accountsOf(workspace);
  const order = new Map(countedEntries(workspace).map((entry, at) => [entry.anchor, at]));
  return [...workspace.book.lotNames()]
    .flatMap((name) => segmentsOf(workspace.book.lot(name)!).all)
    .filter((one) => accounts.namesOf(accounts.owners(one)).includes(party))
    .sort((a, b) => (order.get(a.start.entry.anchor) ?? 0) - (order.get(b.start.entry.anchor) ?? 0));
};

export const LEAVES: ReadonlySet<LotEvent['kind']> = new Set(['shipped', 'sold', 'discarded', 'missing']);

export const fineFor = (workspace: Workspace, segment: Segment, of: LotEvent['weight']) => {
  const amount = of.mass ?? of.volume;
  return fineOf(accountsOf(workspace).metals.best(segment), amount && fromMeasured(amount));
};

const usedInAssay = (event: LotEvent, segment: Segment): Measured | undefined => {
  const moved = moveIn(event, segment);
  return moved?.movement === 'assayed' ? moved.size : undefined;
};

/**
 * Of each metal: what came in by the best that is known, what went out, what is here, from their first lot to the end of the period. The rest
 * stayed in slag, crucible and assays, or is missing.
 */
export const fineSections = (
  workspace: Workspace,
  party: string,
  owned: readonly Segment[],
  { to }: Choice,
): readonly Section[] => {
  const accounts = accountsOf(workspace);
  const { unit } = workspace.workshop.reports;
  const until: Choice = to === undefined ? {} : { to };
  const moved = owned.flatMap((segment) =>
    segment.events.flatMap((event) => {
      const { kind, entry } = event;
      const used = usedInAssay(event, segment);
      if ((kind !== 'received' && !LEAVES.has(kind) && !used) || !isWithin(until, entry.date)) return [];
      const amount = used ?? movedBy(event, segment);
      const to = used ? undefined : entry.party?.name;
      return [{ segment, comesIn: kind === 'received', amount, date: entry.date, to, used: used !== undefined }];
    }),
  );
  const here = accounts.stock(to).filter(({ segment }) => owned.includes(segment));
  const bills = accounts.purchases.all.filter(({ owner, entry }) => owner === party && isWithin(until, entry.date));
  /** From the day of the bill on it is not theirs that is here or leaves. */
  const isOurs = (segment: Segment, metal: string, date = to): boolean =>
    purchasedOf(accounts.purchases, segment, date).some((bill) => bill.owner === party && bill.metals.has(metal));
  const fineGrams = (
    metal: string,
    segment: Segment,
    amount: Measured | undefined,
    part = partOf(accounts, segment, party, metal),
    withLent = false,
  ): Inexact => {
    const share = accounts.metals.best(segment).get(metal)?.share;
    const fine = share && part !== undefined && amount && scaled(times(fromMeasured(amount), share), part);
    return fine ? (withLent ? fine : unlent(accounts, segment, metal, fine)) : NO_GRAMS;
  };
  /** Out of a pool all that goes to one of its owners is that one's. */
  const partTo = (segment: Segment, to: string | undefined, metal: string): number | undefined => {
    if (to === party) return 1;
    const names = accounts.namesOf(accounts.owners(segment));
    return to !== undefined && names.includes(to) ? 0 : partOf(accounts, segment, party, metal);
  };
  const pools = new Map(METALS.map((metal) => [metal, gainedInPools(accounts, owned, party, metal) ?? NO_GRAMS]));
  const hasPools = [...pools.values()].some(({ value }) => Math.abs(value) >= LEAST_POOLED);
  const rows = METALS.flatMap((metal): readonly Row[] => {
    const total = (comesIn: boolean): Inexact =>
      sum(
        moved
          .filter((one) => one.comesIn === comesIn && (comesIn || !isOurs(one.segment, metal, one.date)))
          .map(({ segment, amount, to: whom }) =>
            fineGrams(metal, segment, amount, comesIn ? undefined : partTo(segment, whom, metal), whom === party),
          ),
      );
    const held = sum(
      here
        .filter(({ segment }) => !isOurs(segment, metal))
        .map(({ segment, amount }) => fineGrams(metal, segment, amount, restOf(accounts, segment, party, metal)?.part)),
    );
    const bought = sum(
      bills
        .filter(({ metals }) => metals.has(metal))
        .flatMap(({ pieces, entry }) =>
          accounts
            .stock(entry.date)
            .filter(({ segment }) => pieces.includes(segment))
            .map(({ segment, amount }) => fineGrams(metal, segment, amount)),
        ),
    );
    const [into, out] = [total(true), total(false)];
    if (into.value + out.value + held.value === 0) return [];
    const pooled = pools.get(metal)!;
    // Where it is not known how much came in, nothing is left over of it and nothing missing.
    const untold = moved.filter(
      ({ comesIn, segment, amount }) => comesIn && (!amount || !accounts.metals.best(segment).get(metal)?.share),
    ).length;
    const rest = minus(minus(minus(plus(into, pooled), out), bought), held);
    const cells = [
      into.value === 0 && untold > 0 ? NOTHING : besides(grams(into), unit?.symbol, unit?.factor),
      ...(hasPools ? [grams(pooled)] : []),
      grams(out),
      ...(bills.length > 0 ? [grams(bought)] : []),
      grams(held),
      untold > 0 ? NOTHING : grams(rest),
    ];
    const so = untold > 0 ? `what came in is not known of ${untold} ${untold === 1 ? 'lot' : 'lots'}` : restWords(rest);
    return [{ cells: [words(metal === 'Au' ? 'gold' : 'silver'), ...cells, words(so)] }];
  });
  const open = owned.filter((one) => partOf(accounts, one, party, 'Au') === undefined);
  const columns = [
    'metal',
    'came in',
    ...(hasPools ? ['by the pool'] : []),
    moved.some(({ used }) => used) ? 'went back, on, or to assay' : 'went back or on',
    ...(bills.length > 0 ? ['bought by us'] : []),
    'still here',
  ];
  return section(
    'Fine metal',
    table(
      [...columns, 'the rest', 'so'].map((head, at) => ({ head, right: at > 0 && at < columns.length + 1 })),
      rows,
    ),
    sentences(
      open.map(({ lot, start }) => says(`How much of ${lot} is theirs is not known: it is left out.`, start.place)),
    ),
  );
};

const METALS: readonly string[] = ['Au', 'Ag'];
/** Grams: below it a pool shared out what was brought. */
const LEAST_POOLED = 1e-6;

const restWords = (rest: Inexact): string => {
  if (Math.abs(rest.value) <= 2 * spread(rest)) return 'weighing and assays explain it';
  return rest.value > 0 ? 'in slag, crucible and assays, or missing' : 'more went out than came in';
};

/** What came of a customer's lot, and where each of it is now. */
import { fromMeasured, type Inexact, scaled, times } from '../../engine/accounts/inexact';
import { isByVolume, movedBy } from '../../engine/accounts/moves';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import type { LotEvent } from '../../engine/book';
import { isMetalKind } from '../../engine/charge';
import type { TollPiece, Whereabouts } from '../../engine/selling/toll';
import type { Measured } from '../../quantity/measured';
import { type Accounts, accountsOf } from '../accounts';
import { leftIn, partBehind, partOf, restOf, unlent } from '../pools';
import type { Workspace } from '../workspace';
import { settledWith } from './consigned';
import { salesOf } from './sales';

/** Metals that are accounted for. */
export const METALS = ['Au', 'Ag'] as const;

/** What was taken of a lot other than into a step or as a sample, and what is left of it. */
export const piecesOf = (workspace: Workspace, segment: Segment, customer: string): readonly TollPiece[] => {
  const accounts = accountsOf(workspace);
  const { lot, start, events, story } = segment;
  const kind = start.flow?.kind ?? story.make?.kind;
  // What pays back metal that was lent is not theirs.
  if (start.flow?.said.repays) return [];
  const residue = start.kind !== 'received' && !isMetalKind(kind);
  const owners = accounts.namesOf(accounts.owners(segment));
  const now = accounts.namesOf(accounts.ownedOn(segment));
  const isTheirs = owners.includes(customer);
  // Metal that the shop got out of residues which are its own, or another's part of a pool.
  if (!isTheirs && !residue) return [];
  const shareOf = (metal?: string): number | undefined =>
    isTheirs ? partOf(accounts, segment, customer, metal) : partBehind(accounts, segment, customer, metal);
  const leftOf = (metal?: string): number | undefined =>
    isTheirs ? restOf(accounts, segment, customer, metal)?.part : shareOf(metal);
  /** All of it where it went to them, else their part. */
  const piece = (
    event: LotEvent,
    size: Measured | undefined,
    where: Whereabouts,
    to?: string,
    part = where === 'returned' ? ALL : shareOf,
  ): TollPiece => {
    const [whole, share] = [size && fromMeasured(size), weightPart(accounts, segment, part)];
    const fine = fineIn(accounts, segment, whole, part, where === 'returned');
    return {
      lot,
      kind,
      residue,
      where,
      to,
      date: event.entry.date,
      isPart: share !== 1,
      grams: whole && share !== undefined && !isByVolume(segment) ? scaled(whole, share) : undefined,
      fine,
      owner: now.some((one) => one !== accounts.shop) ? now.join(' + ') : undefined,
    };
  };
  const pieces = events.flatMap((event): readonly TollPiece[] => {
    const size = movedBy(event, segment);
    if (event.kind === 'shipped' || event.kind === 'sold') {
      const to = event.entry.party?.name;
      // It went to another of its owners: that was the other's part of it.
      if (to !== customer && to !== undefined && owners.includes(to)) return [];
      const back = events.some((other) => other.kind === 'returned' && other.entry === event.entry);
      const where = to === customer ? 'returned' : isSold(workspace, event, lot, customer) ? 'sold' : 'left';
      return back ? [] : [piece(event, size, where, to)];
    }
    if (event.kind === 'discarded') return [piece(event, size, 'thrown away')];
    return event.kind === 'assayed' && size ? [piece(event, size, 'used in assay')] : [];
  });
  const left = leftIn(segment);
  if (!left) return pieces;
  const to = start.flow?.said.to?.name;
  return [...pieces, piece(start, left, to === customer ? 'returned' : to ? 'left' : 'on hand', to, leftOf)];
};

const ALL = (): number => 1;

/** Of what it weighs, as of its gold and silver together: a sponge of gold is theirs as its gold is, whatever else they brought. */
const weightPart = (
  { metals }: Accounts,
  segment: Segment,
  partOfMetal: (metal?: string) => number | undefined,
): number | undefined => {
  const known = metals.best(segment);
  let [own, all] = [0, 0];
  for (const metal of METALS) {
    const share = known.get(metal)?.share?.value ?? 0;
    own += share * (partOfMetal(metal) ?? 0);
    all += share;
  }
  const ofLot = partOfMetal();
  return ofLot === undefined || ofLot === 1 || all <= 0 ? ofLot : own / all;
};

/** Metal of the shop's own that went to a customer for theirs, as their bill says by `returned`. */
export const givenFor = (workspace: Workspace, lot: string, customer: string): readonly TollPiece[] => {
  const accounts = accountsOf(workspace);
  const story = workspace.book.lot(lot);
  return (story ? segmentsOf(story).all : []).flatMap((segment) =>
    segment.events.flatMap(({ kind, entry, weight }): TollPiece[] => {
      if (kind !== 'shipped' || entry.party?.name !== customer) return [];
      const grams = weight.mass && fromMeasured(weight.mass);
      return [
        {
          lot,
          kind: segment.start.flow?.kind ?? segment.story.make?.kind,
          residue: false,
          where: 'returned',
          to: customer,
          date: entry.date,
          isPart: false,
          grams,
          fine: fineIn(accounts, segment, grams, ALL, true),
          owner: undefined,
        },
      ];
    }),
  );
};

/** For money: of hand, or in a shipment, or as a lot of one, that somebody else has settled. */
const isSold = (workspace: Workspace, { kind, entry }: LotEvent, lot: string, customer: string): boolean =>
  kind === 'sold'
    ? entry.money !== undefined
    : salesOf(workspace).settles.some((sale) => {
        const name = sale.entry.name?.name;
        return (name === entry.name?.name || name === lot) && settledWith(salesOf(workspace), sale) !== customer;
      });

/** Metal that was lent is nobody's part; whoever got the lot got it too. */
const fineIn = (
  accounts: Accounts,
  segment: Segment,
  grams: Inexact | undefined,
  partOfMetal: (metal: string) => number | undefined,
  withLent: boolean,
): ReadonlyMap<string, Inexact> => {
  if (!grams) return new Map();
  const known = accounts.metals.best(segment);
  return new Map(
    METALS.flatMap((metal) => {
      const [share, part] = [known.get(metal)?.share, partOfMetal(metal)];
      if (!share || part === undefined) return [];
      const fine = scaled(times(grams, share), part);
      return [[metal, withLent ? fine : unlent(accounts, segment, metal, fine)] as const];
    }),
  );
};

/** What came of a customer's lot, and where each of it is now. */
import { fromMeasured, type Inexact, times } from '../../engine/accounts/inexact';
import { type Segment, segmentsOf } from '../../engine/accounts/segments';
import type { LotEvent } from '../../engine/book';
import { isMetalKind } from '../../engine/charge';
import type { TollPiece, Whereabouts } from '../../engine/selling/toll';
import type { Measured } from '../../quantity/measured';
import { type Accounts, accountsOf } from '../accounts';
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
  const owner = accounts.namesOf(accounts.owners(segment)).find((one) => one !== accounts.shop);
  const now = accounts.namesOf(accounts.ownedOn(segment));
  // Metal that the shop got out of residues which are its own.
  if (owner === undefined && !residue) return [];
  const piece = (event: LotEvent, mass: Measured | undefined, where: Whereabouts, to?: string): TollPiece => {
    const grams = mass && fromMeasured(mass);
    return {
      lot,
      kind,
      residue,
      where,
      to,
      date: event.entry.date,
      grams,
      fine: fineIn(accounts, segment, grams),
      owner: now.some((one) => one !== accounts.shop) ? now.join(' + ') : undefined,
    };
  };
  const pieces = events.flatMap((event): readonly TollPiece[] => {
    const mass = event.weight.mass ?? (event.after?.value.isZero() ? event.before : undefined);
    if (event.kind === 'shipped' || event.kind === 'sold') {
      const to = event.entry.party?.name;
      const back = events.some((other) => other.kind === 'returned' && other.entry === event.entry);
      const where = to === customer ? 'returned' : isSold(workspace, event, lot, customer) ? 'sold' : 'left';
      return back ? [] : [piece(event, mass, where, to)];
    }
    if (event.kind === 'discarded') return [piece(event, mass, 'thrown away')];
    return event.kind === 'assayed' && event.weight.mass ? [piece(event, event.weight.mass, 'used in assay')] : [];
  });
  const last = events.at(-1)!;
  const isLast = story.events.at(-1) === last;
  const left = isLast && !story.gone && story.left?.value.greaterThan(0) ? story.left : undefined;
  if (!left) return pieces;
  const to = start.flow?.said.to?.name;
  return [...pieces, piece(start, left, to === customer ? 'returned' : to ? 'left' : 'on hand', to)];
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
          grams,
          fine: fineIn(accounts, segment, grams),
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

const fineIn = ({ metals }: Accounts, segment: Segment, grams: Inexact | undefined): ReadonlyMap<string, Inexact> => {
  if (!grams) return new Map();
  const known = metals.best(segment);
  return new Map(
    METALS.flatMap((metal) => {
      const share = known.get(metal)?.share;
      return share ? [[metal, times(grams, share)] as const] : [];
    }),
  );
};

/**
 * Work on a customer's metal: what came in, what of it went back, what lies here still, and what is owed either way. What we agreed to account for is
 * a share of the fine metal that came in; where nothing was agreed it is what came of it.
 */

import { decimal } from '../../quantity/decimal';
import { certain, type Inexact, minus, NOTHING, plus, scaled } from '../accounts/inexact';
import type { Bands, Cut, Terms } from '../workshop';
import { shareAt } from './payout';

/** Where a piece of what came of a lot is now. */
export type Whereabouts = 'returned' | 'sold' | 'on hand' | 'left' | 'thrown away' | 'used in assay';

export interface TollPiece {
  readonly lot: string;
  readonly kind: string | undefined;
  /** Slag, cupel, solution: not metal. */
  readonly residue: boolean;
  readonly where: Whereabouts;
  /** Whom it went to. */
  readonly to: string | undefined;
  readonly date: string | undefined;
  /** Of a lot that is not theirs alone: weight and metal are their part of it. */
  readonly isPart: boolean;
  readonly grams: Inexact | undefined;
  /** Grams by metal; none of what is not known. */
  readonly fine: ReadonlyMap<string, Inexact>;
  /** Whose it is, as the journal has it. */
  readonly owner: string | undefined;
}

export interface TollMetal {
  readonly metal: string;
  /** In what came in; none where that is not known. */
  readonly received: Inexact | undefined;
  /** What pooling by weight added to it; below nought what it took. */
  readonly pooled: Inexact;
  /** What their share of a pool comes to beyond the part of it that they got where it was divided; below nought they got more. */
  readonly divided: Inexact;
  readonly guessed: boolean;
  /** The share of it that we agreed to give back, 0 to 1. */
  readonly share: number | undefined;
  readonly returned: Inexact;
  /** Sold to somebody for them: they get money for it. */
  readonly sold: Inexact;
  /** As metal, still here and theirs. */
  readonly onHand: Inexact;
  /** In what is no metal: still to be worked, as ash, or slag and other residues, here or gone. */
  readonly residues: Inexact;
  /** Bought from them by a bill: none of it goes back that has not gone back. */
  readonly bought: boolean;
  /** What has to go back or be sold for them: the agreed share of what came in; else what came of it as metal. */
  readonly due: Inexact;
  /** Due less returned, and less what was sold for them as far as it was due: above nought it is still owed to them. */
  readonly owed: Inexact;
}

export interface TollReceived {
  readonly metal: string;
  readonly grams: Inexact | undefined;
  /** What pooling it with others' made of it beyond that; none where what they brought in is not known. */
  readonly pooled: Inexact | undefined;
  /** What their share of a pool comes to beyond what they got of it and what of it is here as theirs. */
  readonly short: Inexact;
  /** The same where a pool was divided, and one got more or less than the share. */
  readonly divided: Inexact;
  /** Mass fraction, for the bands of the terms. */
  readonly fineness: number | undefined;
  /** Of the lot; for what is kept as a share of it. */
  readonly lotGrams: number | undefined;
  readonly guessed: boolean;
}

/** By metal, from what came in and what came of it. */
export const tollMetals = (
  received: readonly TollReceived[],
  pieces: readonly TollPiece[],
  terms: Terms | undefined,
  boughtMetals: ReadonlySet<string> = new Set(),
): readonly TollMetal[] =>
  received.map(({ metal, grams, pooled, short, divided, fineness, lotGrams, guessed }) => {
    const total = (test: (piece: TollPiece) => boolean): Inexact =>
      pieces
        .filter(test)
        .flatMap(({ fine }) => fine.get(metal) ?? [])
        .reduce(plus, NOTHING);
    const returned = total(({ where, residue }) => where === 'returned' && !residue);
    const bought = boughtMetals.has(metal);
    const onHand = bought ? NOTHING : total(({ where, residue }) => where === 'on hand' && !residue);
    const residues = total(({ residue }) => residue);
    const share = agreed(terms?.pays.get(metal), fineness);
    const sold = bought ? NOTHING : total(({ where, residue }) => where === 'sold' && !residue);
    const cuts = { less: terms?.less.get(metal), keeps: terms?.keeps.get(metal) };
    const basis = grams && pooled && plus(grams, pooled);
    const ofAll =
      share !== undefined && basis
        ? dueOf(basis, share, cuts, lotGrams ?? 0)
        : plus(plus(plus(returned, sold), onHand), plus(short, divided));
    const due = bought ? returned : ofAll;
    const left = minus(due, returned);
    return {
      metal,
      received: grams,
      pooled: pooled ?? NOTHING,
      divided,
      guessed,
      share: basis && share,
      returned,
      sold,
      onHand,
      residues,
      bought,
      due,
      // What the buyer paid of it is theirs, however much of it was due: it is no metal that was given back too much.
      owed: sold.value === 0 || left.value <= 0 ? left : sold.value < left.value ? minus(left, sold) : NOTHING,
    };
  });

/** As a buyer's payable metal is worked out: what is taken off first, then the share, or less where more is kept at least. */
const dueOf = (
  grams: Inexact,
  share: number,
  { less, keeps }: { readonly less: Cut | undefined; readonly keeps: Cut | undefined },
  lotGrams: number,
): Inexact => {
  const off = less?.grams?.toNumber() ?? 0;
  const net = minus(scaled(grams, 1 - (less?.share?.toNumber() ?? 0)), certain(Math.min(off, grams.value)));
  const kept = keeps?.grams?.toNumber() ?? lotGrams * (keeps?.share?.toNumber() ?? 0);
  if (net.value - kept >= net.value * share) return scaled(net, share);
  return net.value > kept ? minus(net, certain(kept)) : NOTHING;
};

const agreed = (bands: Bands | undefined, fineness: number | undefined): number | undefined =>
  bands && fineness !== undefined ? shareAt(bands, decimal(fineness)).toNumber() : undefined;

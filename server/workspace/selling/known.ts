/** What is known of a lot for selling it: its weight and its metals, and of these what we found ourselves. */
import { fromMeasured, type Inexact, over, plus, spread, times } from '../../engine/accounts/inexact';
import { type Known, type MetalGround, worseGround } from '../../engine/accounts/known';
import type { Metals } from '../../engine/accounts/metals';
import { pooled } from '../../engine/accounts/pooled';
import type { Segment } from '../../engine/accounts/segments';
import type { Entry } from '../../engine/entry';
import { type Decimal, decimal } from '../../quantity/decimal';
import { add, type Measured } from '../../quantity/measured';

/** One lot of a shipment, an offer or a sale. */
export interface LotKnown {
  readonly lot: string;
  readonly segment: Segment;
  readonly grams: Measured | undefined;
}

/** A metal of one or more lots together: a mass fraction, and how it is known. */
export interface ShareKnown {
  readonly share: Inexact;
  readonly ground: MetalGround;
}

/** Gold and silver and the other metals that somebody may pay for. */
const PAID = ['Au', 'Ag', 'Pt', 'Pd'] as const;

/** Of all lots together, by weight; a metal that is not known of one of them is not known of all. */
export const sharesOf = (
  lots: readonly LotKnown[],
  knownOf: (lot: LotKnown, metal: string) => Known | undefined,
): ReadonlyMap<string, ShareKnown> => {
  const shares = new Map<string, ShareKnown>();
  for (const metal of PAID) {
    const found = lots.map((lot) => ({ lot, known: knownOf(lot, metal) }));
    if (found.length === 0 || found.some(({ known }) => !known?.share)) continue;
    const ground = found.map(({ known }) => known!.ground).reduce(worseGround);
    const [first] = found;
    if (found.length === 1) {
      shares.set(metal, { share: first!.known!.share!, ground });
      continue;
    }
    if (found.some(({ lot }) => !lot.grams?.value.greaterThan(0))) continue;
    const grams = found.map(({ lot }) => fromMeasured(lot.grams!));
    const fine = found.map(({ known }, at) => times(grams[at]!, known!.share!)).reduce(plus);
    shares.set(metal, { share: over(fine, grams.reduce(plus)), ground });
  }
  return shares;
};

export const gramsOf = (lots: readonly LotKnown[]): Measured | undefined => {
  const known = lots.flatMap(({ grams }) => grams ?? []);
  return known.length > 0 && known.length === lots.length ? add(...known) : undefined;
};

/** The best that is known, a guess among it. */
export const bestOf =
  (metals: Metals) =>
  ({ segment }: LotKnown, metal: string): Known | undefined =>
    metals.best(segment).get(metal);

const isTheirs = (entry: Entry, party: string | undefined): boolean =>
  party !== undefined && entry.party?.name === party;

/** What we found ourselves or had found, and else what went in: without the buyer's assays and an umpire's, and without guesses. */
export const ownOf =
  (metals: Metals, party: string | undefined) =>
  ({ segment }: LotKnown, metal: string): Known | undefined => {
    const own = metals.assays(segment).filter((entry) => !entry.said.umpire && !isTheirs(entry, party));
    const assayed = pooled(own).get(metal);
    if (assayed?.share && assayed.ground !== 'guessed') return assayed;
    const carried = metals.carried(segment).get(metal);
    return carried?.share && carried.ground !== 'guessed' ? carried : undefined;
  };

/** By the buyer's own assays, as they were exchanged, or by an umpire's: of all lots together, by weight, where each has one. */
export const assaysBy = (
  metals: Metals,
  lots: readonly LotKnown[],
  which: 'umpire' | { readonly party: string | undefined },
): ReadonlyMap<string, number> => {
  const isOne = (entry: Entry): boolean =>
    which === 'umpire' ? entry.said.umpire !== undefined : !entry.said.umpire && isTheirs(entry, which.party);
  const found = sharesOf(lots, ({ segment }, metal) => pooled(metals.assays(segment).filter(isOne)).get(metal));
  return new Map([...found].map(([metal, { share }]) => [metal, share.value]));
};

/** Standard uncertainty of a share. */
export const uOf = ({ share }: ShareKnown): number => spread(share);

/** Shares are never better known than a few digits; twelve keep what an assay typed. */
export const asDecimal = (value: number): Decimal => decimal(Number(value.toPrecision(12)));

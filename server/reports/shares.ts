/** Shares of the owners of a pooled lot, as figures that add up to the whole as it is shown. */
import { spread } from '../engine/accounts/inexact';
import { type Shares, sharedOut } from '../engine/accounts/shares';
import { type Fine, isGuessed } from '../engine/accounts/stock';
import { decimal } from '../quantity/decimal';
import { placesFor, showPlaces } from '../quantity/show';
import { fineWords, isShown } from './fine';

export interface OwnerShare {
  readonly owner: string;
  /** Of the lot, in per cent, to the hundredth. */
  readonly percent: number;
  readonly fine: readonly {
    readonly metal: string;
    readonly grams: number;
    readonly places: number;
    readonly guessed: boolean;
  }[];
}

const MOST_PLACES = 4;

export const ownerShares = (shares: Shares | undefined, fine: readonly Fine[]): readonly OwnerShare[] => {
  if (!shares) return [];
  const percent = sharedOut(100, shares.ofLot, 2);
  const parts = fine.flatMap((one) => {
    const among = one.metal === 'Au' || one.metal === 'Ag' ? shares.ofMetal(one.metal) : undefined;
    if (!one.grams || !among || !isShown(one)) return [];
    const places = Math.min(MOST_PLACES, placesFor(2 * spread(one.grams)));
    const guessed = isGuessed(one);
    return [{ metal: one.metal, places, guessed, grams: sharedOut(one.grams.value, among, places) }];
  });
  return [...percent].map(([owner, of]) => ({
    owner,
    percent: of,
    fine: parts.map(({ metal, grams, places, guessed }) => ({ metal, grams: grams.get(owner) ?? 0, places, guessed })),
  }));
};

/** `60.00 %, Au 5.40 g, Ag 0.60 g` */
export const shareWords = ({ percent, fine }: OwnerShare): string =>
  [
    `${showPlaces(decimal(percent), 2)} %`,
    ...fine.map((one) => `${one.metal} ${one.guessed ? '~' : ''}${showPlaces(decimal(one.grams), one.places)} g`),
  ].join(', ');

/** `lent, to come back: Ag 150 g`; none where nothing is. */
export const lentWords = (lent: readonly Fine[]): string => {
  const parts = lent.filter(isShown).flatMap((one) => (one.grams ? [`${one.metal} ${fineWords(one)}`] : []));
  return parts.length > 0 ? `lent, to come back: ${parts.join(', ')}` : '';
};

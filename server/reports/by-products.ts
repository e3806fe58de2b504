/** By-products whose metal is a guess: what of the gold and silver that a shop holds rests on them, and since when. */
import { isOnHand } from '../engine/accounts/cupels';
import { type Inexact, sum } from '../engine/accounts/inexact';
import { type Fine, totalOf } from '../engine/accounts/stock';
import { decimal } from '../quantity/decimal';
import { showDigits, showQuantity } from '../quantity/show';
import { dayNumber, daysBefore } from '../text/calendar';
import type { Place } from '../text/place';
import type { Accounts } from '../workspace/accounts';
import { asMeasured } from './fine';
import { metalWords } from './words';

/** What a heat leaves beside its metal. */
export const BY_PRODUCTS: ReadonlySet<string> = new Set([
  'slag',
  'matte',
  'speiss',
  'tails',
  'dust',
  'fume',
  'ash',
  'filter',
  'residue',
  'other',
]);

/** A by-product should be weighed, sampled and assayed, or worked, within so many days. */
const TOO_LONG_DAYS = 90;
/** One that is younger is still being worked on. */
const FRESH_DAYS = 30;
/** So much of what was held may rest on guesses, */
const TOO_LARGE = 0.05;
/** and so much for long: less is not worth the assay. */
const LEAST_FOR_LONG = 0.01;

/** One by-product on hand whose metal is a guess. */
export interface Guess {
  readonly name: string;
  readonly since: string;
  readonly grams: Inexact;
  readonly place: Place;
}

export interface Guesses {
  readonly metal: string;
  /** Those that are no longer fresh, beginning with the one of most metal. */
  readonly all: readonly Guess[];
  /** Those that are older than by-products should be. */
  readonly old: readonly Guess[];
  readonly grams: Inexact;
  /** On hand on the day, and what left in the days before it: what the account speaks of. */
  readonly heldGrams: number;
  readonly tooLarge: boolean;
  readonly tooLong: boolean;
}

/** At the end of a day; none where what rests on guesses is little and not old. */
export const guessesOn = (accounts: Accounts, metal: string, date = accounts.lastDate): Guesses | undefined => {
  const holdings = accounts.stock(date);
  const lots = holdings.flatMap(({ lot, segment, since, fine }): Guess[] => {
    const kind = segment.start.flow?.kind ?? segment.story.make?.kind;
    const grams = BY_PRODUCTS.has(kind ?? '') ? guessedOf(fine, metal) : undefined;
    return grams ? [{ name: lot, since, grams, place: segment.start.place }] : [];
  });
  const cupels = accounts.allCupels().flatMap((cupel): Guess[] => {
    const grams = isOnHand(cupel, date) ? guessedOf(cupel.fine, metal) : undefined;
    return grams ? [{ name: cupel.name, since: cupel.entry.date ?? '', grams, place: cupel.place }] : [];
  });
  const isOlder = (since: string, days: number): boolean => since !== '' && dayNumber(date) - dayNumber(since) > days;
  const all = [...lots, ...cupels]
    .filter(({ since }) => isOlder(since, FRESH_DAYS))
    .sort((a, b) => b.grams.value - a.grams.value);
  if (all.length === 0) return undefined;
  const old = all.filter(({ since }) => isOlder(since, TOO_LONG_DAYS));
  const held = sum([totalOf(holdings, metal).grams, ...cupels.map(({ grams }) => grams)]).value;
  const heldGrams = held + leftBefore(accounts, metal, date);
  const grams = sum(all.map((one) => one.grams));
  const tooLarge = grams.value > TOO_LARGE * heldGrams;
  const tooLong = sum(old.map((one) => one.grams)).value > LEAST_FOR_LONG * heldGrams;
  return tooLarge || tooLong ? { metal, all, old, grams, heldGrams, tooLarge, tooLong } : undefined;
};

const guessedOf = (fine: readonly Fine[], metal: string): Inexact | undefined => {
  const one = fine.find((each) => each.metal === metal);
  return one?.known.ground === 'guessed' && (one.grams?.value ?? 0) > 0 ? one.grams : undefined;
};

const leftBefore = (accounts: Accounts, metal: string, date: string): number => {
  let left = 0;
  for (const { movement, grams } of accounts.movements(metal, daysBefore(date, TOO_LONG_DAYS), date))
    if ((movement === 'shipped' || movement === 'sold') && grams) left += grams.value;
  return left;
};

/** `~2.3 g ±0.5 of gold in 3 by-products is a guess, 7 % of the 33 g held in 90 days; …` */
export const guessesSay = ({ metal, all, old, grams, heldGrams, tooLarge, tooLong }: Guesses): string => {
  const told = tooLarge ? all : old;
  const size = showQuantity(asMeasured(tooLarge ? grams : sum(old.map((one) => one.grams)), true), 'g');
  const where = told.length === 1 ? told[0]!.name : `${told.length} by-products`;
  const share = (100 * grams.value) / heldGrams;
  const ofAll = `${showDigits(decimal(share), 2)} % of the ${showDigits(decimal(heldGrams), 3)} g held in ${TOO_LONG_DAYS} days`;
  const oldest = old.reduce((so, one) => (one.since < so.since ? one : so), old[0]!);
  const since = `${told.length === 1 ? '' : `${oldest?.name} `}since ${oldest?.since}`;
  const facts = [...(tooLarge ? [ofAll] : []), ...(tooLong ? [since] : [])].join(', ');
  const [most] = told;
  return `${size} of ${metalWords(metal)} in ${where} is a guess, ${facts}. Sample and assay ${told.length === 1 ? 'it' : `${most!.name} first`}, or work it.`;
};

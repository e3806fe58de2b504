/** By-products whose metal is a guess: what of the gold and silver that a shop holds rests on them, and since when. */
import { blockwise, runwise } from '../engine/accounts/blocks';
import { heldInCupels, isOnHand, type UsedCupel } from '../engine/accounts/cupels';
import { type Inexact, plus } from '../engine/accounts/inexact';
import { type Fine, type Holding, isGuessed, totalOf } from '../engine/accounts/stock';
import { decimal } from '../quantity/decimal';
import { showDigits, showQuantity } from '../quantity/show';
import { daysBefore } from '../text/calendar';
import { firstWhere } from '../text/lists';
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
  /** Those that are no longer fresh, and those that are older than by-products should be. */
  readonly all: readonly Guess[];
  readonly old: readonly Guess[];
  readonly oldest: Guess | undefined;
  readonly grams: Inexact;
  readonly oldGrams: Inexact;
  /** On hand on the day, and what left in the days before it: what the account speaks of. */
  readonly heldGrams: number;
  readonly tooLarge: boolean;
  readonly tooLong: boolean;
}

/** At the end of a day; none where what rests on guesses is little and not old. */
export const guessesOn = (accounts: Accounts, metal: string, date = accounts.lastDate): Guesses | undefined => {
  const { ofHoldings, ofCupels, sumOfLots, sumOfCupels } = guessing(metal);
  const holdings = accounts.stock(date);
  const lots = ofHoldings(holdings);
  const onHand = accounts.allCupels().filter((cupel) => isOnHand(cupel, date));
  const cupels = ofCupels(onHand);
  const olderThan = (days: number) => {
    const before = daysBefore(date, days);
    const [oldLots, oldCupels] = [until(lots, before), until(cupels, before)];
    const oldest = [oldLots[0], oldCupels[0]].reduce((so, one) => (so && !(one && one.since < so.since) ? so : one));
    return { all: [...oldLots, ...oldCupels], oldest, grams: plus(sumOfLots(oldLots), sumOfCupels(oldCupels)) };
  };
  const { all, grams } = olderThan(FRESH_DAYS);
  const { all: old, oldest, grams: oldGrams } = olderThan(TOO_LONG_DAYS);
  if (all.length === 0) return undefined;
  const held = totalOf(holdings, metal).grams.value + heldInCupels(onHand, metal).value;
  const heldGrams = held + leftBefore(accounts, metal, date);
  const tooLarge = grams.value > TOO_LARGE * heldGrams;
  const tooLong = oldGrams.value > LEAST_FOR_LONG * heldGrams;
  return tooLarge || tooLong ? { metal, all, old, oldest, grams, oldGrams, heldGrams, tooLarge, tooLong } : undefined;
};

/** In the order of their days, as lots and cupels stand; how old one without a day is nobody knows. */
const until = (guesses: readonly Guess[], before: string): readonly Guess[] =>
  guesses.slice(
    firstWhere(guesses, ({ since }) => since !== ''),
    firstWhere(guesses, ({ since }) => since >= before),
  );

/** What is guessed of one metal. Holdings and cupels are the same objects from day to day: their guesses too, and what they come to is kept. */
const guessingOf = (metal: string) => {
  const guessOf = (fine: readonly Fine[], one: Omit<Guess, 'grams'>): readonly Guess[] => {
    const grams = guessedOf(fine, metal);
    return grams ? [{ ...one, grams }] : [];
  };
  const sums = () => {
    const sumUp = blockwise<Guess>(sinceOf, [({ grams }) => grams]);
    return (guesses: readonly Guess[]): Inexact => sumUp(guesses)[0]!.grams;
  };
  return {
    ofHoldings: inRuns<Holding, Guess>(sinceOf, ({ lot, segment, since, fine }) => {
      const kind = segment.start.flow?.kind ?? segment.story.make?.kind;
      return BY_PRODUCTS.has(kind ?? '') ? guessOf(fine, { name: lot, since, place: segment.start.place }) : [];
    }),
    ofCupels: inRuns<UsedCupel, Guess>(
      ({ entry }) => entry.date ?? '',
      ({ name, entry, place, fine }) => guessOf(fine, { name, since: entry.date ?? '', place }),
    ),
    sumOfLots: sums(),
    sumOfCupels: sums(),
  };
};

const sinceOf = ({ since }: { readonly since: string }): string => since;

const inRuns = <Item extends object, Made>(dateOf: (item: Item) => string, of: (item: Item) => readonly Made[]) => {
  const madeOf = runwise(dateOf, (run: readonly Item[]) => run.flatMap(of));
  return (items: readonly Item[]): readonly Made[] => ([] as readonly Made[]).concat(...madeOf(items));
};

const made = new Map<string, ReturnType<typeof guessingOf>>();

const guessing = (metal: string): ReturnType<typeof guessingOf> => {
  const known = made.get(metal) ?? guessingOf(metal);
  made.set(metal, known);
  return known;
};

const guessedOf = (fine: readonly Fine[], metal: string): Inexact | undefined => {
  const one = fine.find((each) => each.metal === metal);
  return one && isGuessed(one) && (one.grams?.value ?? 0) > 0 ? one.grams : undefined;
};

const leftBefore = (accounts: Accounts, metal: string, date: string): number => {
  let left = 0;
  for (const { grams } of accounts.delivered(metal, daysBefore(date, TOO_LONG_DAYS), date)) left += grams?.value ?? 0;
  return left;
};

/** Those that a finding speaks of, beginning with the one of most metal. */
export const toldOf = ({ all, old, tooLarge }: Guesses): readonly Guess[] =>
  [...(tooLarge ? all : old)].sort((a, b) => b.grams.value - a.grams.value);

const mostOf = (guesses: readonly Guess[]): Guess =>
  guesses.reduce((most, one) => (one.grams.value > most.grams.value ? one : most));

const mostInRuns = runwise(sinceOf, mostOf);

/** `~2.3 g ±0.5 of gold in 3 by-products is a guess, 7 % of the 33 g held in 90 days; …` */
export const guessesSay = (guesses: Guesses): string => {
  const { metal, all, old, oldest, grams, oldGrams, heldGrams, tooLarge, tooLong } = guesses;
  const told = tooLarge ? all : old;
  const size = showQuantity(asMeasured(tooLarge ? grams : oldGrams, true), 'g');
  const where = told.length === 1 ? told[0]!.name : `${told.length} by-products`;
  const share = (100 * grams.value) / heldGrams;
  const ofAll = `${showDigits(decimal(share), 2)} % of the ${showDigits(decimal(heldGrams), 3)} g held in ${TOO_LONG_DAYS} days`;
  const since = `${told.length === 1 ? '' : `${oldest?.name} `}since ${oldest?.since}`;
  const facts = [...(tooLarge ? [ofAll] : []), ...(tooLong ? [since] : [])].join(', ');
  return `${size} of ${metalWords(metal)} in ${where} is a guess, ${facts}. Sample and assay ${told.length === 1 ? 'it' : `${mostOf(mostInRuns(told)).name} first`}, or work it.`;
};

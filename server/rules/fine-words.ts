/** Words for what rules about fine metal say alike. */
import { isTold, type MetalBalance, type Shortfall } from '../engine/accounts/balance';
import { type Inexact, minus, plus, spread } from '../engine/accounts/inexact';
import type { Entry } from '../engine/entry';
import { showMass, showQuantity } from '../quantity/show';
import { asMeasured } from '../reports/fine';
import { stepWords } from '../reports/words';
import type { MetalSubject, Related } from './rule';
import { isFirstPart, isInDoubt, isUnread } from './steps';

/** `0.96 g`: cut to what it means, without its sign. */
export const gramsWords = (of: Inexact): string => showMass(asMeasured({ ...of, value: Math.abs(of.value) }));

/** `90.0 g ±0.1`. */
export const spreadGrams = (of: Inexact): string => showQuantity(asMeasured(of), 'g');

/** The assays that a balance rests on, each once. */
export const assaysBehind = ({ by }: MetalBalance): readonly Related[] => assayPlaces(by);

export const assayPlaces = (by: readonly Entry[]): readonly Related[] =>
  by
    .filter(({ verb }) => verb === 'assay')
    .map((entry) => ({
      place: entry.name?.place ?? entry.head,
      says: `${stepWords(entry)}${byMethod(entry)} stands here`,
    }));

/** More fine metal charged than came out in all, of a step that can be judged. */
export const shortfallIn = (subject: MetalSubject): Shortfall | undefined => {
  const { account, accounts } = subject;
  return isJudged(subject) ? accounts.shortfall(account.step!) : undefined;
};

export const byMethod = ({ method, party }: Entry): string =>
  `${method ? ` by ${method.name}` : ''}${party ? ` at ${party.name}` : ''}`;

/**
 * Balances of metal that say something: on no guess, of a step that is read and whose weights are not in doubt already, and whose product was
 * assayed itself, so that one disagreement is not told again at every step of a chain.
 */
export const tellingBalances = (subject: MetalSubject): readonly MetalBalance[] => {
  const { account, accounts } = subject;
  if (!isJudged(subject)) return [];
  const step = account.step!;
  const assayedHere = step.outputs.some(({ flow }) => {
    const segment = accounts.metals.lineage.segment(flow);
    return segment !== undefined && accounts.metals.own(segment).size > 0;
  });
  if (!assayedHere) return [];
  return accounts.balances(step).filter(isTold);
};

/** Gold for silver: as much of one is missing as there is too much of the other. */
export interface Exchange {
  readonly missing: MetalBalance;
  readonly gained: MetalBalance;
  /** The shares after are those before with their metals exchanged, as when two columns of an assay are. */
  readonly swapped: boolean;
}

/** One cause, so one finding: two balances that fail, and their sum does not. `coverage` is k. */
export const exchangeIn = (balances: readonly MetalBalance[], coverage: number): Exchange | undefined => {
  const both = balances.filter(({ metal }) => metal === 'Au' || metal === 'Ag');
  const missing = both.find(({ verdict }) => verdict === 'missing');
  const gained = both.find(({ verdict }) => verdict === 'gained');
  if (!missing || !gained) return undefined;
  const closes = (a: Inexact, b: Inexact): boolean => {
    const apart = minus(a, b);
    const u = Math.hypot(spread(apart), spread(missing.unaccounted), spread(gained.unaccounted));
    return Math.abs(apart.value) <= coverage * u;
  };
  const sum = plus(missing.unaccounted, gained.unaccounted);
  if (Math.abs(sum.value) > coverage * spread(sum)) return undefined;
  return { missing, gained, swapped: closes(missing.in, gained.out) && closes(gained.in, missing.out) };
};

/** Read, told once for all its parts, and with no weight in doubt or missing already. */
const isJudged = ({ account, look }: MetalSubject): boolean => {
  const { step, entry } = account;
  if (!step || entry.verb === 'sample' || !isFirstPart(account) || isUnread(account) || isInDoubt(account, look))
    return false;
  return step.verdict !== 'gain' && step.verdict !== 'high';
};

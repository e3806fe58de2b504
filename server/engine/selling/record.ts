/** A buyer over time: own weights and assays against theirs, days, and what they pay in the end of what the metal was worth. */
import { studentQuantile } from '../statistics/distributions';
import { mean, median, standardDeviation } from '../statistics/robust';

/** One sale to them. Whatever is not known of it is left out. */
export interface Dealing {
  readonly name: string;
  readonly date: string;
  /** Ours less theirs, grams. */
  readonly weightGrams: number | undefined;
  /** Ours less theirs, mass fraction of gold. */
  readonly goldShare: number | undefined;
  /** From the shipment to the money; none while it has not come. */
  readonly days: number | undefined;
  readonly agreedDays: number | undefined;
  /** Money of the sale, and what our own gold and silver were worth that day at the full price. */
  readonly paid: number;
  /** The day on which the money came; none while no payment is written. */
  readonly paidOn: string | undefined;
  readonly full: number | undefined;
  /** What the settlement still owes by the journal; none of a sale of hand. */
  readonly owed: number | undefined;
}

export interface Mean {
  readonly value: number;
  /** Standard error of the mean; none of fewer than two. */
  readonly u: number | undefined;
  readonly count: number;
}

export interface PartyRecord {
  readonly dealings: readonly Dealing[];
  readonly weightGrams: Mean | undefined;
  readonly goldShare: Mean | undefined;
  readonly days: number | undefined;
  readonly late: number;
  /** Of all that is known of: paid over full worth, 0 to 1. */
  readonly share: number | undefined;
  readonly owed: number;
  /** Settled, and no payment is written. */
  readonly awaited: { readonly names: readonly string[]; readonly money: number };
}

const meanOf = (values: readonly (number | undefined)[]): Mean | undefined => {
  const known = values.filter((value) => value !== undefined);
  if (known.length === 0) return undefined;
  const u = known.length < 2 ? undefined : standardDeviation(known) / Math.sqrt(known.length);
  return { value: mean(known), u, count: known.length };
};

export const recordOf = (dealings: readonly Dealing[]): PartyRecord => {
  const days = dealings.flatMap((one) => one.days ?? []);
  const valued = dealings.filter(({ full }) => full !== undefined && full > 0);
  const awaited = dealings.filter(({ paidOn }) => paidOn === undefined);
  const total = (pick: (one: Dealing) => number): number => valued.reduce((sum, one) => sum + pick(one), 0);
  return {
    dealings,
    weightGrams: meanOf(dealings.map((one) => one.weightGrams)),
    goldShare: meanOf(dealings.map((one) => one.goldShare)),
    days: days.length > 0 ? median(days) : undefined,
    late: dealings.filter(
      ({ days: taken, agreedDays }) => taken !== undefined && agreedDays !== undefined && taken > agreedDays,
    ).length,
    share: valued.length > 0 ? total(({ paid }) => paid) / total(({ full }) => full!) : undefined,
    owed: dealings.reduce((sum, { owed }) => sum + (owed ?? 0), 0),
    awaited: {
      names: awaited.map(({ name }) => name),
      money: awaited.reduce((sum, { paid }) => sum + paid, 0),
    },
  };
};

/** A mean lies so far off that chance makes it one time in twenty (Student). */
const TELLING = 0.975;
/** From fewer than this nothing is read. */
const FEWEST = 3;

/** Whether a mean difference is more than chance makes. */
export const isBiased = (of: Mean | undefined): boolean =>
  of?.u !== undefined && of.count >= FEWEST && Math.abs(of.value) > studentQuantile(TELLING, of.count - 1) * of.u;

/** Results of our own and of another on one lot, from the assays and settlements of the record. */
import { assayed } from '../accounts/assays';
import type { Inexact } from '../accounts/inexact';
import { spread } from '../accounts/inexact';
import type { Metals } from '../accounts/metals';
import { segmentsOf } from '../accounts/segments';
import type { Book } from '../book';
import type { Entry } from '../entry';
import type { Workshop } from '../workshop';
import type { Pair } from './bias';

/** Who and how: our own `xrf` against `harbour-lab, fire`. */
export interface Comparison {
  readonly metal: string;
  readonly own: string;
  readonly other: string;
  /** Who that is. */
  readonly party: string;
  readonly pairs: readonly Pair[];
}

/** The result of whoever a lot was shipped to. */
export interface Settled {
  readonly entry: Entry;
  readonly by: string;
}

interface Result {
  readonly who: string | undefined;
  readonly how: string;
  readonly entry: Entry;
  readonly share: Inexact;
}

/**
 * By metal, our method and the other party: for each piece of metal as long as nothing is done to it, each result of ours with each of theirs.
 * The result that a settlement writes counts as the assay of whoever settles.
 */
export const comparisons = (
  book: Pick<Book, 'lot' | 'lotNames'>,
  metals: Metals,
  workshop: Workshop,
  settled: ReadonlyMap<string, readonly Settled[]>,
  order: readonly string[],
): readonly Comparison[] => {
  const byKey = new Map<string, { metal: string; own: string; other: string; party: string; pairs: Pair[] }>();
  for (const lot of book.lotNames()) {
    for (const segment of segmentsOf(book.lot(lot)!).all) {
      const entries = metals.assays(segment);
      const last = segment.events.some(({ kind }) => kind === 'shipped');
      const theirs = last ? (settled.get(lot) ?? []) : [];
      for (const metal of order) {
        const results = [
          ...entries.flatMap((entry) => resultOf(entry, metal, foreign(entry, workshop))),
          ...theirs.flatMap(({ entry, by }) => resultOf(entry, metal, by)),
        ];
        for (const own of results.filter(({ who }) => who === undefined)) {
          for (const other of results.filter(({ who }) => who !== undefined)) {
            const party = other.who!;
            const whom = `${party}, ${other.how}`;
            const key = JSON.stringify([metal, own.how, party, other.how]);
            const known = byKey.get(key) ?? { metal, own: own.how, other: whom, party, pairs: [] };
            byKey.set(key, known);
            known.pairs.push({ lot, date: other.entry.date ?? '', own: own.share, other: other.share });
          }
        }
      }
    }
  }
  return [...byKey.values()].map((one) => ({ ...one, pairs: one.pairs.sort((a, b) => compareText(a.date, b.date)) }));
};

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Another than the shop who assayed. */
const foreign = ({ party }: Entry, { parties }: Workshop): string | undefined =>
  party && parties.get(party.name)?.role !== 'own' ? party.name : undefined;

/** A result that says `none`, or bounds alone, is no figure to compare. */
const resultOf = (entry: Entry, metal: string, who: string | undefined): Result[] => {
  const share = assayed(entry).get(metal)?.share;
  if (!share || spread(share) === 0) return [];
  return [{ who, how: entry.verb === 'settle' ? 'settled' : (entry.method?.name ?? 'assay'), entry, share }];
};

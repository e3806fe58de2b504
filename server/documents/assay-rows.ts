/** Assays as rows: whose, by what method, what was found, and how surely. */
import { assayed } from '../engine/accounts/assays';
import type { Known } from '../engine/accounts/known';
import type { Entry, Reading } from '../engine/entry';
import { percent, typed, withoutGround } from './cells';
import { type Cell, type Column, NOTHING, type Row, words } from './model';

/** `own`, `harbour-lab`, `north-lab, umpire`. */
export const whoseAssay = ({ party, said }: Entry): string =>
  [
    party?.name ?? 'own',
    said.umpire && 'umpire',
    said.corrected && 'corrected',
    said.corrected === false && 'uncorrected',
  ]
    .filter(Boolean)
    .join(', ');

/** `fire`, or what else it was done by. */
export const methodOf = ({ method }: Entry): string => method?.name ?? '';

/** `Au 91.6 %, Ag 7.9 %`: one determination as it was written. */
export const readingWords = ({ metals }: Reading): string =>
  metals.map(({ symbol, amount }) => `${symbol.name} ${typed(amount)}`).join(', ');

/** What was weighed for it: `took 0.2503 g, bead 0.2404 g`. */
const benchWords = ({ others }: Entry): string =>
  others
    .filter(({ word, amounts }) => BENCH.has(word) && amounts.length > 0)
    .map(({ word, amounts }) => `${word} ${amounts.map(typed).join(' ')}`)
    .join(', ');

const BENCH: ReadonlySet<string> = new Set(['took', 'bead', 'cornet', 'air', 'water', 'before', 'after']);

/** A share, or the bounds of it. */
export const shareCell = ({ share, low, high, ground }: Known): Cell => {
  if (share) return percent(share, ground);
  const of = (value: number): string => `${Number((100 * value).toFixed(1))}`;
  return { text: `${of(low)}..${of(Math.min(1, high))} %`, ground };
};

export const ASSAY_COLUMNS: readonly Column[] = [
  { head: 'day' },
  { head: 'of' },
  { head: 'by' },
  { head: 'whose' },
  { head: 'as written' },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'proof' },
];

export const assayRow = (entry: Entry): Row => {
  const known = assayed(entry);
  const of = (metal: string): Cell => {
    const one = known.get(metal);
    return one ? shareCell(one) : NOTHING;
  };
  const written = [...entry.readings.map(({ reading }) => readingWords(reading)), benchWords(entry)].filter(Boolean);
  return {
    cells: [
      words(entry.date),
      words(entry.name?.name),
      words(methodOf(entry)),
      words(whoseAssay(entry)),
      words(written.join('; ')),
      withoutGround(of('Au')),
      withoutGround(of('Ag')),
      words([...(entry.said.papers ?? []), ...(entry.said.photos ?? [])].map(({ name }) => name).join(', ')),
    ],
    place: entry.head,
  };
};

/** One sample assayed by many hands, as a class does: each hand's mean against the median of all, and against what came with the lot, such as a certificate. */
import { assayed } from '../engine/accounts/assays';
import type { Entry } from '../engine/entry';
import { mean, median, modifiedScores, scaledMedianDeviation } from '../engine/statistics/robust';
import { decimal } from '../quantity/decimal';
import { element } from '../vocabulary/elements';
import { count, plainFigure } from './cells';
import {
  type Cell,
  type Column,
  NOTHING,
  type Row,
  type Section,
  says,
  section,
  sentences,
  table,
  words,
} from './model';

/** Fewer hands are no class: the assays stand against each other as they are. */
const LEAST_HANDS = 4;
/** Iglewicz and Hoaglin's limit, from memory. */
const FAR = 3.5;

const COLUMNS: readonly Column[] = [
  { head: 'hand' },
  { head: 'metal' },
  { head: 'assays', right: true },
  { head: 'found', right: true },
  { head: 'from the median of all', right: true },
  { head: 'score', right: true },
  { head: 'from the claim', right: true },
];

interface Hand {
  readonly name: string;
  readonly share: number;
  readonly entries: readonly Entry[];
}

/** `claimed` has what came with the lot, in shares by metal. */
export const handsSection = (
  lot: string,
  assays: readonly Entry[],
  claimed: ReadonlyMap<string, number>,
): readonly Section[] => {
  const metals = [...new Set(assays.flatMap((entry) => [...assayed(entry).keys()]))].filter((metal) => element(metal));
  const told = metals.flatMap((metal) => {
    const hands = handsOf(assays, metal);
    return hands.length < LEAST_HANDS ? [] : [{ metal, hands }];
  });
  if (told.length === 0) return [];
  return section(
    `${lot}, by hand`,
    table(
      COLUMNS,
      told.flatMap(({ metal, hands }) => rowsOf(metal, hands, claimed.get(metal))),
    ),
    sentences([
      says(
        `Score: 0.6745 (found − median) / median deviation; beyond ${FAR} look for the cause (Iglewicz and Hoaglin, from memory).`,
      ),
    ]),
  );
};

/** Each hand's own assays; those of other parties and those that nobody signed are left out. */
const handsOf = (assays: readonly Entry[], metal: string): readonly Hand[] => {
  const hands = new Map<string, { shares: number[]; entries: Entry[] }>();
  for (const entry of assays) {
    const share = assayed(entry).get(metal)?.share?.value;
    const name = entry.said.hand?.name;
    if (share === undefined || name === undefined || entry.party) continue;
    const own = hands.get(name) ?? { shares: [], entries: [] };
    hands.set(name, own);
    own.shares.push(share);
    own.entries.push(entry);
  }
  return [...hands].map(([name, { shares, entries }]) => ({ name, share: mean(shares), entries }));
};

const rowsOf = (metal: string, hands: readonly Hand[], claimed: number | undefined): readonly Row[] => {
  const shares = hands.map(({ share }) => share);
  const centre = median(shares);
  // Where more than half agree to the digit there is no spread to hold the others against.
  const scores = scaledMedianDeviation(shares) > 0 ? modifiedScores(shares) : undefined;
  return [
    ...hands.map(({ name, share, entries }, at): Row => {
      const score = scores?.[at];
      const far = score !== undefined && Math.abs(score) > FAR;
      return {
        cells: [
          words(name),
          words(metal),
          count(entries.length),
          percentCell(share),
          points(share - centre),
          score === undefined ? NOTHING : { ...plainFigure(score, '', 2), ...(far ? { ground: 'far off' } : {}) },
          claimed === undefined ? NOTHING : points(share - claimed),
        ],
        place: entries[0]!.head,
      };
    }),
    {
      cells: [
        words(`all ${hands.length}`),
        words(metal),
        count(hands.reduce((so, { entries }) => so + entries.length, 0)),
        percentCell(centre),
        NOTHING,
        NOTHING,
        claimed === undefined ? NOTHING : points(centre - claimed),
      ],
      total: true,
    },
  ];
};

const percentCell = (share: number): Cell => plainFigure(100 * share, '%', 4);

const points = (share: number): Cell => ({
  text: `${share > 0 ? '+' : ''}${decimal(100 * share).toFixed(2)} points`,
  figure: { value: decimal(100 * share).toFixed(4), unit: '%' },
});

/** Base metal of a lot: what gold and silver leave, or what an assay names. */
import { type Assumption, assume, type Estimate, exactly, FROM_MEMORY, less, sumOf } from '../engine/bench/result';
import type { Contents } from './job';

export interface Base {
  /** Without lead and the platinum metals, g; undefined where nothing tells. */
  readonly grams: Estimate | undefined;
  /** `rest`: what gold and silver leave. `named`: the sum of the base metals that are known, perhaps not of all. */
  readonly by: 'rest' | 'named' | undefined;
  /** Of it the metals that something names, g. */
  readonly named: Estimate;
  /** Of it what is known only as what gold and silver leave: lead, copper, iron, tin or any other, g. */
  readonly unknown: Estimate;
  readonly lead: Estimate;
  readonly platinum: Estimate;
}

const NOTHING = exactly(0);
/** Base metal that gold and silver leave below this share of a lot is none that anyone need name. */
const WITHIN = 0.005;
const PLATINUM: readonly string[] = ['Pt', 'Pd', 'Rh', 'Ir', 'Ru', 'Os'];
const NOBLE: ReadonlySet<string> = new Set(['Au', 'Ag', ...PLATINUM]);

export const baseOf = ({ grams, metals, precious }: Contents): Base => {
  const lead = metals.get('Pb') ?? NOTHING;
  const platinum = sumOf(PLATINUM.flatMap((symbol) => metals.get(symbol) ?? []));
  const others = [...metals].filter(([symbol]) => symbol !== 'Pb' && !NOBLE.has(symbol)).map(([, metal]) => metal);
  const named = sumOf(others);
  if (precious) {
    const rest = less(less(less(grams, precious), lead), platinum);
    const all = atLeast(rest, Math.min(named.low, rest.high));
    const unknown = less(all, named);
    // So little is the error of the assays.
    const split = unknown.best > WITHIN * grams.best ? { named, unknown } : { named: all, unknown: NOTHING };
    return { grams: all, by: 'rest', ...split, lead, platinum };
  }
  const none = { named, unknown: NOTHING, lead, platinum };
  if (others.length === 0) return { grams: undefined, by: undefined, ...none };
  return { grams: named, by: 'named', ...none };
};

/** What an acid takes for a gram of lead, copper and iron, as copper: by their electrons and atomic weights, 2/207.2, 2/63.55 and 3/55.85. */
const ACID_AS_COPPER: Estimate = { low: 0.31, best: 1, high: 1.71 };

/** Base metal as the copper that takes as much acid, g: what nobody named may be anything from lead to iron. */
export const copperForAcid = ({ named, unknown }: Base): Estimate =>
  sumOf([
    named,
    {
      low: ACID_AS_COPPER.low * unknown.low,
      best: ACID_AS_COPPER.best * unknown.best,
      high: ACID_AS_COPPER.high * unknown.high,
    },
  ]);

/** What base metal is taken for in acid. */
export const acidGround = ({ named, unknown }: Base): readonly Assumption[] => [
  ...(unknown.high > 0
    ? [
        assume(
          'base metal is what gold and silver leave, and which metal it is nobody said: as copper at best, as lead at the least, as iron at the most',
          FROM_MEMORY,
        ),
      ]
    : []),
  ...(named.high > 0 ? [assume('base metal that is named counts as copper', FROM_MEMORY)] : []),
];

const atLeast = ({ low, best, high }: Estimate, least: number): Estimate => ({
  low: Math.max(low, least),
  best: Math.max(best, least),
  high,
});

/** Metals that are neither gold nor silver nor of the platinum group nor lead. */
export const isBase = (symbol: string): boolean => symbol !== 'Pb' && !NOBLE.has(symbol);

/** Base metal of a lot: what gold and silver leave, or what an assay names. */
import { type Estimate, exactly, less, sumOf } from '../engine/bench/result';
import type { Contents } from './job';

export interface Base {
  /** Without lead and the platinum metals, g; undefined where nothing tells. */
  readonly grams: Estimate | undefined;
  /** `rest`: what gold and silver leave. `named`: the sum of the base metals that are known, perhaps not of all. */
  readonly by: 'rest' | 'named' | undefined;
  readonly lead: Estimate;
  readonly platinum: Estimate;
}

const NOTHING = exactly(0);
const PLATINUM: readonly string[] = ['Pt', 'Pd', 'Rh', 'Ir', 'Ru', 'Os'];
const NOBLE: ReadonlySet<string> = new Set(['Au', 'Ag', ...PLATINUM]);

export const baseOf = ({ grams, metals, precious }: Contents): Base => {
  const lead = metals.get('Pb') ?? NOTHING;
  const platinum = sumOf(PLATINUM.flatMap((symbol) => metals.get(symbol) ?? []));
  const others = [...metals].filter(([symbol]) => symbol !== 'Pb' && !NOBLE.has(symbol)).map(([, metal]) => metal);
  const named = sumOf(others);
  if (precious) {
    const rest = less(less(less(grams, precious), lead), platinum);
    return { grams: atLeast(rest, Math.min(named.low, rest.high)), by: 'rest', lead, platinum };
  }
  if (others.length === 0) return { grams: undefined, by: undefined, lead, platinum };
  return { grams: named, by: 'named', lead, platinum };
};

const atLeast = ({ low, best, high }: Estimate, least: number): Estimate => ({
  low: Math.max(low, least),
  best: Math.max(best, least),
  high,
});

/** Metals that are neither gold nor silver nor of the platinum group nor lead. */
export const isBase = (symbol: string): boolean => symbol !== 'Pb' && !NOBLE.has(symbol);

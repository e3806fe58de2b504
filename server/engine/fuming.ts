/** Metals of a lot that leave a melt as fume, by what is said of it: zinc of brass and solder, cadmium, mercury. */
import type { GivenOff } from '../vocabulary/materials';
import { shareOf } from './accounts/assays';
import type { LotStory } from './book';
import type { Entry } from './entry';

/** Of a gram in an alloy so much may leave: zinc and cadmium partly, by heat and cover; mercury all. From memory. */
const LEAVES: ReadonlyMap<string, number> = new Map([
  ['Zn', 0.25],
  ['Cd', 0.25],
  ['Hg', 1],
]);

const kept = new WeakMap<LotStory, readonly GivenOff[]>();

/** Per gram of the lot, from none to the most, by the highest share that a claim, an expectation or an assay on it says. */
export const fumingOf = (story: LotStory): readonly GivenOff[] => {
  const known = kept.get(story);
  if (known) return known;
  const shares = new Map<string, number>();
  for (const entry of new Set(story.events.map((event) => event.entry)))
    if (TELLS.has(entry.verb))
      for (const [symbol, share] of saidIn(entry)) shares.set(symbol, Math.max(share, shares.get(symbol) ?? 0));
  const made = [...shares].map(([what, share]): GivenOff => {
    const high = Math.min(1, share) * LEAVES.get(what)!;
    return { what, when: 'fume', fraction: 0, low: 0, high };
  });
  kept.set(story, made);
  return made;
};

const TELLS: ReadonlySet<string> = new Set(['receive', 'assay']);

const saidIn = ({ readings, others, prefix, broken }: Entry): readonly (readonly [string, number])[] => {
  if (prefix || broken) return [];
  const all = [...readings.map(({ reading }) => reading), ...others.flatMap(({ reading }) => reading ?? [])];
  return all.flatMap(({ metals }) =>
    metals.flatMap(({ symbol, amount }): [string, number][] => {
      const share = LEAVES.has(symbol.name) ? shareOf(amount)[0]?.value : undefined;
      return share === undefined ? [] : [[symbol.name, share]];
    }),
  );
};

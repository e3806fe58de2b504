/** From which lots that came in the metal of a lot is: each metal in the parts in which they brought it, through all that was made of them. */
import { memo } from '../../engine/accounts/memo';
import type { Segment } from '../../engine/accounts/segments';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';

/** Lots as they came in, each with its part; what is left to 1 was added from the shelf. */
export type Origins = ReadonlyMap<Segment, number>;

type Of = (segment: Segment, metal: string) => Origins | undefined;

const kept = memo<Workspace, Of>();

/** Undefined where it cannot be told: metal from nowhere, or several charges of which one is not known. */
export const originsOf = (workspace: Workspace, segment: Segment, metal: string): Origins | undefined => {
  const known = kept.get(workspace);
  if (known) return known(segment, metal);
  const made = originsIn(workspace);
  kept.set(workspace, made);
  return made(segment, metal);
};

const originsIn = (workspace: Workspace): Of => {
  const { metals } = accountsOf(workspace);
  const { lineage } = metals;
  const byMetal = new Map<string, Map<Segment, Origins | undefined>>();

  const origins: Of = (of, metal) => {
    const found = byMetal.get(metal) ?? new Map<Segment, Origins | undefined>();
    byMetal.set(metal, found);
    if (found.has(of)) return found.get(of);
    // What asks in a circle, which only a wrong record has, is told nothing.
    found.set(of, undefined);
    const made = work(of, metal);
    found.set(of, made);
    return made;
  };

  const work: Of = (of, metal) => {
    if (of.start.kind === 'received') return new Map([[of, 1]]);
    const { was, passage } = lineage.origin(of);
    if (was) return origins(was, metal);
    const parts = (passage?.inputs ?? []).map(({ flow, amount }) => ({ segment: lineage.segment(flow), amount }));
    const [only] = parts;
    const shelf = Math.max(0, passage?.added.get(metal)?.value ?? 0);
    if (parts.length === 1 && only?.segment && shelf === 0) return origins(only.segment, metal);
    const sizes = new Map<Segment, number>();
    let whole = shelf;
    for (const { segment, amount } of parts) {
      const size = segment && amount && sizeOf(segment, metal, amount.value);
      if (size === undefined) return undefined;
      if (size === 0) continue;
      const from = origins(segment!, metal);
      if (!from) return undefined;
      for (const [came, share] of from) sizes.set(came, (sizes.get(came) ?? 0) + share * size);
      whole += size;
    }
    return whole > 0 ? new Map([...sizes].map(([came, size]) => [came, size / whole])) : undefined;
  };

  /** Fine grams; none of a metal where only others are known; undefined where nothing is known. */
  const sizeOf = (segment: Segment, metal: string, amount: number): number | undefined => {
    const known = metals.best(segment);
    const one = known.get(metal);
    if (one?.share) return Math.max(0, amount * one.share.value);
    return one || known.size === 0 ? undefined : 0;
  };
  return origins;
};

/**
 * What of each metal is not in a step's main product, by its usual share: a figure with an uncertainty, as if it had been read. It goes with
 * the step's loss, or into the one by-product that is worked on.
 */
import type { Step } from '../book';
import type { Reading } from '../reconcile/system';
import type { Compositions } from './compositions';
import { charged, contents, held, type Knows } from './contents';
import { DIVIDES, type Group } from './destiny';
import type { History } from './history';
import { type Inexact, over } from './inexact';
import type { Metals } from './metals';
import type { Passage, Passing } from './passage';
import type { Streams } from './stream';

export interface MetalLosses {
  /** Grams of each metal in the step's own loss; unmeasured where practice tells nothing. */
  readonly of: (step: Step) => readonly Reading[];
  /** The same in by-products that are worked on, by their stream. */
  readonly carried: ReadonlyMap<number, readonly (Reading | undefined)[]>;
}

export const metalLosses = (
  { steps }: History,
  metals: Metals,
  laid: Streams,
  symbols: readonly string[],
  compositions: Compositions,
  isUnusual: (step: Step) => boolean,
): MetalLosses => {
  const streamOf = new Map(laid.all.map((stream, at) => [stream, at]));
  const counts = new Map<number, number>();
  const worked = new Set<number>();
  for (const [at, { to }] of laid.all.entries()) {
    const composition = compositions.of[at]!;
    counts.set(composition, (counts.get(composition) ?? 0) + 1);
    if (to?.step) worked.add(composition);
  }
  const at = ({ flow }: Passing): number => streamOf.get(laid.ofFlow(flow)!) ?? -1;
  const isOpen = (stream: number, metal: number): boolean =>
    stream >= 0 && compositions.readings[compositions.of[stream]!]![metal]!.value === undefined;
  const carried = new Map<number, (Reading | undefined)[]>();
  const told = new Map<Step, Reading[]>();
  for (const step of steps) {
    const passage = metals.lineage.passage(step);
    told.set(
      step,
      symbols.map((symbol, metal) => {
        // How a division went is not known before both sides are assayed.
        const isDivided = DIVIDES.has(step.entry.verb) && passage.outputs.map(at).some((one) => isOpen(one, metal));
        const usual = isUnusual(step) || isDivided ? undefined : usualLoss(passage, symbol, metals);
        if (!usual) return {};
        const others = passage.outputs.filter(({ group }) => group !== usual.main).map(at);
        const open = others.filter((stream) => isOpen(stream, metal));
        const onward = open.filter((stream) => worked.has(compositions.of[stream]!));
        // What nobody assayed and nobody works on is booked as lost.
        for (const stream of open) {
          if (!onward.includes(stream)) compositions.readings[compositions.of[stream]!]![metal] = { value: 0 };
        }
        if (onward.length === 0) return usual.lost;
        const [only] = onward;
        if (onward.length === 1 && counts.get(compositions.of[only!]!) === 1) {
          const list = carried.get(only!) ?? symbols.map(() => undefined);
          list[metal] = usual.lost;
          carried.set(only!, list);
        }
        return { value: 0 };
      }),
    );
  }
  return { of: (step) => told.get(step) ?? [], carried };
};

interface UsualLoss {
  /** The group that usually holds most of the metal. */
  readonly main: Group;
  readonly lost: Reading;
}

const usualLoss = (passage: Passage, metal: string, metals: Metals): UsualLoss | undefined => {
  for (const main of new Set(passage.outputs.map(({ group }) => group))) {
    const share = held(passage, main, metal);
    if (!share || share.value < 0.5) continue;
    const products = passage.outputs.filter(({ group }) => group === main);
    const grams = chargeOf(passage, metal, metals, products, share);
    if (share.sizes.length === 0 && share.value === 1) return { main, lost: { value: 0 } };
    if (!grams) return undefined;
    const [size] = share.sizes;
    return { main, lost: { value: (1 - share.value) * grams, u: Math.abs(size ?? 0) * grams } };
  }
  return undefined;
};

/** Grams that went in, for the size of what is lost; by what came out where that is not known. */
const chargeOf = (
  passage: Passage,
  metal: string,
  metals: Metals,
  products: readonly Passing[],
  share: Inexact,
): number | undefined => {
  const knows =
    (side: 'before' | 'after'): Knows =>
    ({ flow }) => {
      const segment = metals.lineage.segment(flow);
      return segment ? metals[side](segment) : new Map();
    };
  const went = charged(passage, metal, knows('before')).grams;
  if (went) return Math.max(0, went.value);
  const came = contents(passage, products, metal, knows('after'))?.grams;
  return came && Math.max(0, over(came, share).value);
};

/** Metal that was lent into a step and is to come back: how much of what a lot holds it still is, until what repays it has come out. */
import { addedParts } from '../charge';
import type { Workshop } from '../workshop';
import { certain, type Inexact, inexact, minus, NOTHING, over, sum, times } from './inexact';
import { keepingOf, lazily } from './lazily';
import type { Lineage } from './lineage';
import { gramsIn } from './liquids';
import type { Metals } from './metals';
import type { Passage, Passing } from './passage';
import type { Segment } from './segments';
import { Settled } from './settled';
import type { Fine } from './stock';

/** Of what a lot holds of a metal, 0 to 1; a metal of which nothing is lent is left out. */
export type Lent = ReadonlyMap<string, Inexact>;

export const NOTHING_LENT: Lent = new Map();

/** What is lent for parting. */
const LENT_METALS: readonly string[] = ['Au', 'Ag'];

/**
 * Of what stays of a step, metal that was lent into it is so much until it is repaid: what is lost of it is not the lender's loss. It stands in all
 * that holds the metal, evenly.
 */
export const lentOf = (lineage: Lineage, metals: Metals, workshop: Workshop): ((segment: Segment) => Lent) => {
  const inputsOf = (of: Segment): readonly Segment[] => {
    const { was, passage } = lineage.origin(of);
    return was ? [was] : (passage?.inputs ?? []).flatMap(({ flow }) => lineage.segment(flow) ?? []);
  };
  const gramsOf = (passing: Passing, metal: string): Inexact => gramsIn(passing, metal, metals) ?? NOTHING;
  const addedTo = ({ step }: Passage, metal: string): readonly Inexact[] =>
    addedParts(
      step.added.filter(({ flow }) => flow.said.lent),
      workshop,
    ).flatMap(({ material, item }) =>
      (material?.composition ?? [])
        .filter(({ what }) => what === metal)
        .map(({ fraction }) => inexact(item.massGrams * fraction, (item.u ?? 0) * fraction, { label: 'lent' })),
    );
  const leftOf = (passage: Passage, metal: string, get: (of: Segment) => Lent): Inexact => {
    const brought = passage.inputs.flatMap((input) => {
      const segment = lineage.segment(input.flow);
      const part = input.flow.said.lent ? certain(1) : segment && get(segment).get(metal);
      return part ? [times(gramsOf(input, metal), part)] : [];
    });
    const into = sum([...addedTo(passage, metal), ...brought]);
    if (into.value <= 0) return NOTHING;
    const of = (repays: boolean): Inexact =>
      sum(
        passage.outputs.flatMap((output) =>
          (output.flow.said.repays !== undefined) === repays ? [gramsOf(output, metal)] : [],
        ),
      );
    const [open, held] = [minus(into, of(true)), of(false)];
    if (open.value <= 0 || held.value <= 0) return NOTHING;
    return open.value < held.value ? over(open, held) : certain(1);
  };
  return lazily<Segment, Lent>(keepingOf(), new Settled(), {
    needs: inputsOf,
    rests: () => [],
    work: (of, get) => {
      const { was, passage } = lineage.origin(of);
      if (was) return get(was);
      if (!passage || of.start.flow?.said.repays) return NOTHING_LENT;
      const parts = LENT_METALS.map((metal) => [metal, leftOf(passage, metal, get)] as const);
      const lent = parts.filter(([, part]) => part.value > 0);
      return lent.length > 0 ? new Map(lent) : NOTHING_LENT;
    },
    same: (a, b) => a === b,
    unknown: NOTHING_LENT,
  });
};

/** What is no loan of it. */
export const withoutLent = (fine: readonly Fine[], lent: Lent): readonly Fine[] =>
  fine.map((one) => {
    const part = lent.get(one.metal);
    return part ? partOfFine(one, minus(certain(1), part)) : one;
  });

/** What is. */
export const lentIn = (fine: readonly Fine[], lent: Lent): readonly Fine[] =>
  fine.flatMap((one) => {
    const part = lent.get(one.metal);
    return part ? [partOfFine(one, part)] : [];
  });

export const partOfFine = (one: Fine, part: Inexact): Fine => ({
  ...one,
  grams: one.grams && times(one.grams, part),
  lowGrams: one.lowGrams * part.value,
  highGrams: one.highGrams * part.value,
});

/**
 * Cupels that were used: a stock of silver and a little gold, in lead and copper. What they are reckoned to hold is a guess with its range: the losses of such a
 * cupellation, made narrower where the metal is known on both sides of it.
 */
import type { Measured } from '../../quantity/measured';
import type { Place } from '../../text/place';
import { cupelLosses } from '../bench/cupel-loss';
import type { Entry, Gear, Named } from '../entry';
import { weighAmount } from '../weigh';
import type { Workshop } from '../workshop';
import { between } from './assays';
import { type BlockSum, blockwise } from './blocks';
import { isUsedCupel } from './destiny';
import { asGuess, type Inexact, minus, NOTHING, plus, scaled, spread, times } from './inexact';
import { type Knowledge, type Known, PRECIOUS } from './known';
import type { Metals } from './metals';
import type { Passage, Passing } from './passage';
import { type Fine, fineOf } from './stock';

export interface UsedCupel {
  readonly name: string;
  /** The cupellation, all its parts joined. */
  readonly entry: Entry;
  /** Where the cupel is named. */
  readonly place: Place;
  /** The day from which it is thrown away, or is a lot of its own. */
  readonly gone: { readonly date: string; readonly discarded: boolean } | undefined;
  readonly weight: Measured | undefined;
  readonly at: Named | undefined;
  readonly fine: readonly Fine[];
  /** A product of the same cupellation, whose owner has the cupel's metal too. */
  readonly beside: Passing;
}

/** Of one step. `parts` are its entry and each `more`. Several cupels share what they drank alike. */
export const usedCupelsOf = (
  passage: Passage,
  parts: readonly Entry[],
  metals: Metals,
  workshop: Workshop,
): readonly UsedCupel[] => {
  const { entry } = passage.step;
  const [beside] = passage.outputs;
  if (entry.verb !== 'cupel' || !beside || passage.inputs.length === 0) return [];
  const cupels = entry.gear.filter(({ word }) => word === 'cupel-body');
  const names = [...new Set(cupels.map(({ item }) => item.name))];
  if (names.length === 0) return [];
  const product = passage.outputs.find(({ flow }) => isUsedCupel(flow.kind, entry.verb));
  const worked = product ? workedOut(product, metals) : NONE;
  const whole = keptBy(passage, metals).map((fine) => worked.find(({ metal }) => metal === fine.metal) ?? fine);
  const dateOf = ({ anchor }: Place): string => parts.find((one) => one.anchor === anchor)?.date ?? entry.date ?? '';
  return names.map((name): UsedCupel => {
    const gear = cupels.filter(({ item }) => item.name === name);
    const discarded = gear.find(({ said }) => said.discard)?.item.place;
    const left = [
      ...(discarded ? [{ date: dateOf(discarded), discarded: true }] : []),
      ...(product ? [{ date: dateOf(product.flow.place), discarded: false }] : []),
    ].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
    return {
      name,
      entry,
      place: gear[0]!.item.place,
      gone: left[0],
      weight: weightAfter(gear, workshop),
      at: gear.findLast(({ said }) => said.at)?.said.at,
      fine: whole.map((fine) => partOf(fine, names.length)),
      beside,
    };
  });
};

/** What came of a cupel that was worked later tells what it held from the first. */
const workedOut = ({ flow, amount }: Passing, metals: Metals): readonly Fine[] => {
  const segment = metals.lineage.segment(flow);
  const fine = segment ? fineOf(metals.best(segment), amount) : NONE;
  return fine.filter(({ grams, known }) => grams && known.ground !== 'guessed');
};

const NONE: readonly Fine[] = [];

const weightAfter = (gear: readonly Gear[], workshop: Workshop): Measured | undefined => {
  const last = gear.findLast(({ said }) => said.after);
  return last && weighAmount(last.said.after, { scale: last.said.scale }, workshop, `${last.item.name} after`).mass;
};

/** On hand at the end of a day; without a date at the end of the record. */
export const isOnHand = ({ entry, gone }: UsedCupel, date: string | undefined): boolean =>
  date === undefined ? !gone : (entry.date ?? '') <= date && !(gone && gone.date <= date);

const sums = new Map<string, (cupels: readonly UsedCupel[]) => readonly BlockSum[]>();

/** Of one metal, in cupels in the order of their days. */
export const heldInCupels = (cupels: readonly UsedCupel[], metal: string): Inexact => {
  const gramsOf = ({ fine }: UsedCupel): Inexact | undefined => fine.find((one) => one.metal === metal)?.grams;
  const sumUp = sums.get(metal) ?? blockwise<UsedCupel>(({ entry }) => entry.date ?? '', [gramsOf]);
  sums.set(metal, sumUp);
  return sumUp(cupels)[0]!.grams;
};

const partOf = (fine: Fine, count: number): Fine => ({
  ...fine,
  grams: fine.grams && scaled(fine.grams, 1 / count),
  lowGrams: fine.lowGrams / count,
  highGrams: fine.highGrams / count,
});

/** Gold and silver, or both together where they are not told apart; then the lead and copper that went in. */
const keptBy = (passage: Passage, metals: Metals): readonly Fine[] => {
  const of = (know: Know, passings: readonly Passing[], metal: string): Inexact | undefined => {
    let grams: Inexact = NOTHING;
    for (const { flow, amount } of passings) {
      const segment = metals.lineage.segment(flow);
      const one = segment && know(segment).get(metal);
      if (!amount || !one?.share) return undefined;
      grams = plus(grams, times(amount, one.share));
    }
    return grams;
  };
  const charged = (metal: string, know: Know = metals.best): Inexact | undefined => {
    const lots = of(know, passage.inputs, metal);
    return lots && plus(lots, passage.added.get(metal) ?? NOTHING);
  };
  const [gold, silver, both] = [charged('Au'), charged('Ag'), charged(PRECIOUS)];
  const grams = (one: Inexact | undefined): number => Math.max(0, one?.value ?? 0);
  const apart = gold !== undefined && silver !== undefined;
  const losses = cupelLosses({
    goldGrams: apart ? grams(gold) : grams(both) / 2,
    silverGrams: apart ? grams(silver) : grams(both) / 2,
    leadGrams: (passage.added.get('Pb')?.value ?? 0) + grams(of(metals.best, passage.inputs, 'Pb')),
    copperGrams: grams(charged('Cu')),
  }).value;
  const drunk = [...DRUNK].flatMap(([metal, [low, high]]) => {
    // Of lots of which nobody knows, what they add is left out.
    const known = passage.inputs.filter(({ flow }) => isKnownOf(metals, flow, metal));
    const went = plus(of(metals.best, known, metal) ?? NOTHING, passage.added.get(metal) ?? NOTHING);
    return went.value > 0
      ? [fineIn(metal, { low: low * went.value, high: high * went.value }, passage.step.entry)]
      : [];
  });
  if (!losses) return drunk;
  /** What is known before of the charge, less what is assayed of the bead. */
  const balance = (metal: string): Inexact | undefined => {
    const beads = passage.outputs.filter(({ group }) => group === 'metal');
    const [went, came] = [charged(metal, unguessed(metals.before)), of(unguessed(metals.own), beads, metal)];
    return beads.length > 0 && went && came ? minus(went, came) : undefined;
  };
  const held = (metal: string, went: Inexact, low: number, high: number): Fine =>
    fineIn(metal, narrowed({ low: low * grams(went), high: high * grams(went) }, balance(metal)), passage.step.entry);
  if (apart)
    return [
      held('Au', gold, losses.gold.low, losses.gold.high),
      held('Ag', silver, losses.silver.low, losses.silver.high),
      ...drunk,
    ];
  return both ? [held(PRECIOUS, both, losses.gold.low, losses.silver.high), ...drunk] : drunk;
};

/** Of what is charged of it: up to 15 % of the litharge leaves as fume, from memory; copper stays but for what is left in the bead. */
const DRUNK: ReadonlyMap<string, readonly [low: number, high: number]> = new Map([
  ['Pb', [0.85, 1]],
  ['Cu', [0.99, 1]],
]);

const isKnownOf = ({ lineage, best }: Metals, flow: Passing['flow'], metal: string): boolean => {
  const segment = lineage.segment(flow);
  return segment !== undefined && best(segment).get(metal)?.share !== undefined;
};

type Know = Metals['best'];

const unguessed =
  (know: Know): Know =>
  (segment) =>
    new Map([...know(segment)].filter(([, { ground }]) => ground !== 'guessed')) as Knowledge;

interface Bounds {
  readonly low: number;
  readonly high: number;
}

/** Both must hold. Where they do not meet, metal is missing or gained otherwise, and the cupel is left with what cupels take. */
const narrowed = (usual: Bounds, balance: Inexact | undefined): Bounds => {
  if (!balance) return usual;
  const reach = 2 * spread(balance);
  const low = Math.max(usual.low, balance.value - reach);
  const high = Math.min(usual.high, balance.value + reach);
  return low <= high ? { low, high } : usual;
};

const fineIn = (metal: string, { low, high }: Bounds, entry: Entry): Fine => {
  const known: Known = { share: undefined, low: 0, high: 1, ground: 'guessed', by: [entry] };
  return { metal, grams: asGuess(between(low, high, 'what cupels take')), lowGrams: low, highGrams: high, known };
};

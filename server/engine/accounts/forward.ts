/** What a product holds by what was charged, by what came out beside it, and by what it is. */
import { between } from './assays';
import { charged, contents, held, isAlike, type Knows, kept, metalsOf, peersOf, type Total } from './contents';
import { DIVIDES, natureOf } from './destiny';
import { type Inexact, minus, NOTHING, over, spread, sum, times } from './inexact';
import { completed, type Knowledge, type Known, known, NOTHING_KNOWN, withinBounds } from './known';
import type { Passage, Passing } from './passage';

/**
 * What a product holds by what was charged; by what came out beside it, where the charge is not known. `charge` knows the inputs, `beside`
 * the other products.
 */
export const forward = (passage: Passage, product: Passing, charge: Knows, beside: Knows): Knowledge => {
  const knowledge = new Map<string, Known>();
  const peers = peersOf(passage, product);
  const others = passage.outputs.filter((other) => other !== product);
  for (const metal of new Set([...metalsOf(passage, passage.inputs, charge), ...metalsOf(passage, others, beside)])) {
    const told =
      asTheWhole(passage, metal, charge) ??
      fromPeers(passage, product, peers, metal, beside) ??
      surer(
        byDifference(passage, product, metal, charge, beside),
        fromCharge(passage, product, peers, metal, charge, beside),
        DIVIDES.has(passage.step.entry.verb),
      );
    if (told) knowledge.set(metal, withinBounds(told));
  }
  return completed(knowledge);
};

/** What is left over is what was charged less what is known beside: of little beside much that tells less than what is usual. How a division went is not usual. */
const surer = (left: Known | undefined, usual: Known | undefined, isDivided: boolean): Known | undefined =>
  !isDivided && left?.share && usual?.share && spread(usual.share) < spread(left.share) ? usual : (left ?? usual);

/** Cut from one piece: what is known of it holds for every part, whatever the weights say. */
const asTheWhole = ({ step, inputs }: Passage, metal: string, charge: Knows): Known | undefined => {
  const [only, ...others] = step.entry.verb === 'split' ? inputs : [];
  const one = only && others.length === 0 ? charge(only).get(metal) : undefined;
  return one?.share && one.ground !== 'guessed' ? { ...one, ground: 'carried', by: [step.entry] } : undefined;
};

/** Poured from the same melt, cut from the same piece. */
const fromPeers = (
  passage: Passage,
  product: Passing,
  peers: readonly Passing[],
  metal: string,
  beside: Knows,
): Known | undefined => {
  if (peers.length < 2 || !isAlike(passage, product.group)) return undefined;
  for (const peer of peers) {
    const one = peer === product ? undefined : beside(peer).get(metal);
    if (one?.share && one.ground !== 'guessed') return { ...one, ground: 'carried', by: [passage.step.entry] };
  }
  return undefined;
};

/** Of two sides of a division, what the other one does not hold of the charge; so of metal and solution. */
const byDifference = (
  passage: Passage,
  product: Passing,
  metal: string,
  charge: Knows,
  beside: Knows,
): Known | undefined => {
  const others = passage.outputs.filter((one) => one !== product);
  const { amount } = product;
  if (!PARTS.has(passage.step.entry.verb) || others.length === 0 || !amount || !(amount.value > 0)) return undefined;
  const went = charged(passage, metal, charge);
  const found = contents(passage, others, metal, beside);
  if (!went.grams || went.ground === 'guessed' || !found || found.ground === 'guessed') return undefined;
  const lost = passage.seenLost ? times(went.grams, passage.seenLost) : NOTHING;
  const left = minus(minus(went.grams, lost), found.grams);
  // Less than nothing is nothing: one of the assays is off, and that is told.
  const share = over(left.value < 0 ? { ...left, value: 0 } : left, amount);
  return known(share, 'carried', [passage.step.entry], 0, product.unit === 'gram' ? 1 : Number.POSITIVE_INFINITY);
};

const PARTS: ReadonlySet<string> = new Set([...DIVIDES, 'drop', 'part', 'dissolve']);

const fromCharge = (
  passage: Passage,
  product: Passing,
  peers: readonly Passing[],
  metal: string,
  charge: Knows,
  beside: Knows,
): Known | undefined => {
  const { amount, group } = product;
  const by = [passage.step.entry];
  const whole = peers.length === 1 || isAlike(passage, group) ? total(peers) : undefined;
  const went = charged(passage, metal, charge);
  const found = went.grams && went.ground !== 'guessed' ? went : (fromBeside(passage, product, metal, beside) ?? went);
  const share = kept(passage, group, metal, found.grams?.value);
  const reach = product.unit === 'gram' ? 1 : Number.POSITIVE_INFINITY;
  const most = amount && amount.value > 0 ? Math.min(reach, went.high / amount.value) : reach;
  if (found.grams && share && whole && whole.value > 0) {
    const ground = group === 'metal' || group === 'liquid' ? found.ground : 'guessed';
    return known(over(times(found.grams, share), whole), ground, by, 0, most);
  }
  return most < reach ? { share: undefined, low: 0, high: most, ground: went.ground, by } : undefined;
};

const total = (passings: readonly Passing[]): Inexact | undefined =>
  passings.every(({ amount }) => amount) ? sum(passings.map(({ amount }) => amount!)) : undefined;
/** All that went in, by the products beside that usually hold most of it. */
const fromBeside = (passage: Passage, product: Passing, metal: string, beside: Knows): Total | undefined => {
  for (const group of new Set(passage.outputs.map((one) => one.group))) {
    const usual = group === product.group ? undefined : held(passage, group, metal);
    if (!usual || usual.value < 0.5) continue;
    const holds = contents(
      passage,
      passage.outputs.filter((one) => one.group === group),
      metal,
      beside,
    );
    const share = holds && kept(passage, group, metal, holds.grams.value);
    if (share) return { ...holds, grams: over(holds.grams, share), low: 0, high: Number.POSITIVE_INFINITY };
  }
  return undefined;
};

/** What a product is by its kind, whatever went in. */
export const byNature = (passage: Passage, { flow }: Passing): Knowledge => {
  const nature = natureOf(passage.step.entry.verb, flow.kind, new Set(passage.added.keys()));
  if (!nature || flow.amount?.states.includes('wet')) return NOTHING_KNOWN;
  const { low, high } = nature.share;
  return new Map([[nature.metal, known(between(low, high, nature.source), nature.ground, [passage.step.entry], 0, 1)]]);
};

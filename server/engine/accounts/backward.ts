/** What a charge held by what came of it. */
import type { ErrorSource } from '../../quantity/measured';
import { type Contents, contents, held, inferredFrom, type Knows, kept, metalsOf } from './contents';
import { type Inexact, minus, NOTHING, over, plus, scaled, spread, times } from './inexact';
import { completed, type Knowledge, type Known, known, withinBounds, worseGround } from './known';
import type { Passage, Passing } from './passage';

/**
 * What a charge held by what came of it. `after` knows the products, `charge` the other inputs. Products that are alike with the charge, as in
 * a split, speak for it as they are.
 */
export const backward = (passage: Passage, input: Passing, charge: Knows, after: Knows): Knowledge => {
  const knowledge = new Map<string, Known>();
  if (!input.amount || input.amount.value <= 0) return knowledge;
  for (const metal of metalsOf(passage, passage.outputs, after)) {
    const found = cameOut(passage, metal, after);
    if (!found) continue;
    const own = withoutOthers(passage, input, metal, found, charge);
    if (!own) continue;
    const share = over(own.grams, input.amount);
    const most = input.unit === 'gram' ? 1 : Number.POSITIVE_INFINITY;
    const told = known(share, own.ground, [passage.step.entry], 0, most);
    // A figure within its bounds keeps its errors as they are: what another charge holds more, this one holds less.
    knowledge.set(metal, share.value >= 0 && share.value <= most ? told : withinBounds(told));
  }
  return completed(knowledge);
};

/** All of a metal that the step must have been given, by its products. */
const cameOut = (passage: Passage, metal: string, after: Knows): Contents | undefined => {
  const groups = new Set(passage.outputs.map(({ group }) => group));
  let best: Contents | undefined;
  let most = 0.5;
  for (const group of groups) {
    const usual = held(passage, group, metal);
    if (!usual || usual.value < most) continue;
    const products = passage.outputs.filter((one) => one.group === group);
    const holds = contents(passage, products, metal, after);
    const share = holds && kept(passage, group, metal, holds.grams.value);
    if (!share) continue;
    best = { ...holds, grams: over(holds.grams, share) };
    most = usual.value;
  }
  return surer(best, allTogether(passage, metal, after));
};

const surer = (one: Contents | undefined, other: Contents | undefined): Contents | undefined =>
  one && other ? (spread(one.grams) <= spread(other.grams) ? one : other) : (one ?? other);
/** Where no group of products usually holds most of it, all of them must be known. */
const allTogether = (passage: Passage, metal: string, after: Knows): Contents | undefined =>
  passage.outputs.length > 1 ? contents(passage, passage.outputs, metal, after) : undefined;
const withoutOthers = (
  passage: Passage,
  input: Passing,
  metal: string,
  all: Contents,
  charge: Knows,
): Contents | undefined => {
  let { grams, ground } = all;
  grams = minus(grams, passage.added.get(metal) ?? NOTHING);
  const unknown: Passing[] = [input];
  for (const other of passage.inputs) {
    if (other === input) continue;
    const one = charge(other).get(metal);
    if (!other.amount) return undefined;
    if (!one?.share) {
      unknown.push(other);
      continue;
    }
    grams = minus(grams, times(other.amount, one.share));
    ground = worseGround(ground, inferredFrom(one.ground));
  }
  if (unknown.length === 1) return { grams, ground, by: all.by };
  return { grams: dividedAmong(passage, input, unknown, grams), ground: 'guessed', by: all.by };
};

/** Of each charge: how much more or less of what cannot be told apart may be in it. */
const divisions = new WeakMap<Passing, ErrorSource>();

/**
 * The part of one of several charges that nothing tells apart: by weight, give or take what a rectangle over the whole would. What one holds
 * more the others hold less, so that all of them together are as well known as the whole.
 */
const dividedAmong = (passage: Passage, input: Passing, unknown: readonly Passing[], whole: Inexact): Inexact => {
  const inOrder = passage.inputs.filter((one) => unknown.includes(one));
  const weight = (one: Passing): number => one.amount?.value ?? 0;
  const total = inOrder.reduce((so, one) => so + weight(one), 0);
  const size = Math.max(0, whole.value) / Math.sqrt(12);
  let part = scaled(whole, weight(input) / total);
  for (const other of inOrder) {
    const source = divisions.get(other) ?? { label: 'division among charges' };
    divisions.set(other, source);
    part = plus(part, { value: 0, sources: [source], sizes: [other === input ? size : -size / (inOrder.length - 1)] });
  }
  return part;
};

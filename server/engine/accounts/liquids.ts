/**
 * Solutions that nobody measured. As long as they stay whole they hold what went into the step that made them, and pass it on: each is reckoned as if
 * it were so many millilitres.
 */
import { isAlike, type Knows } from './contents';
import { forward } from './forward';
import { certain, type Inexact, times } from './inexact';
import { type Knowledge, NOTHING_KNOWN } from './known';
import type { Lineage } from './lineage';
import { isAll } from './moves';
import type { Passage, Passing } from './passage';
import type { Segment } from './segments';

/** So many that shares stay as small as they are of a solution. */
export const ALL: Inexact = certain(1e6);

type Get = (of: Segment) => Knowledge;

export const knowing =
  ({ segment }: Pick<Lineage, 'segment'>) =>
  (get: Get): Knows =>
  ({ flow }) => {
    const of = segment(flow);
    return of ? get(of) : NOTHING_KNOWN;
  };

export interface Liquids {
  /** Those that went in unmeasured, and into the steps that made these. */
  readonly before: (of: Segment) => readonly Segment[];
  /** A step with each of them measured, and what is known of its charge. */
  readonly whole: (passage: Passage, get: Get, beside: Get) => { readonly passage: Passage; readonly charge: Knows };
  /** What one holds. `get` knows what went in, `beside` what came out with it. */
  readonly held: (of: Segment, get: Get, beside: Get) => Knowledge;
}

export const liquidsIn = ({ segment, origin }: Lineage, own: Get): Liquids => {
  const knows = knowing({ segment });

  /** The step that made it, and it among its products. */
  const madeIn = (of: Segment): { readonly passage: Passage; readonly product: Passing } | undefined => {
    const { passage } = origin(of);
    const product = passage?.outputs.find(({ flow }) => flow === of.start.flow);
    return passage && product && isOneLiquid(passage, product) ? { passage, product } : undefined;
  };

  /** What goes in whole. */
  const goesIn = (input: Passing): Segment | undefined => {
    const of = input.amount ? undefined : segment(input.flow);
    return of && isWholeIn(input, of) && madeIn(of) ? of : undefined;
  };

  const before = (of: Segment): readonly Segment[] => {
    const found = new Set([of]);
    for (const one of found)
      for (const input of origin(one).passage?.inputs ?? []) {
        const liquid = goesIn(input);
        if (liquid) found.add(liquid);
      }
    return [...found].slice(1);
  };

  /** `behind` are those that it is asked for: a wrong record may go in a circle. */
  const whole = (
    passage: Passage,
    get: Get,
    beside: Get,
    behind: readonly Segment[] = [],
  ): ReturnType<Liquids['whole']> => {
    const charge = knows(get);
    const found = new Map<Passing, Knowledge>();
    const inputs = passage.inputs.map((input) => {
      const of = goesIn(input);
      if (!of || behind.includes(of)) return input;
      const all = { ...input, amount: ALL };
      found.set(all, held(of, get, beside, behind));
      return all;
    });
    if (found.size === 0) return { passage, charge };
    return { passage: { ...passage, inputs }, charge: (input) => found.get(input) ?? charge(input) };
  };

  const held = (of: Segment, get: Get, beside: Get, behind: readonly Segment[] = []): Knowledge => {
    const made = madeIn(of);
    if (!made) return NOTHING_KNOWN;
    const all = { ...made.product, amount: ALL };
    const { passage, charge } = whole(made.passage, get, beside, [...behind, of]);
    const outputs = passage.outputs.map((one) => (one === made.product ? all : one));
    const told = forward({ ...passage, outputs }, all, charge, knows(beside));
    // A share by an assay is of no known amount; that there is none says all.
    const none = [...own(of)].filter(([, { share }]) => share?.value === 0);
    return new Map([...[...told].filter(([, { share }]) => share), ...none]);
  };

  return { before, whole, held };
};

/** Not measured, and by itself: of two nobody knows how they were divided. */
const isOneLiquid = (passage: Passage, product: Passing): boolean =>
  product.amount === undefined &&
  product.group === 'liquid' &&
  !isAlike(passage, 'liquid') &&
  passage.outputs.every((one) => one === product || one.group !== 'liquid');

const isWholeIn = ({ flow }: Passing, of: Segment): boolean => {
  const event = of.events.find((one) => one.flow === flow);
  return event !== undefined && (flow.word === 'out' || isAll(event, of));
};

/** Grams of a metal in what passes, be it measured or not; none where it is not known. */
export const gramsIn = (
  passing: Passing,
  metal: string,
  { lineage, best, inAll }: { readonly lineage: Lineage; readonly best: Get; readonly inAll: Get },
): Inexact | undefined => {
  const { flow, amount } = passing;
  const of = lineage.segment(flow);
  const knowledge = of && (amount ? best(of) : isWholeIn(passing, of) ? inAll(of) : undefined);
  const share = knowledge?.get(metal)?.share;
  return share && times(amount ?? ALL, share);
};

/**
 * The metal account of a period: what was on hand, came in and left, what is on hand now, and what is left over. Each lot counts with the best
 * that is known of it, so the same assay on both sides takes its error out of the difference.
 */
import { firstWhere } from '../../text/lists';
import type { Step } from '../book';
import type { Entry } from '../entry';
import { heldInCupels, isOnHand, type UsedCupel } from './cupels';
import { isUsedCupel } from './destiny';
import { type Inexact, isGuess, minus, NOTHING, plus, sum, times } from './inexact';
import { ALL, gramsIn } from './liquids';
import type { Metals } from './metals';
import { type Change, COMES_IN, type Move, type Movement } from './moves';
import type { Passage } from './passage';
import { type Holding, totalOf } from './stock';

export interface AccountLine {
  readonly movement: Movement;
  readonly grams: Inexact;
  /** Of it what rests on a guess. */
  readonly guessedGrams: number;
  /** How many movements, and of how many the metal is not known. */
  readonly count: number;
  readonly unknown: number;
}

export interface StepLoss {
  readonly verb: string;
  readonly count: number;
  /** Charged less what came out and what its cupels are reckoned to hold, over all its steps whose metal is known on both sides. */
  readonly grams: Inexact;
}

export interface PeriodAccount {
  readonly metal: string;
  readonly opening: Inexact;
  readonly lines: readonly AccountLine[];
  readonly closing: Inexact;
  /** What used cupels are reckoned to hold, at the opening and at the closing: guesses. */
  readonly cupelsOpening: Inexact;
  readonly cupelsClosing: Inexact;
  /** opening + in − out − closing, used cupels among them; positive is missing. */
  readonly unaccounted: Inexact;
  /** What of it each kind of step lost. */
  readonly steps: readonly StepLoss[];
  /** What went into steps of which it is not known where it came out, less what is. */
  readonly untold: readonly StepLoss[];
  /** What lots weighed less the next time than the record had of them; of none where all weighed as before. */
  readonly changed: { readonly count: number; readonly grams: Inexact };
  /** Lots whose metal is not known, at the opening and at the closing. */
  readonly unknownOpening: number;
  readonly unknownClosing: number;
}

export interface PeriodBook {
  /** All of the record, by date. */
  readonly moves: readonly Move[];
  /** By date. */
  readonly changes: readonly Change[];
  readonly metals: Metals;
  readonly stock: (date?: string) => readonly Holding[];
  readonly cupels: (step: Step) => readonly UsedCupel[];
  readonly allCupels: () => readonly UsedCupel[];
  /** The steps of the period, each once. */
  readonly passages: readonly Passage[];
}

/** From the beginning of `from` to the end of `to`; without them from the first day, to the last. */
export const periodAccount = (
  of: PeriodBook,
  metal: string,
  from: string | undefined,
  dayBefore: string | undefined,
  to: string | undefined,
): PeriodAccount => {
  const opening = dayBefore === undefined ? [] : of.stock(dayBefore);
  const closing = of.stock(to);
  const cupels = (date: string | undefined): Inexact =>
    heldInCupels(
      of.allCupels().filter((one) => isOnHand(one, date)),
      metal,
    );
  const cupelsOpening = dayBefore === undefined ? NOTHING : cupels(dayBefore);
  const cupelsClosing = cupels(to);
  const lines = linesOf(of, metal, from, to);
  const movedIn = sum(lines.filter(({ movement }) => COMES_IN.has(movement)).map(({ grams }) => grams));
  const movedOut = sum(lines.filter(({ movement }) => !COMES_IN.has(movement)).map(({ grams }) => grams));
  const [open, close] = [totalOf(opening, metal), totalOf(closing, metal)];
  const sides = [...sidesIn(of, metal)];
  return {
    metal,
    opening: open.grams,
    lines,
    closing: close.grams,
    cupelsOpening,
    cupelsClosing,
    unaccounted: minus(
      minus(plus(plus(open.grams, cupelsOpening), movedIn), movedOut),
      plus(close.grams, cupelsClosing),
    ),
    steps: byVerb(sides.filter(({ charged, came }) => charged && came.whole)),
    // Steps that a metal is known to have gone into, and not where all of it came out.
    untold: byVerb(sides.filter(({ came, lost }) => !came.whole && lost.value > 0)),
    changed: changedIn(of, metal, from, to),
    unknownOpening: open.unknown,
    unknownClosing: close.unknown,
  };
};

const changedIn = (
  { changes, metals }: PeriodBook,
  metal: string,
  from: string | undefined,
  to: string | undefined,
): PeriodAccount['changed'] => {
  const found: Inexact[] = [];
  for (let at = firstWhere(changes, ({ date }) => date >= (from ?? '')); at < changes.length; at++) {
    const { date, segment, missing } = changes[at]!;
    if (to !== undefined && date > to) break;
    const share = metals.best(segment).get(metal)?.share;
    if (share && share.value > 0) found.push(times(missing, share));
  }
  return { count: found.length, grams: sum(found) };
};

const heldBy = (cupels: readonly UsedCupel[], metal: string): Inexact =>
  sum(cupels.flatMap(({ fine }) => fine.find((one) => one.metal === metal)?.grams ?? []));

const ORDER: readonly Movement[] = [
  'received',
  'returned',
  'found',
  'added',
  'shipped',
  'sold',
  'discarded',
  'lost',
  'assayed',
  'missing',
];

interface Sum {
  grams: Inexact;
  guessed: number;
  count: number;
  unknown: number;
}

const linesOf = (of: PeriodBook, metal: string, from: string | undefined, to: string | undefined): AccountLine[] => {
  const sums = new Map<Movement, Sum>();
  for (const { movement, grams, guessed } of movementsIn(of, metal, from, to)) {
    const so = sums.get(movement) ?? { grams: NOTHING, guessed: 0, count: 0, unknown: 0 };
    sums.set(movement, so);
    so.count++;
    if (!grams) so.unknown++;
    else {
      so.grams = plus(so.grams, grams);
      so.guessed += guessed ? grams.value : 0;
    }
  }
  return [...sums]
    .sort(([a], [b]) => ORDER.indexOf(a) - ORDER.indexOf(b))
    .map(([movement, so]) => ({
      movement,
      grams: so.grams,
      guessedGrams: so.guessed,
      count: so.count,
      unknown: so.unknown,
    }));
};

/** One coming or going of metal. */
export interface Moved {
  readonly movement: Movement;
  /** None of metal from the shelf and of a used cupel. */
  readonly lot: string | undefined;
  /** That it was booked by; of a used cupel the cupellation. */
  readonly entry: Entry;
  readonly date: string;
  /** None where it is not known. */
  readonly grams: Inexact | undefined;
  readonly guessed: boolean;
}

/** Comings and goings of lots; `only` some kinds of them. */
export function* movesIn(
  { moves, metals }: Pick<PeriodBook, 'moves' | 'metals'>,
  metal: string,
  from: string | undefined,
  to: string | undefined,
  only?: ReadonlySet<Movement>,
): Iterable<Moved> {
  for (let at = firstWhere(moves, ({ date }) => date >= (from ?? '')); at < moves.length; at++) {
    const { date, entry, segment, movement, amount, all } = moves[at]!;
    if (to !== undefined && date > to) break;
    if (only && !only.has(movement)) continue;
    const known = (amount || !all ? metals.best(segment) : metals.inAll(segment)).get(metal);
    const size = amount ?? (all ? ALL : undefined);
    const grams = size && known?.share && times(size, known.share);
    const guessed = known?.ground === 'guessed' || (grams !== undefined && isGuess(grams));
    yield { movement, lot: segment.lot, entry, date, grams, guessed };
  }
}

/** What the lines of an account are the sums of. */
export function* movementsIn(
  of: PeriodBook,
  metal: string,
  from: string | undefined,
  to: string | undefined,
): Iterable<Moved> {
  yield* movesIn(of, metal, from, to);
  for (const passage of of.passages) {
    const { added, step } = passage;
    const grams = added.get(metal);
    const { entry } = step;
    const lost = seenLostOf(passage, of.metals, metal);
    if (lost) yield { movement: 'lost', lot: undefined, entry, date: entry.date ?? '', ...lost };
    if (grams && grams.value > 0)
      yield { movement: 'added', lot: undefined, entry, date: entry.date ?? '', grams, guessed: false };
  }
  for (const cupel of of.allCupels()) {
    const { gone, entry } = cupel;
    if (!gone?.discarded || !isFrom(gone.date, from, to)) continue;
    const grams = cupel.fine.find((one) => one.metal === metal)?.grams;
    yield { movement: 'discarded', lot: undefined, entry, date: gone.date, grams, guessed: true };
  }
}

/** What was seen to be lost in a step; none of a step that tells of no loss. */
const seenLostOf = (
  { seenLost, inputs, added }: Passage,
  { lineage, best }: Metals,
  metal: string,
): Pick<Moved, 'grams' | 'guessed'> | undefined => {
  if (!seenLost) return undefined;
  let [grams, guessed]: [Inexact | undefined, boolean] = [added.get(metal) ?? NOTHING, false];
  for (const { flow, amount } of inputs) {
    const segment = lineage.segment(flow);
    const known = segment && best(segment).get(metal);
    guessed ||= known?.ground === 'guessed';
    grams = grams && amount && known?.share ? plus(grams, times(amount, known.share)) : undefined;
  }
  return grams?.value === 0 ? undefined : { grams: grams && times(grams, seenLost), guessed };
};

const isFrom = (date: string, from: string | undefined, to: string | undefined): boolean =>
  (from === undefined || date >= from) && (to === undefined || date <= to);

const byVerb = (losses: Iterable<Pick<StepLost, 'step' | 'lost'>>): StepLoss[] => {
  const found = new Map<string, { count: number; grams: Inexact }>();
  for (const { step, lost } of losses) {
    const so = found.get(step.entry.verb) ?? { count: 0, grams: NOTHING };
    found.set(step.entry.verb, { count: so.count + 1, grams: plus(so.grams, lost) });
  }
  return [...found].map(([verb, one]) => ({ verb, ...one }));
};

export interface StepLost {
  readonly step: Step;
  readonly went: Inexact;
  readonly came: Inexact;
  /** What its used cupels are reckoned to hold, where they are no product of it. */
  readonly cupels: Inexact;
  /** went − came − cupels, and what was seen to be lost taken off. */
  readonly lost: Inexact;
}

/** Each step of the period whose metal is known on both sides, guesses among them. */
export function* stepLossesIn(of: PeriodBook, metal: string): Iterable<StepLost> {
  for (const { lost, charged, came, ...one } of sidesIn(of, metal)) {
    if (charged && came.whole) yield { ...one, came: came.grams, lost };
  }
}

interface Side {
  readonly grams: Inexact;
  /** Known of all lots. */
  readonly whole: boolean;
}

/** Each step with what is known of both sides. */
function* sidesIn(
  { passages, metals, cupels }: PeriodBook,
  metal: string,
): Iterable<Omit<StepLost, 'came'> & { readonly charged: boolean; readonly came: Side }> {
  const side = (passings: Passage['inputs']): Side => {
    let [grams, whole] = [NOTHING, true];
    for (const passing of passings) {
      const held = gramsIn(passing, metal, metals);
      if (held) grams = plus(grams, held);
      else whole = false;
    }
    return { grams, whole };
  };
  for (const passage of passages) {
    const { step, inputs, outputs, added } = passage;
    if (step.entry.verb === 'sample' || inputs.length === 0 || outputs.length === 0) continue;
    const [charged, came] = [side(inputs), side(outputs)];
    const went = plus(charged.grams, added.get(metal) ?? NOTHING);
    const kept = outputs.some(({ flow }) => isUsedCupel(flow.kind, step.entry.verb))
      ? NOTHING
      : heldBy(cupels(step), metal);
    const gone = plus(kept, seenLostOf(passage, metals, metal)?.grams ?? NOTHING);
    yield { step, charged: charged.whole, went, came, cupels: kept, lost: minus(went, plus(came.grams, gone)) };
  }
}

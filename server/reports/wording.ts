/**
 * How a weight, a balance, a verdict and a difference are said: in hints, hovers, findings, the outline and on the command line alike.
 * A label fits at the end of a line; a sentence stands in a hover.
 */

import type { Handover, Slip, Step } from '../engine/book';
import type { Flow } from '../engine/entry';
import { throughput } from '../engine/step';
import { balanceRow } from '../engine/usual';
import type { Workshop } from '../engine/workshop';
import { type Decimal, decimal, toPlain } from '../quantity/decimal';
import { add, divide, type Measured, uncertainty } from '../quantity/measured';
import { showMass, showPercent, showPlaces, showQuantity } from '../quantity/show';
import { SLIP_WORDS, stepWords, timesWords } from './words';

/** Editors cut what is shown at a line's end at 43 characters. */
export const LONGEST_LABEL = 40;

/** The first wording that fits; of the last one as much as fits. */
export const fitting = (...wordings: readonly string[]): string => {
  const found = wordings.find((wording) => wording.length <= LONGEST_LABEL);
  return found ?? `${wordings.at(-1)!.slice(0, LONGEST_LABEL - 1)}…`;
};

export const sizeOf = (of: Measured): Measured => ({ ...of, value: of.value.abs() });

/** `±0.03 g`; nothing of an exact value. */
export const spreadWords = (of: Measured): string | undefined => {
  const spread = showQuantity(of, 'g').split('±')[1];
  return spread === undefined ? undefined : `±${spread} g`;
};

/** `11.5 %`; none of nothing. */
export const shareWords = (part: Measured, whole: Measured): string | undefined => {
  if (!whole.value.greaterThan(0)) return undefined;
  const share = divide(part, whole);
  return showPercent(share.value.toNumber(), uncertainty(share));
};

const isShownAsNothing = (of: Measured): boolean => {
  for (const character of showMass(of)) if (character >= '1' && character <= '9') return false;
  return true;
};

/** What leaves by design is the step's result, and has its own word. */
const LEAVES: ReadonlyMap<string, string> = new Map([
  ['dry', 'moisture'],
  ['roast', 'driven off'],
  ['burn', 'burnt off'],
  ['retort', 'distilled off'],
  ['dissolve', 'dissolved'],
  ['part', 'dissolved'],
]);

/** All that went in, in grams. */
export const chargeOf = ({ inputs, added }: Step): Measured =>
  add(...[...inputs, ...added].flatMap(({ mass }) => mass ?? []));

/**
 * The balance of a step in a few words, the answer first: `6.2 g lost (1.3 %), usual`. None where there is nothing to say: a sample, a flow
 * in volume, a balance that was solved for its one unknown, a cupellation that says nothing by mass.
 */
export const balanceLabel = (step: Step, workshop: Workshop): string | undefined => {
  const { unaccounted, verdict } = step;
  if (verdict === 'open') return openLabel(step);
  if (!unaccounted) return undefined;
  const size = showMass(sizeOf(unaccounted));
  if (verdict === 'gain') return fitting(`${size} more out than in`);
  if (verdict === 'high') return highLabel(step, unaccounted);
  const leaves = leavingLabel(step, unaccounted);
  if (leaves !== undefined) return leaves;
  if (verdict === 'closed') return closedLabel(step, unaccounted, workshop);
  if (balanceRow(step.entry.verb)?.kind === 'cupel' && !step.absorbed) return undefined;
  if (unaccounted.value.isNegative()) return fitting(`${size} taken up, usual`);
  const share = shareWords(unaccounted, chargeOf(step));
  return fitting(`${size} lost (${share}), usual`, `${size} lost, usual`);
};

const openLabel = (step: Step): string | undefined => {
  switch (step.openBecause) {
    case 'nothing in':
      return 'nothing went in yet';
    case 'nothing out':
      return throughput(step) > 0 ? fitting(`${showMass(chargeOf(step))} in, nothing out yet`) : 'nothing out yet';
    case 'no slag':
      return 'open: weigh the slag';
    case 'unknowns':
      return openFlowsLabel(step.open.map(flowWords));
    default:
      return undefined;
  }
};

const openFlowsLabel = (names: readonly string[]): string => {
  const [first, second] = names;
  const rest = names.length - 1;
  return fitting(
    ...(names.length === 2 ? [`open: weigh ${first} and ${second}`] : []),
    ...(rest > 0 ? [`open: weigh ${first} and ${rest} more`] : [`open: weigh ${first}`]),
    `open: ${names.length} weights missing`,
  );
};

/** `B57`, `borax-glass`, `slag`: what a line is about. */
export const flowWords = ({ lot, material, kind, word }: Flow): string => lot?.name ?? material?.name ?? kind ?? word;

const highLabel = (step: Step, unaccounted: Measured): string => {
  const size = showMass(sizeOf(unaccounted));
  if (unaccounted.value.isNegative()) return fitting(`${size} more in than is written`);
  const most = usualMost(step, unaccounted);
  return fitting(`${size} missing, usual is up to ${most}`, `${size} missing, more than usual`);
};

/** The upper end of the usual loss, cut as the loss itself: `0.30 g`. */
export const usualMost = ({ usual }: Step, like: Measured): string => cutLike(usual?.high ?? 0, like);

/** So many grams, cut to the place that another figure is good to; to three digits where that one is exact. */
export const cutLike = (grams: number, like: Measured): string => {
  if (uncertainty(like) > 0) return showMass({ ...like, value: decimal(grams), guessed: false });
  return `${showDigits(decimal(grams), 3)} g`;
};

/** Cut to so many digits that mean something: `38`, `5.13`, `0.0412`. */
export const showDigits = (value: Decimal, digits: number): string => {
  if (value.isZero()) return '0';
  return showPlaces(value, digits - 1 - value.abs().log().floor().toNumber());
};

const leavingLabel = (step: Step, unaccounted: Measured): string | undefined => {
  const word = LEAVES.get(step.entry.verb);
  if (word === undefined) return undefined;
  if (isShownAsNothing(unaccounted)) return `nothing ${word === 'moisture' ? 'dried off' : word}`;
  const share = shareWords(unaccounted, chargeOf(step));
  const size = showMass(sizeOf(unaccounted));
  if (unaccounted.value.isNegative()) return fitting(`${size} taken up (${share})`);
  const gone = word === 'moisture' ? 'moisture' : word;
  return fitting(`${size} ${gone}, ${share}`, `${size} ${gone}`);
};

const closedLabel = (step: Step, unaccounted: Measured, workshop: Workshop): string => {
  const spread = spreadWords(unaccounted);
  if (isShownAsNothing(unaccounted)) return spread ? fitting(`balances within ${spread}`, 'balances') : 'balances';
  const side = unaccounted.value.isNegative() ? 'over' : 'short';
  const size = showMass(sizeOf(unaccounted));
  return fitting(`${size} ${side}, ${explainedBy(step, unaccounted, workshop)}`, `${size} ${side}, explained`);
};

/** What accounts for a balance that closes, to the ear: weighing, the gas that is not known better, or the shop's own limit. */
const explainedBy = (step: Step, unaccounted: Measured, { limits }: Workshop): string => {
  const reach = limits.coverage * uncertainty(unaccounted);
  if (limits.closure !== undefined && Math.abs(unaccounted.value.toNumber()) > reach) return 'within your closure';
  return uncertainty(step.gas) > 0 ? 'weighing and gas explain it' : 'weighing explains it';
};

/** The verdict on a balance in one or two sentences. */
export const verdictWords = (step: Step, workshop: Workshop): string => {
  const { unaccounted, verdict, usual } = step;
  const row = balanceRow(step.entry.verb);
  if (verdict === 'open') return openWords(step);
  if (verdict === 'solved' && step.solved) {
    const mass = showQuantity(step.solved.mass, 'g');
    return `${flowWords(step.solved.flow)} is what the balance leaves: ${mass}. Nothing checks it.`;
  }
  if (!unaccounted || !usual) return '';
  const size = showMass(sizeOf(unaccounted));
  const most = usualMost(step, unaccounted);
  if (verdict === 'gain') return `${size} more came out of ${stepWords(step.entry)} than went in.`;
  if (verdict === 'high' && unaccounted.value.isNegative()) {
    return `${size} more came out than went in, though one weight that went in is not written.`;
  }
  if (verdict === 'high') {
    return `${size} is missing in ${stepWords(step.entry)}, more than such a step usually loses (up to ${most}).`;
  }
  const means = row?.means ?? '';
  if (verdict === 'closed') return `${explainedSentence(step, unaccounted, workshop)} ${means}`.trim();
  if (unaccounted.value.isNegative()) return `${size} was taken up, as is usual here. ${means}`.trim();
  return LEAVES.has(step.entry.verb) ? means : `${size} lost is within the usual (up to ${most}). ${means}`.trim();
};

const explainedSentence = (step: Step, unaccounted: Measured, workshop: Workshop): string => {
  const spread = spreadWords(unaccounted);
  const by = explainedBy(step, unaccounted, workshop);
  if (by === 'within your closure') return 'The difference is within the closure that the workshop file allows.';
  const what =
    by === 'weighing explains it' ? 'Weighing explains' : 'Weighing, and what is not known of the gas, explain';
  return spread ? `${what} ${spread}.` : 'In and out agree exactly.';
};

const openWords = (step: Step): string => {
  switch (step.openBecause) {
    case 'nothing in':
      return 'Nothing that went in is written yet.';
    case 'nothing out':
      return 'Nothing that came out is written yet.';
    case 'no slag':
      return 'Ore was melted and no slag is written: what went to slag and what was lost cannot be told apart.';
    case 'volume':
      return 'Something here is measured by volume: the balance is one of metal, and mass does not make it.';
    case 'sample':
      return 'What was taken is less in its lot.';
    default:
      return 'More weights are missing than a balance can give.';
  }
};

/** What to do about a balance; nothing where it is in order. */
export const adviceWords = (step: Step): string | undefined => {
  switch (step.verdict) {
    case 'gain':
      return 'Look for a slip of the pen, something that went in and is not written, or metal of the heat before that hung in the crucible.';
    case 'high':
      return 'Look for prills, a skull in the crucible, slag not weighed, a spill; or for a slip of the pen.';
    case 'solved':
      return `Weigh ${step.solved ? flowWords(step.solved.flow) : 'it'}, and the balance checks the other weights too.`;
    case 'open':
      if (step.openBecause === 'no slag') return 'Weigh the slag, or write `out none slag`.';
      if (step.open.length === 0) return undefined;
      return `To close it, weigh ${listWords(step.open.map(flowWords))}.`;
    default:
      return undefined;
  }
};

/** `A`, `A and B`, `A, B and 3 more`. */
export const listWords = (names: readonly string[], most = 4): string => {
  if (names.length <= 1) return names[0] ?? '';
  if (names.length > most) return `${names.slice(0, most - 1).join(', ')} and ${names.length - most + 1} more`;
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
};

/** What the two weights of a hand-over say, for the line's end. None where they are the same. */
export const handoverLabel = (handover: Handover): string | undefined => {
  const { difference, explained, because, slips } = handover;
  if (difference.value.isZero()) return undefined;
  const size = showMass(sizeOf(difference));
  const side = difference.value.isNegative() ? 'less' : 'more';
  if (explained) {
    return isShownAsNothing(difference)
      ? 'agrees'
      : fitting(`${size} ${side}, weighing explains it`, `${size} ${side}`);
  }
  const [best] = slips;
  if (best) {
    const where = best.amount === handover.to.weight.amount ? 'here' : 'before';
    return fitting(`${size} ${side}, likely ${best.reads} ${where}`, `${size} ${side} than it left with`);
  }
  const why = because && BECAUSE[because][side];
  return fitting(...(why ? [`${size} ${side}, ${why}`] : []), `${size} ${side} than it left with`, `${size} ${side}`);
};

const BECAUSE: Readonly<Record<NonNullable<Handover['because']>, Readonly<Record<'less' | 'more', string>>>> = {
  moisture: { less: 'it has dried since', more: 'it has taken up water' },
  heat: { less: 'weighed hot, reads light', more: 'it was weighed hot before' },
  cleaned: { less: 'it was cleaned since', more: 'it was cleaned since' },
  annealed: { less: 'it was annealed since', more: 'it was annealed since' },
};

/** `A weighs 61.37 g in receive A and 61.73 g in cast C1: 0.36 g more, 9 times what weighing explains (±0.01 g).` */
export const handoverWords = (handover: Handover): string => {
  const { lot, from, to, difference, explained, times } = handover;
  const weights = `${lot} weighs ${sideMass(from)} in ${stepWords(from.entry)} and ${sideMass(to)} in ${stepWords(to.entry)}`;
  if (difference.value.isZero()) return `${weights}.`;
  const gap = `${showMass(sizeOf(difference))} ${difference.value.isNegative() ? 'less' : 'more'}`;
  const spread = spreadWords(difference);
  const bounds = spread ? ` (${spread})` : '';
  if (explained) return `${weights}: ${gap}, which weighing explains${bounds}.`;
  const slip = handover.slips[0] ? ` ${slipWords(handover, handover.slips[0])}` : '';
  return `${weights}: ${gap}, ${timesWords(times)} what weighing explains${bounds}.${slip}`;
};

const sideMass = ({ weight }: Handover['from']): string => (weight.mass ? showMass(weight.mass) : '?');

/** `Likeliest: two digits swapped, 61.37 g in cast C1.` */
export const slipWords = ({ from, to }: Handover, slip: Slip): string => {
  const side = slip.amount === from.weight.amount ? from : to;
  return `Likeliest: ${SLIP_WORDS[slip.kind]}, ${slip.reads} in ${stepWords(side.entry)}.`;
};

/** How a figure is known, in a word or two for the line of a sum; nothing of what was weighed. */
export const GROUND_WORDS = {
  weighed: undefined,
  carried: 'carried',
  solved: 'by balance',
  guessed: 'guessed',
  unknown: 'not known',
} as const;

/** What the figures of a step rest on besides weighing. */
export const groundWords = (step: Step): string => {
  const flows = [...step.inputs, ...step.added, ...step.outputs, ...step.lost];
  const names = (ground: keyof typeof GROUND_WORDS): string[] =>
    flows.filter((flow) => flow.ground === ground).map(({ flow }) => flowWords(flow));
  const parts = [
    ...said(names('guessed'), 'guessed'),
    ...said(names('carried'), 'carried from before'),
    ...said(names('solved'), 'left by a balance'),
  ];
  const gas = step.gas.value.isZero() ? '' : ' Gas is reckoned from what the fluxes are made of.';
  return parts.length === 0 ? `All of it weighed.${gas}` : `Weighed, but ${parts.join('; ')}.${gas}`;
};

const said = (names: readonly string[], how: string): string[] =>
  names.length === 0 ? [] : [`${listWords(names)} ${how}`];

/** A plain figure of the workshop or of a table, without the noise of binary fractions: at most four digits that mean something. */
export const showSize = (value: number): string => {
  const places = value === 0 ? 0 : Math.max(0, 3 - Math.floor(Math.log10(Math.abs(value))));
  const text = decimal(value).toDecimalPlaces(places);
  return toPlain(text);
};

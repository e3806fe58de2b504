/**
 * How a balance and its verdict are said: in hints, hovers, findings, the outline and on the command line alike. A label fits at the end of
 * a line; a sentence stands in a finding or a hover.
 */
import type { Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import type { MetalGain, MetalLoss } from '../engine/metal';
import { throughput } from '../engine/step';
import { balanceRow } from '../engine/usual';
import { isDisputed } from '../engine/weigh';
import type { Workshop } from '../engine/workshop';
import { add, exact, type Measured, uncertainty } from '../quantity/measured';
import { showMass, showQuantity } from '../quantity/show';
import { cutLike, fitting, isShownAsNothing, shareWords, sizeOf, spreadWords } from './figures';
import { flowWords, listWords, stepWords } from './words';

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
  const asGas = goneAsGas(step, unaccounted);
  if (asGas) return fitting(`${asGas} less out, gas explains it`);
  if (unaccounted.value.isNegative()) return fitting(`${size} taken up, usual`);
  const share = shareWords(unaccounted, chargeOf(step));
  return fitting(`${size} lost (${share}), usual`, `${size} lost, usual`);
};

/** What is missing before any gas is reckoned, where it lies within what the fluxes may give off: then gas alone may explain it. */
const goneAsGas = ({ gas, gasRange, slag }: Step, unaccounted: Measured): string | undefined => {
  if (slag) return undefined;
  const without = add(unaccounted, gas);
  const grams = without.value.toNumber();
  const isOpen = gasRange.high - gasRange.low > Math.abs(unaccounted.value.toNumber());
  return isOpen && grams > 0 && grams >= gasRange.low && grams <= gasRange.high
    ? showMass(exact(without.value))
    : undefined;
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

const highLabel = (step: Step, unaccounted: Measured): string => {
  const size = showMass(sizeOf(unaccounted));
  if (unaccounted.value.isNegative()) return fitting(`${size} more in than is written`);
  if (losesNothing(step)) return fitting(`${size} missing, nothing should be`);
  const most = usualMost(step, unaccounted);
  return fitting(`${size} missing, usual is up to ${most}`, `${size} missing, more than usual`);
};

/** The upper end of the usual loss, cut as the loss itself: `0.30 g`. */
export const usualMost = ({ usual }: Step, like: Measured): string => cutLike(usual?.high ?? 0, like);

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
  if (isDisputed(unaccounted)) return 'a weight is in doubt';
  const reach = limits.coverage * uncertainty(unaccounted);
  if (limits.closure !== undefined && Math.abs(unaccounted.value.toNumber()) > reach) return 'within your closure';
  return uncertainty(step.gas) > 0 && !step.slag ? 'weighing and gas explain it' : 'weighing explains it';
};

/** More out than in: `0.90 g more came out of cast C1 than went in.` */
export const gainWords = ({ entry, slag }: Step, unaccounted: Measured): string =>
  `${showMass(sizeOf(unaccounted))} more${ofMetal(slag)} came out of ${stepWords(entry)} than went in.`;

/** Slag that nobody weighed leaves metal against metal. */
const ofMetal = (slag: Step['slag']): string => (slag ? ' metal' : '');

/** A loss above the usual: `0.94 g is missing in cast C1, more than such a step usually loses (up to 0.10 g).` */
export const lossWords = (step: Step, unaccounted: Measured): string =>
  losesNothing(step)
    ? `${showMass(unaccounted)} is missing in ${stepWords(step.entry)}, where nothing can be lost.`
    : `${showMass(unaccounted)}${step.slag ? ' of metal' : ''} is missing in ${stepWords(step.entry)}, more than ${usualWords(step, unaccounted)}.`;

const usualWords = (step: Step, unaccounted: Measured): string => {
  const most = usualMost(step, unaccounted);
  return step.usual?.from === 'history'
    ? `it usually loses here (up to ${most}: ${step.usual.why})`
    : `such a step usually loses (up to ${most})`;
};

/** Cold joining and dividing: a difference is a weighing, or a piece left behind. */
const losesNothing = ({ usual }: Step): boolean => usual !== undefined && usual.low === 0 && usual.high === 0;

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
  if (verdict === 'gain') return gainWords(step, unaccounted);
  if (verdict === 'high' && unaccounted.value.isNegative()) {
    return `${size} more came out than went in, though one weight that went in is not written.`;
  }
  if (verdict === 'high') return lossWords(step, unaccounted);
  const means = row?.means ?? '';
  if (verdict === 'closed') return `${explainedSentence(step, unaccounted, workshop)} ${means}`.trim();
  const asGas = goneAsGas(step, unaccounted);
  if (asGas) return `${asGas} less came out than went in: the fluxes may give off so much. ${means}`.trim();
  if (unaccounted.value.isNegative()) return `${size} was taken up, as is usual here. ${means}`.trim();
  return LEAVES.has(step.entry.verb) ? means : `${size} lost is within the usual (up to ${most}). ${means}`.trim();
};

/** `0.33 g of metal is missing in melt M67, more than such a melt usually loses (up to 0.22 g).` */
export const metalMissingWords = (entry: Entry, { missing, usual }: MetalLoss): string =>
  `${showMass(missing)} of metal is missing in ${stepWords(entry)}, more than such a melt usually loses (up to ${cutLike(usual, missing)}).`;

/** `58.30 g of metal came out of melt M57, 0.30 g more than was charged.` */
export const metalGainedWords = (entry: Entry, { out, gained }: MetalGain): string =>
  `${showMass(out)} of metal came out of ${stepWords(entry)}, ${showMass(gained)} more than was charged.`;

const explainedSentence = (step: Step, unaccounted: Measured, workshop: Workshop): string => {
  const spread = spreadWords(unaccounted);
  const by = explainedBy(step, unaccounted, workshop);
  if (by === 'a weight is in doubt') return 'A weight that went in is in doubt, so this balance proves nothing.';
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
      return 'No slag is written of a charge that is not known to be metal: slag and loss cannot be told apart.';
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

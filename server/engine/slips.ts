/** The likeliest slip of the pen behind a difference that weighing does not explain: at a hand-over, and in a step. */
import type { Decimal } from '../quantity/decimal';
import { uncertainty } from '../quantity/measured';
import type { FlowWeight, Handover, Slip, Step } from './book';
import type { Flow, Said } from './entry';
import { doubtsOf, ownTare, withCopied, withSide } from './slip-doubts';
import { type OtherBalance, rankSlips } from './slip-ranking';
import { throughput } from './step';
import { balanceRow } from './usual';
import type { Workshop } from './workshop';

/**
 * Shares of unexplained gaps that are slips, start values without a source: every second where metal has no way to come or go, between two
 * weighings, in cold work, or as a gain; one in five where a heat may have lost it.
 */
const SLIP_SHARE = { noWay: 0.5, lossInWork: 0.2 };

/** Slips that would explain a hand-over, best first, beside the balances that its two flows stand in; none when weighing explains it or nothing stands out. */
export function handoverSlips(
  handover: Omit<Handover, 'slips'>,
  fromFlow: Flow | undefined,
  toFlow: Flow | undefined,
  workshop: Workshop,
  other: { readonly from: OtherBalance | undefined; readonly to: OtherBalance | undefined },
): readonly Slip[] {
  if (handover.explained) return [];
  const { from, to, difference } = handover;
  const [saidFrom, saidTo] = [saidOf(from, fromFlow), saidOf(to, toFlow)];
  // The later weight first: of two that are as likely, it is the one that was carried over.
  const doubts = [
    ...doubtsOf(to.weight.amount, saidTo, 1, workshop, other.to, ownTare(saidFrom, workshop)),
    // A third weighing that agrees with the earlier one acquits it.
    ...(handover.again
      ? []
      : doubtsOf(from.weight.amount, saidFrom, -1, workshop, other.from, ownTare(saidTo, workshop))),
  ].map((doubt) => withCopied(doubt, handover));
  const divisions = [from.weight.divisionGrams, to.weight.divisionGrams];
  return rankSlips(
    {
      grams: difference.value.toNumber(),
      u: uncertainty(difference),
      low: 0,
      high: 0,
      coverage: workshop.limits.coverage,
      divisionGrams: finest(divisions),
      throughputGrams: Math.max(grams(from.weight.mass?.value), grams(to.weight.mass?.value)),
      slipShare: SLIP_SHARE.noWay,
      mirrored: true,
    },
    doubts,
  );
}

/** Slips in one of a step's weights that would bring its `gain` or `high` into order, best first. */
export function stepSlips(
  step: Step,
  workshop: Workshop,
  other?: (flow: Flow) => OtherBalance | undefined,
): readonly Slip[] {
  if ((step.verdict !== 'gain' && step.verdict !== 'high') || !step.unaccounted) return [];
  const of = (flows: readonly FlowWeight[], sign: 1 | -1) =>
    flows.flatMap(({ amount, flow, volume }) =>
      volume ? [] : doubtsOf(amount, flow.said, sign, workshop, other?.(flow)).map((doubt) => withSide(doubt, flow)),
    );
  const flows = [...step.inputs, ...step.added, ...step.outputs, ...step.lost];
  const noWay = step.verdict === 'gain' || balanceRow(step.entry.verb)?.kind === 'cold';
  return rankSlips(
    {
      grams: step.unaccounted.value.toNumber(),
      u: uncertainty(step.unaccounted),
      low: step.usual?.low ?? 0,
      high: step.usual?.high ?? 0,
      coverage: workshop.limits.coverage,
      divisionGrams: finest(flows.map(({ divisionGrams }) => divisionGrams)),
      throughputGrams: throughput(step),
      slipShare: noWay ? SLIP_SHARE.noWay : SLIP_SHARE.lossInWork,
      mirrored: false,
    },
    [...of([...step.inputs, ...step.added], 1), ...of([...step.outputs, ...step.lost], -1)],
  );
}

/** The balance of a step as other evidence for one of its flows; none where it has no balance. */
export function otherBalanceIn(step: Step | undefined, flow: Flow): OtherBalance | undefined {
  if (!step?.unaccounted || step.verdict === 'open' || step.verdict === 'solved') return undefined;
  const { usual, unaccounted } = step;
  return {
    residual: unaccounted.value.toNumber(),
    u: uncertainty(unaccounted),
    sign: flow.word === 'in' || flow.word === 'add' ? 1 : -1,
    low: usual?.low ?? 0,
    high: usual?.high ?? 0,
  };
}

/** What is said of a weighing: with its flow, or with the amount of an entry that moves nothing. */
const saidOf = ({ entry, weight }: Handover['from'], flow: Flow | undefined): Said =>
  flow?.said ?? entry.amounts.find(({ amount }) => amount === weight.amount)?.said ?? entry.said;

const grams = (value: Decimal | undefined): number => value?.abs().toNumber() ?? 0;

const finest = (divisions: readonly number[]): number => {
  const known = divisions.filter((division) => division > 0);
  return known.length > 0 ? Math.min(...known) : 0.01;
};

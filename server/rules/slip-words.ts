/** A slip of the pen that would explain a step's balance: where it is, what it is called, and the edit that mends it. */
import type { Account, Slip, Step } from '../engine/book';
import type { Flow } from '../engine/entry';
import type { OtherBalance } from '../engine/slip-ranking';
import { stepSlips } from '../engine/slips';
import { uncertainty } from '../quantity/measured';
import { SLIP_WORDS } from '../reports/words';
import type { Fix, Look } from './rule';

/** The likeliest slips in a step's own weights, with what each lot's other weighing says of them. */
export const slipsIn = (account: Account, step: Step, { workshop }: Look): readonly Slip[] =>
  stepSlips(step, workshop, (flow) => weighedElsewhere(account, flow));

/** The hand-over in which a flow's amount stands. */
const weighedElsewhere = ({ lots }: Account, flow: Flow): OtherBalance | undefined => {
  const handovers = flow.lot ? (lots.get(flow.lot.name)?.handovers ?? []) : [];
  for (const { from, to, difference } of handovers) {
    const sign = to.weight.amount === flow.amount ? 1 : from.weight.amount === flow.amount ? -1 : undefined;
    if (sign) return { residual: difference.value.toNumber(), u: uncertainty(difference), sign };
  }
  return undefined;
};

export const slipWords = ([best]: readonly Slip[]): string =>
  best ? ` Likeliest: ${SLIP_WORDS[best.kind]}; ${best.inTare ? 'tare ' : ''}${best.reads} would close it.` : '';

export const slipFixes = (slips: readonly Slip[]): readonly Fix[] =>
  slips.map((slip, index) => ({
    title: `Write ${slip.inTare ? 'tare ' : ''}${slip.reads} (${SLIP_WORDS[slip.kind]})`,
    edits: [{ at: slip.replace, text: slip.reads }],
    safe: false,
    preferred: index === 0,
  }));

/** Figures that hang on a weight which a finding calls a likely slip. */
import type { Account, Handover, Slip } from '../engine/book';
import { LONGEST_LABEL } from '../reports/figures';
import { slipSide, weightWords } from '../reports/handover-wording';
import { escapeMarkdown } from '../reports/markdown';
import type { Draft } from './hints/draft';

/** A label with the mark of what is not sure, and the reason in its tooltip; unchanged where nothing is in doubt. */
export const markDoubt = (drafts: readonly Draft[], account: Account): readonly Draft[] => {
  const doubt = slipIn(account);
  if (!doubt) return drafts;
  const { handover, slip } = doubt;
  const says = `${handover.lot} at ${weightWords(slipSide(handover, slip))} is likely a slip for ${slip.reads}, and this hangs on it.`;
  return drafts.map((draft) => ({
    ...draft,
    label: marked(draft.label),
    tooltip: (now) => `${escapeMarkdown(says)}\n\n${draft.tooltip(now)}`,
  }));
};

/** The likeliest slip of a hand-over, in a weight that went into this step or came out of it. */
const slipIn = ({ step, lots }: Account): { handover: Handover; slip: Slip } | undefined => {
  if (!step) return undefined;
  const amounts = new Set([...step.inputs, ...step.outputs].flatMap(({ amount }) => amount ?? []));
  for (const { handovers } of lots.values()) {
    for (const handover of handovers) {
      const slip = handover.explained ? undefined : handover.slips[0];
      if (slip && amounts.has(slip.amount)) return { handover, slip };
    }
  }
  return undefined;
};

const marked = (label: string): string => {
  const first = label[0] ?? '';
  return first >= '0' && first <= '9' && label.length < LONGEST_LABEL ? `~${label}` : label;
};

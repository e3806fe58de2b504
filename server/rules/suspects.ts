/** Weights of a step that nothing else checks: where its balance fails, the hand looks at these first. */
import type { Account, FlowWeight, Step } from '../engine/book';
import type { Flow } from '../engine/entry';
import type { Match, Related } from './rule';

/** More than these are no help. */
const MOST = 3;

/** The weighed flows of a step that no other weighing agrees with; none when there are too many to tell. */
const suspectsOf = (account: Account, step: Step): readonly FlowWeight[] => {
  const weighed = [...step.inputs, ...step.added, ...step.outputs, ...step.lost].filter(({ amount }) => amount?.figure);
  const alone = weighed.filter(({ flow }) => !isConfirmed(account, flow));
  return alone.length <= MOST ? alone : [];
};

/** Another weighing of the same metal agrees. */
const isConfirmed = ({ lots }: Account, { lot, amount }: Flow): boolean =>
  lots
    .get(lot?.name ?? '')
    ?.handovers.some(
      ({ from, to, explained }) => explained && (from.weight.amount === amount || to.weight.amount === amount),
    ) ?? false;

/** Where to put a finding about a step's balance, and where else to look. */
export const lookFirst = (
  account: Account,
  step: Step,
): Pick<Match, 'related'> & { readonly place: Match['place'] | undefined } => {
  const suspects = suspectsOf(account, step);
  const related: readonly Related[] = suspects.map((suspect) => ({
    place: suspect.amount!.place,
    says: 'nothing else checks this weight',
  }));
  const vessels = vesselsOf(step);
  return suspects.length === 1
    ? { place: suspects[0]!.amount!.place, related: vessels }
    : { place: undefined, related: [...related, ...vessels] };
};

/** What a crucible or cupel took up counts in the balance, and nothing checks it. */
const vesselsOf = ({ absorbed, entry }: Step): readonly Related[] =>
  absorbed === undefined
    ? []
    : entry.gear.flatMap(({ item, said: { before, after } }) =>
        before?.figure && after?.figure ? [{ place: after.place, says: `${item.name} weighed before and after` }] : [],
      );

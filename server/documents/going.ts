/** What goes with a shipment. */
import { fromMeasured } from '../engine/accounts/inexact';
import { movedBy } from '../engine/accounts/moves';
import type { Segment } from '../engine/accounts/segments';
import { type Fine, fineOf } from '../engine/accounts/stock';
import type { Weight } from '../engine/book';
import type { Entry, Flow } from '../engine/entry';
import { recorded, UNKNOWN } from '../engine/weigh';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';

export interface Going {
  readonly flow: Flow;
  readonly segment: Segment | undefined;
  readonly weight: Weight;
  /** Worked out where it is asked for: of many shipments few are shown. */
  readonly fine: readonly Fine[];
}

/** Each lot that goes, with what it weighs as it goes: what was written, else what the record has left of it. */
export const goingIn = (workspace: Workspace, parts: readonly Entry[]): readonly Going[] => {
  const { metals } = accountsOf(workspace);
  return parts.flatMap(({ flows }) =>
    flows.flatMap((flow): readonly Going[] => {
      if (flow.word !== 'in' || flow.none || !flow.lot) return [];
      const segment = metals.lineage.segment(flow);
      const event = segment?.events.find((one) => one.flow === flow);
      const own = event?.weight ?? UNKNOWN;
      const of = own.mass || own.volume ? own : recorded(event?.before, 'carried');
      return [
        {
          flow,
          segment,
          weight: of,
          get fine() {
            const amount = event && segment && movedBy(event, segment);
            return segment && amount ? fineOf(metals.best(segment), fromMeasured(amount)) : [];
          },
        },
      ];
    }),
  );
};

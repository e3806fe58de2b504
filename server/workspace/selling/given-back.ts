/** Fine metal that a buyer gives back in place of money, against what was weighed in of it. */
import { fromMeasured, type Inexact, spread, times } from '../../engine/accounts/inexact';
import { segmentsOf } from '../../engine/accounts/segments';
import type { DealWords } from '../../engine/selling/deal';
import { type Decimal, decimal } from '../../quantity/decimal';
import type { Place } from '../../text/place';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { bestOf, gramsOf, type LotKnown, sharesOf } from './known';

export interface GivenBack {
  readonly metal: string;
  /** Fine grams that the settlement says, to a step of the last digit. */
  readonly grams: Decimal;
  readonly step: Decimal;
  readonly place: Place;
  /** Fine grams of the lots that it came as, or their whole weight where that is less than what was to come; none where it is not known. */
  readonly came: Inexact | undefined;
  /** Still to come: all of it until a lot is named and weighed, else what is missing beyond weighing and assay. Below nought too much came. */
  readonly dueGrams: Decimal;
  readonly weighedIn: boolean;
}

export const givenBackOf = (workspace: Workspace, { returns, returned }: DealWords): readonly GivenBack[] => {
  const lots = returned.flatMap((name): LotKnown[] => {
    const story = workspace.book.lot(name);
    const [segment] = story && story.births.length > 0 ? segmentsOf(story).all : [];
    return segment ? [{ lot: name, segment, grams: segment.start.weight.mass }] : [];
  });
  const [grams, shares] = [gramsOf(lots), sharesOf(lots, bestOf(accountsOf(workspace).metals))];
  const weighedIn = grams !== undefined && lots.length === returned.length;
  return [...returns].map(([metal, { value, step, detail }]): GivenBack => {
    const base = { metal, grams: value, step, place: detail.place, weighedIn };
    if (!weighedIn) return { ...base, came: undefined, dueGrams: value };
    const weight = fromMeasured(grams);
    const share = shares.get(metal)?.share;
    // No more of a metal than it weighs.
    const came = share ? times(weight, share) : grams.value.lessThan(value) ? weight : undefined;
    const apart = came ? value.minus(decimal(Number(came.value.toPrecision(12)))) : decimal(0);
    const allowed = Math.max(step.toNumber(), workspace.workshop.limits.coverage * (came ? spread(came) : 0));
    return { ...base, came, dueGrams: apart.abs().greaterThan(allowed) ? apart : decimal(0) };
  });
};

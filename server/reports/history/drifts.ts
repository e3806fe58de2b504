/** Scales that read more, or less, each time the same lot comes back to them: in words, where each began and where it came to light. */
import type { Handover } from '../../engine/book';
import { leaningsIn } from '../../engine/longview/creep';
import { chartSettings } from '../../engine/longview/series';
import type { Limits } from '../../engine/workshop';
import { decimal } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import type { LongView } from '../../workspace/long-view';
import { stepWords } from '../words';

export interface ScaleDrift {
  readonly scale: string;
  readonly first: Handover['to'];
  /** The weighing at which it came to light. */
  readonly told: Handover['to'];
  readonly says: string;
}

export const scaleDriftsIn = (view: Pick<LongView, 'scales'>, limits: Limits): readonly ScaleDrift[] =>
  [...view.scales()].flatMap(([scale, all]) =>
    leaningsIn(
      all.map(({ grams }) => grams),
      chartSettings(limits).cusum,
    ).map(({ began, told, side }): ScaleDrift => {
      const differing = all.slice(began, told + 1).filter(({ grams }) => grams !== 0);
      const sign = side === 'up' ? 1 : -1;
      const same = differing.filter(({ grams }) => sign * grams > 0);
      const sum = differing.reduce((so, { grams }) => so + grams, 0);
      const first = all[began]!.handover.to;
      return {
        scale,
        first,
        told: all[told]!.handover.to,
        says: `${scale} reads ${side === 'up' ? 'more' : 'less'} each time: of ${differing.length} lots weighed on it twice that differ, since ${stepWords(first.entry)} on ${first.entry.date ?? 'no day'}, ${same.length} came out ${side === 'up' ? 'heavier' : 'lighter'} the second time, by ${showDigits(decimal(Math.abs(sum) / differing.length), 2)} g in the mean. Check it with a weight.`,
      };
    }),
  );

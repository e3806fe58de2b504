/** An empty vessel heavier than the full one. */
import { weighAmount } from '../engine/weigh';
import { showMass } from '../quantity/show';
import { rule } from './rule';
import { weighingsOf } from './weighings';

export const tareAboveGross = rule({
  code: 'tare-above-gross',
  severity: 'error',
  atOnce: true,
  title: 'a tare above the gross weight',
  why: 'The empty vessel cannot weigh more than the full one. One of the two is miswritten, or belongs to another vessel.',
  wrong: '2026-05-04\nreceive A\n  gross 38.42 g, tare 181.20 g',
  right: '2026-05-04\nreceive A\n  gross 238.42 g, tare 181.20 g',
  entry: function* ({ entry }, { workshop }) {
    for (const { amount, said } of weighingsOf(entry)) {
      if (!said.tare) continue;
      const { gross, tare } = weighAmount(amount, said, workshop, '');
      if (!gross || !tare || gross.value.gte(tare.value)) continue;
      const place = said.tare.place;
      const way = 'name' in said.tare ? 'Mend it, or name another vessel.' : 'Exchange the two, or mend the wrong one.';
      yield {
        place: amount.place,
        says: `The tare, ${showMass(tare)}, is above the gross weight, ${showMass(gross)}. ${way}`,
        related: [{ place, says: 'the tare' }],
      };
    }
  },
});

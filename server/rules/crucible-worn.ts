/** A crucible that has done more heats than it usually lasts. */
import { type UsualLife, usualLifeOf } from '../engine/longview/crucibles';
import { rule } from './rule';

export const crucibleWorn = rule({
  code: 'crucible-worn',
  severity: 'warning',
  atOnce: false,
  title: 'a crucible past its usual life',
  why: 'A crucible thins and cracks from heat to heat, and one that fails in the fire spills the melt into the furnace. Before the next heat look at it cold, inside and out, for cracks, thin walls and glaze eaten through; follow its maker. When another takes its place under the same name, write the day as `since` in the workshop file, and what the old one did counts no more.',
  wrong:
    '2026-05-04\nreceive A 20.00 g\nreceive B 20.00 g\ncast T1, crucible C2, in A, out A1 19.99 g bar\n2026-05-05\ncast T2, crucible C2, in B, out B1 19.99 g bar',
  right:
    '2026-05-04\nreceive A 20.00 g\nreceive B 20.00 g\ncast T1, crucible C2, in A, out A1 19.99 g bar\n2026-05-05\ncast T2, crucible C3, in B, out B1 19.99 g bar',
  workshop: 'crucibles:\n  C2: { volume: 60 mL, heats: 1 }\n  C3: { volume: 60 mL, heats: 1 }\n',
  source:
    '`heats` of the crucible in the workshop file; else the middle of what three or more of the same material did that have a day in `until`. How many heats a crucible lasts hangs on make, flux and fire: no source gives one figure.',
  lookBack: function* ({ view, look }) {
    const crucibles = [...look.workshop.crucibles.values()];
    if (crucibles.every(({ usualHeats, until }) => usualHeats === undefined && until === undefined)) return;
    const lives = view.crucibles();
    for (const one of lives) {
      const usual = one.crucible?.until === undefined ? usualLifeOf(one, lives) : undefined;
      const last = one.heats.at(-1);
      if (!usual || !last || one.heats.length <= usual.heats) continue;
      const gear = last.gear.find(({ item }) => item.name === one.name)!;
      yield {
        place: gear.item.place,
        says: `${one.name} has done ${one.heats.length} heats since ${one.heats[0]!.date ?? 'the first day'}; ${lastsWords(usual)}. Look at it for cracks and thin walls before the next heat.`,
        causes: [],
      };
    }
  },
});

const lastsWords = ({ heats, learntFrom }: UsualLife): string =>
  learntFrom === undefined ? `it usually lasts ${heats}` : `${learntFrom} like it were given up after about ${heats}`;

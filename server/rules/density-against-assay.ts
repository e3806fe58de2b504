/** A fineness that a density does not allow. */
import { assayed } from '../engine/accounts/assays';
import { spread } from '../engine/accounts/inexact';
import { shareWords } from '../reports/fine';
import { stepWords } from '../reports/words';
import { byMethod } from './fine-words';
import { rule } from './rule';

export const densityAgainstAssay = rule({
  code: 'density-against-assay',
  severity: 'warning',
  atOnce: false,
  title: 'a fineness that the density does not allow',
  why: 'With silver and copper as the rest, a density leaves gold only so much room. An assay outside of it means a hollow or a bubble, slag inside, a plated piece, a heavy filling, or a wrong figure. Cut it or melt it, and assay the whole.',
  wrong:
    '2026-05-04\nreceive A 50.00 g\nassay A by xrf\n  Au 91.6 %\nassay A by density\n  air 50.00 g\n  water 46.50 g 20 °C',
  right:
    '2026-05-04\nreceive A 50.00 g\nassay A by xrf\n  Au 91.6 %\nassay A by density\n  air 50.00 g\n  water 47.20 g 20 °C',
  source: 'volumes that add up, ± 12 thousandths of gold: measured alloys, Rose, The Metallurgy of Gold',
  metal: function* ({ entry, accounts, look }) {
    const bounds = entry.verb === 'assay' ? assayed(entry).get('Au') : undefined;
    if (!bounds || bounds.share || !entry.name) return;
    const { metals } = accounts;
    const segment = metals.lineage.segmentAt(entry.name.name, entry);
    const all = segment ? metals.assays(segment) : [];
    // A density that says nothing of this lot is held against nothing.
    if (!all.includes(entry)) return;
    for (const other of all) {
      const gold = assayed(other).get('Au');
      if (!gold?.share) continue;
      const reach = look.workshop.limits.coverage * spread(gold.share);
      const { value } = gold.share;
      if (value >= bounds.low - reach && value <= bounds.high + reach) continue;
      yield {
        place: entry.name.place,
        says: `By its density ${entry.name.name} holds ${percent(bounds.low)} to ${percent(bounds.high)} gold, and ${stepWords(other)}${byMethod(other)} says ${shareWords(gold.share, gold.ground)}. ${value > bounds.high ? 'A hollow, a bubble or slag inside reads so' : 'A heavy filling reads so, or a figure is wrong'}. Cut it or melt it, and assay the whole.`,
        related: [{ place: other.name?.place ?? other.head, says: 'this assay' }],
      };
      return;
    }
  },
});

const percent = (share: number): string => `${Math.round(share * 100)} %`;

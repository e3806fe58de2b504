/** Metal of two owners in one step, and nothing said of it. */
import { listWords, stepWords } from '../reports/words';
import { rule } from './rule';
import { isFirstPart } from './steps';

export const ownersMixed = rule({
  code: 'owners-mixed',
  severity: 'error',
  atOnce: false,
  title: "two owners' metal in one step",
  why: 'Once melted together nobody can tell whose gold is whose. Metal from a customer stays theirs unless it was `bought`. Where it was agreed to join it, say how it is shared: `pooled by weight` or `pooled by assay`.',
  wrong:
    '2026-05-04\nreceive A 10.00 g, owner high-fell\nreceive B 10.00 g, owner beck-side\ncast T1\n  in A 10.00 g\n  in B 10.00 g\n  out C 19.98 g bar',
  right:
    '2026-05-04\nreceive A 10.00 g, owner high-fell\nreceive B 10.00 g, owner beck-side\ncast T1, pooled by weight\n  in A 10.00 g\n  in B 10.00 g\n  out C 19.98 g bar',
  metal: function* ({ account, entry, accounts }) {
    const { step } = account;
    if (!step || !isFirstPart(account) || entry.said.pooled) return;
    const { lineage } = accounts.metals;
    /** Fine metal of the shop is most often lent for parting. */
    const isLoan = (lot: string, whose: string): boolean => {
      const segment = whose === accounts.shop ? lineage.segmentAt(lot, entry) : undefined;
      const known = segment && accounts.metals.best(segment);
      return ['Au', 'Ag'].some((metal) => (known?.get(metal)?.share?.value ?? 0) >= FINE);
    };
    const seen = new Map<string, string>();
    for (const { flow } of step.inputs) {
      const segment = lineage.segment(flow);
      const ownership = segment && accounts.ownedAt(segment, entry);
      if (!ownership || ownership.pooled || flow.said.pooled || flow.said.lent) continue;
      const [owner] = ownership.owners.size > 0 ? accounts.namesOf(ownership) : [];
      const whose = owner ?? accounts.shop;
      if (seen.size > 0 && !seen.has(whose) && flow.lot) {
        const [first, lot] = [...seen][0]!;
        const loan = [[flow.lot.name, whose] as const, [lot, first] as const].find((one) => isLoan(...one));
        yield {
          place: flow.lot.place,
          says: `${flow.lot.name} is ${whoseWords(whose)}, and ${lot} in ${stepWords(entry)} is ${whoseWords(first)}. Keep them apart, or say how they are shared: \`pooled by weight\` or \`pooled by assay\`.${loan ? ` If ${loan[0]} is to come back, write \`lent\` behind it.` : ''}`,
        };
        return;
      }
      seen.set(whose, flow.lot?.name ?? 'metal');
    }
  },
});

const FINE = 0.98;

const whoseWords = (owner: string): string => (owner === 'the shop' ? "the shop's own" : `of ${listWords([owner])}`);

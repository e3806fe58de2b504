/** A customer who got back less metal than was agreed, with too little of theirs left here to give back. */
import { givenTooLittle } from '../reports/selling/toll';
import { listWords } from '../reports/words';
import { tollOf } from '../workspace/selling/tolls';
import { rule } from './rule';

const page = (own: string, bill: string): string => `2026-05-04
receive H from high-fell
  60.00 g
assay H by fire, corrected
  Au 70.00 ±0.02 % expanded
receive G from moor-supply
  0.60 g, bought 48.00 USD
assay G by fire, corrected
  Au 99.95 %
melt M1
  in H
  out B 59.90 g bar
assay B by fire, corrected
  Au 70.05 ±0.02 % expanded
sample B
  out Q 2.00 g drillings
ship L1 to harbour-lab
  in Q 2.00 g
ship V1 to high-fell
  in B 57.90 g
${own}${bill}`;

export const givenBackShort = rule({
  code: 'given-back-short',
  severity: 'warning',
  atOnce: false,
  title: 'less metal given back than was agreed',
  why: 'The terms say what share of a customer’s metal goes back. What is missing of it beyond what weighing and assay explain, and beyond all of theirs that is still here, is owed to them: give it from the shop’s own and name that lot on their bill (`returned`), pay for it with a `price` of that metal there, or look where it is. It is told at the last shipment back.',
  wrong: page('', ''),
  right: page('  in G 0.60 g\n', 'settle V1 with high-fell\n  received 60.00 g, pays Au 98 %\n  returned G\n'),
  workshop: `shop: { currency: USD }
parties:
  harbour-lab: lab
  high-fell:
    role: customer
    terms:
      2026-01-01:
        pays: { Au: 98 % }
`,
  source: 'beyond twice the standard uncertainty (GUM)',
  metal: function* ({ workspace, account: { entry } }) {
    const toll = entry.verb === 'ship' && entry.name ? tollOf(workspace, entry.name.name) : undefined;
    if (!toll) return;
    const last = toll.pieces.filter(({ where }) => where === 'returned').at(-1);
    const isLast = entry.flows.some(({ word, lot }) => word === 'in' && lot?.name === last?.lot);
    const less = isLast ? givenTooLittle(toll) : [];
    if (less.length === 0) return;
    yield {
      place: entry.name!.place,
      says: `${toll.customer} is owed ${listWords(less)} more than is here of theirs. Look where it is; or give it from your own, by \`returned LOT\` on their bill, or pay for it by a \`price\` there.`,
    };
  },
});

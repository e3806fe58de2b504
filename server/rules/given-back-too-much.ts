/** A customer who got back more metal than was agreed. */
import { givenTooMuch } from '../reports/selling/toll';
import { listWords } from '../reports/words';
import { tollOf } from '../workspace/selling/tolls';
import { rule } from './rule';

const page = (back: string): string => `2026-05-04
receive H from high-fell
  60.00 g
assay H by fire, corrected
  Au 70.00 ±0.02 % expanded
melt M1
  in H
  out B 59.90 g bar
assay B by fire, corrected
  Au 70.05 ±0.02 % expanded
ship V1 to high-fell
  ${back}
`;

export const givenBackTooMuch = rule({
  code: 'given-back-too-much',
  severity: 'hint',
  atOnce: false,
  title: 'more metal given back than was agreed',
  why: 'The terms say what share of a customer’s metal goes back. What goes back beyond it, and beyond what weighing and assay explain, is the shop’s own: take it into the bill, or weigh and assay again what left. It is told at the last shipment, and only while no other metal of that customer’s lot is still owed.',
  wrong: page('in B 59.90 g'),
  right: page('in 56.95 g of B'),
  workshop: `parties:
  high-fell:
    role: customer
    terms:
      2026-01-01:
        pays: { Au: 95 % }
`,
  source: 'beyond twice the standard uncertainty (GUM)',
  metal: function* ({ workspace, account: { entry } }) {
    const toll = entry.verb === 'ship' && entry.name ? tollOf(workspace, entry.name.name) : undefined;
    if (!toll) return;
    const last = toll.pieces.filter(({ where }) => where === 'returned').at(-1);
    const isLast = entry.flows.some(({ word, lot }) => word === 'in' && lot?.name === last?.lot);
    const more = isLast ? givenTooMuch(toll) : [];
    if (more.length === 0) return;
    yield {
      place: entry.name!.place,
      says: `${toll.customer} got back ${listWords(more)}. Take it into the bill, or assay again what went back.`,
    };
  },
});

/** A refiner of the workshop file with whom nothing was agreed. */
import { termsOn, wordsOf } from '../engine/selling/deal';
import { offersMade } from '../workspace/selling/offered';
import { salesOf } from '../workspace/selling/sales';
import { lotsShipped } from '../workspace/selling/shipments';
import { rule } from './rule';

export const termsMissing = rule({
  code: 'terms-missing',
  severity: 'hint',
  atOnce: false,
  title: 'no terms of a refiner on file',
  why: 'Without terms there is nothing to hold their settlement against. Write what was agreed under the party in the workshop file, by the day it holds from: payable shares, charges, the splitting limit, the days to pay. Where nothing is known, buyers commonly pay 90 to 95 % of the gold of such lots (common practice, no source).',
  wrong: '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 91.6 %\nship V1 to moor-refiner\n  in A 60.00 g',
  right: '2026-05-04\nreceive A 60.00 g\nassay A by fire\n  Au 91.6 %\nship V1 to quay-refiner\n  in A 60.00 g',
  workshop:
    'parties:\n  moor-refiner: refiner\n  quay-refiner:\n    role: refiner\n    terms:\n      2026-01-01:\n        pays: { Au: 98 % }\n',
  metal: function* ({ workspace, account: { entry }, look }) {
    const sale = entry.verb === 'ship' || entry.verb === 'offer' ? salesOf(workspace).of(entry) : undefined;
    const { party, date } = entry;
    const known = party && look.workshop.parties.get(party.name);
    if (!sale || known?.role !== 'refiner' || date === undefined || termsOn(known, date)) return;
    const { pays, total } = wordsOf(sale.parts);
    if (pays.size > 0 || total) return;
    const asked = { lots: lotsShipped(workspace, sale), party: party!.name, until: date };
    if (entry.verb === 'ship' && offersMade(workspace, asked).length > 0) return;
    const [first] = known.terms;
    yield {
      place: party!.place,
      says: first
        ? `The terms of ${party!.name} begin on ${first.from}: of ${date} there are none on file.`
        : `No terms of ${party!.name} are on file: write them in the workshop file, or what they pay with \`pays\`.`,
    };
  },
});

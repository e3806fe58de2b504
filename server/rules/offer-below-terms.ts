/** An offer that pays less than the terms on file. */
import { belowSays, soldBelowSays } from '../reports/selling/below';
import { offerOf } from '../workspace/selling/offers';
import { soldOf } from '../workspace/selling/sold';
import { rule } from './rule';
import { EXAMPLE_SHIPMENT, EXAMPLE_TERMS } from './settled';

const before = EXAMPLE_SHIPMENT.replace('ship V1 to quay-refiner\n  in A 60.00 g\n', '');

export const offerBelowTerms = rule({
  code: 'offer-below-terms',
  severity: 'warning',
  atOnce: false,
  title: 'an offer below the terms on file',
  why: 'The offer and the terms in the workshop file are both reckoned for this lot, at the prices of the day. If the party has changed its terms, write the new ones under their date; else hold it to what was agreed. So is a sum for which metal is sold of hand, unless an offer of it says so already.',
  wrong: `${before}offer A from quay-refiner\n  pays Au 96 %, pays Ag 90 %\n  charge melting 45.00 USD\n`,
  right: `${before}offer A from quay-refiner\n  pays Au 98 %, pays Ag 90 %\n  charge melting 45.00 USD\n`,
  workshop: EXAMPLE_TERMS,
  metal: function* ({ workspace, account: { entry } }) {
    const sold = soldOf(workspace, entry);
    if (sold?.below) yield { place: entry.money!.place, says: soldBelowSays(sold.worth.terms!, sold.below) };
    const offer = offerOf(workspace, entry);
    if (!offer?.below) return;
    const worst = offer.below.words[0]?.place;
    yield {
      place: worst ?? entry.party?.place ?? entry.name?.place ?? entry.head,
      says: belowSays(offer.worth.terms!, offer.below),
    };
  },
});

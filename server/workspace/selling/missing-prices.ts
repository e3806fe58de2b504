/** Prices and rates that a sale wants and that nobody wrote. */
import type { Entry } from '../../engine/entry';
import { commonDeal, dealOf, termsOn, wordsOf } from '../../engine/selling/deal';
import { inCurrency, isPriced, type NoPrice, priceOn } from '../../engine/selling/prices';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { billOf } from './bills';
import { headOf } from './consigned';
import { bestOf, sharesOf } from './known';
import { currencyOf, settledCurrencyOf } from './money';
import { salesOf } from './sales';
import { consignmentOf, lotAt } from './shipments';

/** A metal that a deal pays for and that has no price, or a charge that has no rate, and the currency that it is wanted in, where one is known. */
export type Missing = NoPrice & { readonly wanted: string | undefined };

/** Of an offer by what it says or the terms on file; of a settlement what it does not price itself. */
export const missingPrices = (workspace: Workspace, entry: Entry): readonly Missing[] => {
  const sales = salesOf(workspace);
  const sale = sales.of(entry);
  const head = sale && headOf(sale);
  if (!sale || head?.date === undefined || (entry.verb !== 'offer' && entry.verb !== 'settle')) return [];
  const words = wordsOf(sale.parts);
  const known = head.name && (entry.verb === 'offer' ? lotAt(workspace, head.name.name, head) : undefined);
  const lots = known ? [known] : (head.name && consignmentOf(workspace, head.name.name)?.lots) || [];
  const party = head.party?.name;
  const terms = termsOn(party === undefined ? undefined : workspace.workshop.parties.get(party), head.date);
  const deal = dealOf(words, terms) ?? (entry.verb === 'offer' ? commonDeal() : undefined);
  const shares = sharesOf(lots, bestOf(accountsOf(workspace).metals));
  const wanted = (entry.verb === 'settle' ? settledCurrencyOf : currencyOf)(
    words,
    terms,
    workspace.workshop,
    sales,
    head.date,
  );
  // On a customer's bill metal has a price only where it is bought from them.
  const isBill = entry.verb === 'settle' && billOf(workspace, entry) !== undefined;
  const metals = isBill ? words.prices.keys() : (deal?.pays.keys() ?? []);
  const metalsMissing = [...metals].flatMap((metal): Missing[] => {
    if (words.returns.has(metal)) return [];
    const isThere = words.assay.has(metal) || (shares.get(metal)?.share.value ?? 0) > 0;
    if (!isThere) return [];
    const named = words.prices.get(metal)?.value;
    if (named) {
      const isKnown = wanted === undefined || inCurrency(sales.quotes, named, wanted, head.date!) !== undefined;
      return isKnown ? [] : [{ metal, missing: 'rate', quotedIn: named.currency, wanted }];
    }
    const price = priceOn(sales.quotes, metal, head.date!, wanted);
    return isPriced(price) ? [] : [{ ...price, wanted }];
  });
  if (entry.verb !== 'offer' || wanted === undefined) return metalsMissing;
  const charges = [...(deal?.charges ?? [])].flatMap(([word, term]): Missing[] => {
    const money = [term, term.least].flatMap((one) => (one?.currency ? [{ ...one, currency: one.currency }] : []));
    const without = money.find((one) => !inCurrency(sales.quotes, one, wanted, head.date!));
    return without ? [{ metal: `charge ${word}`, missing: 'rate', quotedIn: without.currency, wanted }] : [];
  });
  return metalsMissing.length > 0 ? metalsMissing : charges;
};

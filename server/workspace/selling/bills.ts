/** The bill of a customer: `settle` of a lot that came in from them, or of a shipment of their metal back to them. */
import { type Inexact, isGuess } from '../../engine/accounts/inexact';
import type { Entry } from '../../engine/entry';
import { type Bill, type BillCase, checkBill } from '../../engine/selling/bill';
import { wordsOf } from '../../engine/selling/deal';
import { weighAmount } from '../../engine/weigh';
import type { Decimal } from '../../quantity/decimal';
import type { Measured } from '../../quantity/measured';
import type { Workspace } from '../workspace';
import { priceDayOf } from './agreed-prices';
import { headOf, settledWith } from './consigned';
import { asDecimal } from './known';
import { marketOn, settledCurrencyOf } from './money';
import { proceedsOf, totalsOf } from './proceeds';
import { type Sale, salesOf } from './sales';
import { chargedOn, chargesOn, type Toll, tollOf } from './tolls';

export interface Billed extends Bill {
  readonly name: string;
  readonly toll: Toll;
  readonly sale: Sale;
  readonly date: string;
  readonly currency: string;
  readonly paidOn: string | undefined;
}

/** Undefined for an entry that is no bill, or of which nothing can be reckoned. */
export const billOf = (workspace: Workspace, entry: Entry): Billed | undefined => {
  const sales = salesOf(workspace);
  const sale = entry.verb === 'settle' ? sales.of(entry) : undefined;
  const head = sale && headOf(sale);
  const settledBy = sale && settledWith(sales, sale);
  const toll = head?.name && tollOf(workspace, head.name.name, settledBy);
  if (!sale || !toll || head.date === undefined) return undefined;
  const { name, date } = { ...head, name: head.name!, date: head.date };
  if (settledBy !== undefined && settledBy !== toll.customer) return undefined;
  const { workshop } = workspace;
  const words = wordsOf(sale.parts);
  const currency = settledCurrencyOf(words, toll.terms, workshop, sales, date);
  if (currency === undefined) return undefined;
  const market = marketOn(sales, date, currency);
  const weigh = (of: typeof words.received): Measured | undefined =>
    of && weighAmount(of.value, of.detail.said, workshop, `${of.detail.word} of the bill`).mass;
  const melted = weigh(words.melted);
  const of: BillCase = {
    currency,
    terms: toll.terms,
    words,
    ours: { grams: toll.receivedGrams, shares: new Map() },
    received: weigh(words.received),
    melted,
    theirU: new Map(),
    exchanged: new Map(),
    late: undefined,
    umpire: new Map(),
    prices: new Map(
      [...words.prices.keys()].map((metal) => {
        const price = market.find(metal);
        return [metal, { price, day: priceDayOf(price, true) }];
      }),
    ),
    convert: market.convert,
    coverage: workshop.limits.coverage,
    costs: (charges, told) => {
      const ours = chargedOn(toll);
      const received = told.received ?? ours?.received;
      if (!received) return [];
      const on = { received, melted: told.melted ?? ours?.melted ?? received };
      const fine = new Map([...(ours?.fine ?? []), ...told.fine]);
      return chargesOn({ ...on, fine }, charges, { market, rounding: toll.terms?.rounding }).charges;
    },
    journal: {
      receivedGrams: toll.receivedGrams?.value,
      meltedGrams: meltedOf(toll),
      shares: sharesOf(toll, melted !== undefined, words.assay.size === 0),
      proceeds: totalsOf(proceedsOf(workspace, toll)).find((one) => one.currency === currency)?.amount,
    },
  };
  const bill = checkBill(of);
  return bill && { ...bill, name: name.name, toll, sale, date, currency, paidOn: words.paid };
};

/** All bills of the lots of an account, by whatever name they were given out. */
export const billsOf = (workspace: Workspace, toll: Toll): readonly Billed[] => {
  const lots = new Set(toll.lots.map(({ lot }) => lot));
  return salesOf(workspace)
    .settles.flatMap(({ entry }) => billOf(workspace, entry) ?? [])
    .filter((bill) => bill.toll.lots.some(({ lot }) => lots.has(lot)));
};

/** All that came of it as metal. */
const meltedOf = ({ pieces }: Toll): Decimal | undefined => {
  const metal = pieces.filter(({ residue }) => !residue);
  if (metal.length === 0 || metal.some(({ grams }) => !grams)) return undefined;
  return asDecimal(metal.reduce((so, { grams }) => so + grams!.value, 0));
};

/** Mass fractions of what came of it as metal, or of what came in. An assay that they were told is not held against a guess. */
const sharesOf = (
  { pieces, metals, receivedGrams }: Toll,
  isMelted: boolean,
  withGuesses: boolean,
): ReadonlyMap<string, Decimal> => {
  const isSure = (of: Inexact): boolean => withGuesses || !isGuess(of);
  if (!isMelted)
    return new Map(
      metals.flatMap(({ metal, received }) =>
        received && isSure(received) && receivedGrams?.value.greaterThan(0)
          ? [[metal, asDecimal(received.value / receivedGrams.value.toNumber())] as const]
          : [],
      ),
    );
  const metal = pieces.filter(({ residue }) => !residue);
  const grams = metal.reduce((so, one) => so + (one.grams?.value ?? 0), 0);
  return new Map(
    metals.flatMap(({ metal: symbol }) => {
      if (!(grams > 0) || metal.some(({ fine }) => !fine.has(symbol) || !isSure(fine.get(symbol)!))) return [];
      return [[symbol, asDecimal(metal.reduce((so, { fine }) => so + fine.get(symbol)!.value, 0) / grams)] as const];
    }),
  );
};

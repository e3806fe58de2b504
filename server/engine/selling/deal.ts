/** What holds for a sale: the words of an offer or a settlement, and the terms that a party agreed to. */
import { type Decimal, decimal, decimalsOf, type Rounding } from '../../quantity/decimal';
import { addMoney, type Money, money } from '../../quantity/money';
import { toBase } from '../../quantity/units';
import type { Amount, Entry, Money as MoneyWritten, Named, OtherDetail } from '../entry';
import type { Bands, ChargeTerm, Cut, Party, Terms } from '../workshop';

/** What is paid for a lot, whoever said so. */
export interface Deal {
  readonly pays: ReadonlyMap<string, Bands>;
  readonly less: ReadonlyMap<string, Cut>;
  readonly keeps: ReadonlyMap<string, Cut>;
  readonly charges: ReadonlyMap<string, ChargeTerm>;
  readonly rounding: Rounding;
  readonly fineStepGrams: Decimal | undefined;
}

/** Half to even, once for each line of a settlement, unless the terms say otherwise. */
export const DEFAULT_ROUNDING: Rounding = 'half-even';

/** A price as somebody wrote it: money for a mass. */
export interface Rate extends Money {
  /** Grams of the unit that it is for. */
  readonly perGrams: Decimal;
  readonly place: MoneyWritten['place'];
}

/** One thing said, with the line that says it. */
export interface Spoken<Value> {
  readonly value: Value;
  readonly detail: OtherDetail;
}

/** What a sheet prints of a metal's line. */
export interface Printed {
  readonly payable: (Spoken<Decimal> & { readonly step: Decimal }) | undefined;
  readonly worth: Spoken<Money> | undefined;
}

/** The deal words of an entry and of what goes on with it, each with its place. The later of two wins, as it is written. */
export interface DealWords {
  readonly pays: ReadonlyMap<string, Spoken<Bands>>;
  readonly less: ReadonlyMap<string, Spoken<Cut>>;
  readonly keeps: ReadonlyMap<string, Spoken<Cut>>;
  readonly charges: ReadonlyMap<string, Spoken<ChargeTerm>>;
  readonly prices: ReadonlyMap<string, Spoken<Rate>>;
  /** Sums that the sheet prints, by metal: the payable grams, to a step of its last place, and the money for them. */
  readonly printed: ReadonlyMap<string, Printed>;
  /** Metal that comes back in place of money: fine grams by metal, to a step of the last place. */
  readonly returns: ReadonlyMap<string, Spoken<Decimal> & { readonly step: Decimal }>;
  /** The lots that it was weighed in as. */
  readonly returned: readonly string[];
  readonly credits: readonly Spoken<Money & { readonly word: string }>[];
  readonly total: Spoken<Money> | undefined;
  readonly paid: string | undefined;
  readonly received: Spoken<Amount> | undefined;
  readonly melted: Spoken<Amount> | undefined;
  /** Their assay: mass fraction by metal, as typed. */
  readonly assay: ReadonlyMap<string, { readonly share: Decimal; readonly amount: Amount; readonly symbol: Named }>;
}

/** It says something of what is paid, and does not leave all to the terms on file. */
export const speaksOfPay = ({ pays, less, keeps, charges, prices, total }: DealWords): boolean =>
  total !== undefined || [pays, less, keeps, charges, prices].some(({ size }) => size > 0);

export const wordsOf = (parts: readonly Entry[]): DealWords => {
  const others = parts.flatMap((part) => part.others);
  const all = (word: string): readonly OtherDetail[] => others.filter((other) => other.word === word);
  const last = (word: string): OtherDetail | undefined => others.findLast((other) => other.word === word);
  const byName = <Value>(
    word: string,
    read: (detail: OtherDetail) => Value | undefined,
  ): ReadonlyMap<string, Spoken<Value>> =>
    new Map(
      all(word).flatMap((detail) => {
        const value = read(detail);
        const name = detail.names[0]?.name;
        return name === undefined || value === undefined ? [] : [[name, { value, detail }] as const];
      }),
    );
  const amountOf = (word: string): Spoken<Amount> | undefined => {
    const detail = last(word);
    const [value] = detail?.amounts ?? [];
    return detail && value ? { value, detail } : undefined;
  };
  return {
    pays: byName('pays', readShare),
    less: byName('less', readCut),
    keeps: byName('keeps', readCut),
    charges: byName('charge', readCharge),
    prices: byName('price', readRate),
    returns: new Map(
      all('returns').flatMap((detail) => {
        const [metal, amount] = [detail.names[0]?.name, detail.amounts[0]];
        const value = amount && gramsIn(amount);
        return metal === undefined || !value ? [] : [[metal, { value, step: lastDigit(amount), detail }] as const];
      }),
    ),
    returned: all('returned').flatMap(({ names: [lot] }) => lot?.name ?? []),
    printed: printedIn(all('payable'), all('worth')),
    credits: all('credit').flatMap((detail) =>
      detail.money && !detail.money.per
        ? [{ value: { ...plain(detail.money), word: detail.names[0]?.name ?? '' }, detail }]
        : [],
    ),
    total: totalOf(parts),
    paid: last('paid')?.date,
    received: amountOf('received'),
    melted: amountOf('melted'),
    assay: assayIn(parts),
  };
};

const printedIn = (payables: readonly OtherDetail[], worths: readonly OtherDetail[]): DealWords['printed'] => {
  const metals = new Set([...payables, ...worths].flatMap(({ names: [metal] }) => metal?.name ?? []));
  return new Map(
    [...metals].map((metal): readonly [string, Printed] => {
      const isOf = ({ names: [first] }: OtherDetail): boolean => first?.name === metal;
      const [payable, worth] = [payables.findLast(isOf), worths.findLast(isOf)];
      const amount = payable?.amounts[0];
      const grams = amount && gramsIn(amount);
      return [
        metal,
        {
          payable: payable && grams && { value: grams, step: lastDigit(amount), detail: payable },
          worth: worth?.money && !worth.money.per ? { value: plain(worth.money), detail: worth } : undefined,
        },
      ];
    }),
  );
};

/** One step of the last digit as typed, in the base unit: 0.0001 for `91.30 %`. */
export const lastDigit = ({ figure }: Amount): Decimal =>
  figure?.form === 'reading' && figure.digits.unit
    ? decimal(10).pow(-decimalsOf(figure.digits.text)).times(figure.digits.unit.factor)
    : decimal(0);

/** What each entry says it comes to, together: an advance, and under `more` what came later. Of two in one entry the last. */
const totalOf = (parts: readonly Entry[]): Spoken<Money> | undefined => {
  const totals = parts.flatMap(({ others }): Spoken<Money>[] => {
    const detail = others.findLast(({ word }) => word === 'total');
    return detail?.money && !detail.money.per ? [{ value: plain(detail.money), detail }] : [];
  });
  const last = totals.at(-1);
  const alike = totals.filter(({ value }) => value.currency === last?.value.currency);
  return last && { value: addMoney(...(alike.map(({ value }) => value) as [Money, ...Money[]])), detail: last.detail };
};

const plain = ({ digits, currency }: MoneyWritten): Money => money(digits.value, currency);

/** Of a plain reading; none of a range, a limit, a guess of several. */
export const fractionOf = ({ figure }: Amount): Decimal | undefined =>
  figure?.form === 'reading' && figure.digits.unit?.kind === 'proportion'
    ? toBase(figure.digits.value, figure.digits.unit)
    : undefined;

const gramsIn = ({ figure }: Amount): Decimal | undefined =>
  figure?.form === 'reading' && figure.digits.unit?.kind === 'mass'
    ? toBase(figure.digits.value, figure.digits.unit)
    : undefined;

const readShare = ({ amounts: [amount] }: OtherDetail): Bands | undefined => {
  const share = amount && fractionOf(amount);
  return share && [{ from: decimal(0), share }];
};

const readCut = ({ amounts: [amount] }: OtherDetail): Cut | undefined => {
  const share = amount && fractionOf(amount);
  if (share) return { share };
  const grams = amount && gramsIn(amount);
  return grams && { grams };
};

const readCharge = ({ money: written, least, amounts: [amount], names }: OtherDetail): ChargeTerm | undefined => {
  const of = names[1]?.name;
  const lowest = least && !least.per ? { least: { amount: least.digits.value, currency: least.currency } } : {};
  if (written) return { amount: written.digits.value, currency: written.currency, per: written.per, of, ...lowest };
  const share = amount && fractionOf(amount);
  return share && { amount: share, currency: undefined, per: undefined, of, ...lowest };
};

const readRate = ({ money: written }: OtherDetail): Rate | undefined =>
  written?.per?.kind === 'mass' ? { ...plain(written), perGrams: written.per.factor, place: written.place } : undefined;

const assayIn = (parts: readonly Entry[]): DealWords['assay'] => {
  const found = new Map<string, { share: Decimal; amount: Amount; symbol: Named }>();
  for (const { readings } of parts) {
    for (const { reading } of readings) {
      for (const { symbol, amount } of reading.metals) {
        const share = fractionOf(amount);
        if (share) found.set(symbol.name, { share, amount, symbol });
      }
    }
  }
  return found;
};

/** The terms in force on a day: the last agreed by then. */
export const termsOn = (party: Party | undefined, date: string): Terms | undefined =>
  party?.terms.findLast(({ from }) => from <= date);

/** An offer of shares as terms from its day on; none where it names no share. */
export const termsOf = (words: DealWords, { date, head }: Pick<Entry, 'date' | 'head'>): Terms | undefined =>
  words.pays.size === 0 || date === undefined
    ? undefined
    : {
        from: date,
        place: head,
        pays: valuesOf(words.pays),
        less: valuesOf(words.less),
        keeps: valuesOf(words.keeps),
        charges: valuesOf(words.charges),
        splitting: new Map(),
        assay: undefined,
        exchangeDays: undefined,
        umpire: undefined,
        meltLoss: undefined,
        minimumGrams: undefined,
        days: undefined,
        priceDay: undefined,
        fixing: undefined,
        rounding: undefined,
        fineStepGrams: undefined,
        residues: undefined,
      };

const valuesOf = <Value>(spoken: ReadonlyMap<string, Spoken<Value>>): ReadonlyMap<string, Value> =>
  new Map([...spoken].map(([name, { value }]) => [name, value]));

/**
 * What an entry says, over the terms in force. Who names a share names all that are paid, and who names a charge names all: what is not said of
 * these is taken from the terms as a whole.
 */
export const dealOf = (words: DealWords | undefined, terms: Terms | undefined): Deal | undefined => {
  const said = words && words.pays.size > 0;
  if (!said && !terms) return undefined;
  const charged = words && words.charges.size > 0;
  return {
    pays: said ? valuesOf(words.pays) : terms!.pays,
    less: words && words.less.size > 0 ? valuesOf(words.less) : (terms?.less ?? NONE),
    keeps: words && words.keeps.size > 0 ? valuesOf(words.keeps) : (terms?.keeps ?? NONE),
    charges: charged ? valuesOf(words.charges) : (terms?.charges ?? new Map()),
    rounding: terms?.rounding ?? DEFAULT_ROUNDING,
    fineStepGrams: terms?.fineStepGrams,
  };
};

const NONE: ReadonlyMap<string, Cut> = new Map();

/**
 * What buyers commonly pay for a button of which nothing was agreed: 90 to 95 % of its gold, nothing for its silver (common practice, no source).
 */
export const COMMON_SHARE = { low: decimal('0.9'), best: decimal('0.925'), high: decimal('0.95') };

export const commonDeal = (share: Decimal = COMMON_SHARE.best): Deal => ({
  pays: new Map([['Au', [{ from: decimal(0), share }]]]),
  less: NONE,
  keeps: NONE,
  charges: new Map(),
  rounding: DEFAULT_ROUNDING,
  fineStepGrams: undefined,
});

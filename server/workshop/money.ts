/** Money: a currency, a price for a weight, a charge for work. */
import type { ChargeTerm, MoneyRate, Price } from '../engine/workshop';
import { unit } from '../quantity/units';
import { element } from '../vocabulary/elements';
import { BASES } from '../vocabulary/words';
import { readPlain } from './figures';
import { CHARGE } from './keys';
import { type Reading, reportKind, reportValue } from './reading';
import type { Item } from './tree';

const isCurrency = (text: string): boolean => /^[A-Z]{3}$/.test(text);

export const readCurrency = (item: Item, reading: Reading): string | undefined => {
  const text = item.kind === 'text' ? item.text.trim() : '';
  if (isCurrency(text)) return text;
  const upper = text.toUpperCase();
  return reportKind(reading, item, 'currency', isCurrency(upper) ? upper : undefined);
};

export const readPrice = (item: Item, reading: Reading): Price | undefined => {
  const figures = readPlain(item, reading, 'price', { zero: true });
  if (!figures) return undefined;
  const [currency = '', per = '', ...more] = figures.rest.split('/');
  const row = unit(per);
  if (!isCurrency(currency) || row?.kind !== 'mass' || more.length > 0) return reportKind(reading, item, 'price');
  return { amount: figures.low, currency, per: row };
};

/** `28.00 USD/h`, `450.00 USD/month` */
export const readRate =
  (kind: 'wage' | 'monthly sum', unitOfTime: 'h' | 'month') =>
  (item: Item, reading: Reading): MoneyRate | undefined => {
    const figures = readPlain(item, reading, kind, { zero: true });
    if (!figures) return undefined;
    const [currency = '', per, ...more] = figures.rest.split('/');
    return isCurrency(currency) && per === unitOfTime && more.length === 0
      ? { amount: figures.low, currency }
      : reportKind(reading, item, kind);
  };

const LEAST = ' at least ';

/** `45.00 USD`, `0.30 USD/g of melted`, `1 % of value`; with `at least 75.00 USD` behind, never less than that. */
export const readCharge = (item: Item, reading: Reading): ChargeTerm | undefined => {
  const at = item.kind === 'text' ? item.text.indexOf(LEAST) : -1;
  if (item.kind !== 'text' || at < 0) return readOneCharge(item, reading);
  const charge = readOneCharge({ ...item, text: item.text.slice(0, at) }, reading);
  const least = readOneCharge({ ...item, text: item.text.slice(at + LEAST.length) }, reading);
  if (!charge || !least) return undefined;
  const { amount, currency, per, of } = least;
  return currency !== undefined && !per && !of
    ? { ...charge, least: { amount, currency } }
    : reportKind(reading, item, CHARGE);
};

const readOneCharge = (item: Item, reading: Reading): ChargeTerm | undefined => {
  const figures = readPlain(item, reading, CHARGE, { zero: true });
  if (!figures) return undefined;
  const [what = '', of, ...more] = figures.rest.split(' of ');
  const basis = of?.trim();
  const isBasis = basis === undefined || BASES.some(({ word }) => word === basis) || element(basis) !== undefined;
  if (more.length > 0 || !isBasis)
    return reportValue(reading, item, `A charge is of ${basesText()} or a metal: \`0.30 USD/g of melted\`.`);
  const share = unit(what)?.kind === 'proportion' ? unit(what) : undefined;
  if (share) return { amount: figures.low.times(share.factor), currency: undefined, per: undefined, of: basis };
  const [currency = '', per] = what.split('/');
  const row = per === undefined ? undefined : unit(per);
  const right = isCurrency(currency) && (per === undefined || row?.kind === 'mass');
  return right ? { amount: figures.low, currency, per: row, of: basis } : reportKind(reading, item, CHARGE);
};

const basesText = (): string => BASES.map(({ word }) => `\`${word}\``).join(', ');

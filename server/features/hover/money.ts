/** Money: a price for a mass, in the other units of mass. */
import type { Entry, Money } from '../../engine/entry';
import { decimalsOf, toPlain } from '../../quantity/decimal';
import { showPlaces } from '../../quantity/show';
import { unit } from '../../quantity/units';
import { escapeMarkdown } from '../../reports/markdown';

/** The money of an entry at an offset of its section. */
export const moneyAt = (entry: Entry, offset: number): Money | undefined =>
  [entry.money, entry.said.insured, ...entry.others.map(({ money }) => money)].find(
    (money) => money && money.place.start <= offset && offset < money.place.end,
  );

export const moneyMarkdown = ({ digits, currency, per }: Money): string => {
  const written = escapeMarkdown(`${digits.text} ${currency}${per ? `/${per.symbol}` : ''}`);
  if (per?.kind !== 'mass') return `**${written}**`;
  const perGram = digits.value.div(per.factor);
  const others = ['g', 'ozt', 'kg'].filter((symbol) => symbol !== per.symbol);
  const said = others.map((symbol) => {
    const places = symbol === 'g' ? decimalsOf(digits.text) + 1 : decimalsOf(digits.text);
    return `${showPlaces(perGram.times(unit(symbol)!.factor), places)} ${currency}/${symbol}`;
  });
  return `**${written}** · ${escapeMarkdown(said.join(' · '))}\n\n1 ${per.symbol} = ${toPlain(per.factor)} g`;
};

/** Amounts and readings of the tree as values of the engine. */
import type { Amount, Digits, Figure, Money, Named, Reading } from '../engine/entry';
import { decimal } from '../quantity/decimal';
import { unit as unitRow } from '../quantity/units';
import type { AmountNode, NumberNode, ReadingNode, Section, Value, WordNode } from '../syntax/tree';
import { lean } from '../text/lists';
import { type Place, placeIn } from '../text/place';

export const named = (section: Section, word: WordNode): Named => ({ name: word.text, place: placeIn(section, word) });

export const namedValue = (section: Section, value: Value | undefined): Named | undefined => {
  if (value?.shape !== 'word') return undefined;
  const was = namedValue(section, value.was);
  return was ? { ...named(section, value.word), was } : named(section, value.word);
};

const digitsOf = (section: Section, part: NumberNode, unit: WordNode | undefined): Digits => {
  const word = part.unit ?? unit;
  const row = word ? unitRow(word.text) : undefined;
  const value = decimal(part.text);
  return {
    text: part.minus ? `-${part.text}` : part.text,
    value: part.minus ? value.negated() : value,
    unit: row,
    measure: word && !row ? word.text : undefined,
    place: placeIn(section, part),
  };
};

/** A weight below nothing, or with more digits than any scale has, was reported as no number: no sum may rest on it. */
const isNumber = ({ value, unit }: Digits): boolean =>
  value.lessThan(BEYOND_ANY) && (!value.isNegative() || unit?.kind === 'temperature');

/** A number has at most 15 digits before its point. */
const BEYOND_ANY = decimal(10).pow(15);

const ABSENT = new Map<AmountNode['form'], Amount['absent']>([
  ['unknown', 'unknown'],
  ['none', 'none'],
  ['not-determined', 'not-determined'],
]);

export const amountOf = (
  section: Section,
  node: AmountNode & { readonly was?: Value },
  behind?: { readonly scale: WordNode | undefined; readonly states: readonly WordNode[] },
): Amount => {
  const scale = behind?.scale;
  const parts = node.parts.map((part) => digitsOf(section, part, node.unit));
  const isSound = parts.every(isNumber);
  const old = node.was?.shape === 'amount' ? amountOf(section, node.was) : undefined;
  return {
    place: placeIn(section, { start: node.start, end: node.was?.end ?? node.end }),
    figure: isSound ? figureOf(node.form, parts) : undefined,
    absent: isSound ? ABSENT.get(node.form) : 'unknown',
    unit: node.unit ? unitRow(node.unit.text) : undefined,
    gross: node.gross,
    guessed: node.guessed,
    spread: node.spread
      ? { half: digitsOf(section, node.spread.half, node.unit), meaning: node.spread.meaning }
      : undefined,
    states: lean([...node.states, ...(behind?.states ?? [])].map(({ text }) => text.toLowerCase())),
    scale: scale ? named(section, scale) : undefined,
    was: old,
  };
};

/** The higher end may stand first: it is told where the page is read. */
const inOrder = (first: Digits, second: Digits): { readonly low: Digits; readonly high: Digits } =>
  first.unit === second.unit && first.value.greaterThan(second.value)
    ? { low: second, high: first }
    : { low: first, high: second };

const figureOf = (form: AmountNode['form'], parts: readonly Digits[]): Figure | undefined => {
  const [first, second] = parts;
  if (!first) return undefined;
  if (form === 'below' || form === 'above') return { form: 'limit', side: form, digits: first };
  if (form === 'range' && second) return { form: 'range', ...inOrder(first, second) };
  if ((form === 'sum' || form === 'repeats') && second) return { form, parts };
  return { form: 'reading', digits: first };
};

export const moneyOf = (section: Section, value: Value | undefined): Money | undefined => {
  if (value?.shape !== 'money') return undefined;
  const money = {
    place: placeIn(section, value),
    digits: digitsOf(section, value.number, undefined),
    currency: value.currency,
    per: value.per ? unitRow(value.per.text) : undefined,
  };
  const was = moneyOf(section, value.was);
  return was ? { ...money, was } : money;
};

export const readingOf = (section: Section, nodes: readonly ReadingNode[]): Reading | undefined => {
  const [first] = nodes;
  const last = nodes.at(-1);
  if (!first || !last) return undefined;
  const place: Place = placeIn(section, { start: first.start, end: last.end });
  return {
    place,
    metals: nodes.map(({ symbol, amount }) => ({ symbol: named(section, symbol), amount: amountOf(section, amount) })),
  };
};

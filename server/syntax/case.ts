/** Where capitals say nothing: the language's own words. Names, units and texts keep theirs. */
import type { Span } from '../text/span';
import { detail, remark } from '../vocabulary/details';
import { verb } from '../vocabulary/verbs';
import {
  BASIS_WORDS,
  KIND_WORDS,
  LEAD_WORDS,
  METHOD_WORDS,
  POOL_WORDS,
  PREFIX_WORDS,
  STATE_WORDS,
} from '../vocabulary/words';
import { CLOSED_SETS } from './fits';
import { scan } from './tokens';
import type { AmountNode, LineNode, PieceNode, Section, Value } from './tree';

/** Words between the others that are no word of a set. */
const OTHER_WORDS: ReadonlySet<string> = new Set(['was', 'gross', 'none', 'nd', 'expanded', 'standard']);

const isBetween = (lower: string): boolean => LEAD_WORDS.has(lower) || STATE_WORDS.has(lower) || OTHER_WORDS.has(lower);

const SETS = [PREFIX_WORDS, KIND_WORDS, METHOD_WORDS, BASIS_WORDS, POOL_WORDS];

/** Whether a word, in lower case, is one of the language at all. */
export const isOfLanguage = (lower: string): boolean =>
  isBetween(lower) ||
  SETS.some((words) => words.has(lower)) ||
  (verb(lower) ?? detail(lower) ?? remark(lower)) !== undefined;

/** The words of a line that are understood in capitals too, in the order of the text. */
export const wordsWithoutCase = (section: Section, line: LineNode): readonly Span[] => {
  const head = [section.prefix, section.verb?.node].flatMap((node) =>
    node && line.start <= node.start && node.start < line.end ? [node] : [],
  );
  const spans = [...head, ...line.pieces.flatMap((piece) => wordsOf(section, piece))];
  return [...new Map(spans.map((span) => [span.start, span])).values()].sort((a, b) => a.start - b.start);
};

const wordsOf = (section: Section, piece: PieceNode): readonly Span[] => {
  const { kind, word, row } = piece;
  if (kind === 'stray' || (word && !row)) return [];
  const [own, names] = valuesOf(piece);
  const between = scan(section.text, piece).filter(
    (token) =>
      token.kind === 'word' &&
      isBetween(token.text.toLowerCase()) &&
      !names.some(({ start, end }) => start <= token.start && token.start < end),
  );
  return [...(word && kind !== 'reading' ? [word] : []), ...own, ...between];
};

/** Values that are words of a set, and what keeps its case: names, units, texts. */
const valuesOf = ({ values, filled, row, readings, scale }: PieceNode): readonly [own: Span[], names: Span[]] => {
  const own: Span[] = [];
  const names: Span[] = scale ? [scale] : [];
  const ofAmount = ({ parts, unit }: AmountNode): void => {
    for (const node of [unit, ...parts.map((part) => part.unit)]) if (node) names.push(node);
  };
  const ofValue = (value: Value, at: Value): void => {
    if (value.shape === 'amount') ofAmount(value);
    else if (value.shape === 'word') {
      const { word } = value;
      const takes = row?.slots[filled.indexOf(at)]?.takes ?? [];
      const isOwn = !word.quoted && takes.some((one) => CLOSED_SETS.get(one)?.has(word.text.toLowerCase()));
      (isOwn ? own : names).push(word);
    } else if (value.shape !== 'date') names.push(value.lead ? { start: value.lead.end, end: value.end } : value);
    if (value.was) ofValue(value.was, at);
  };
  for (const value of values) ofValue(value, value);
  for (const { symbol, amount } of readings) {
    names.push(symbol);
    ofAmount(amount);
    if (amount.was) ofValue(amount.was, amount.was);
  }
  return [own, names];
};

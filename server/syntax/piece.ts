/** What stands between two commas: its word, and the values behind it by their shape. */
import { unit as unitRow } from '../quantity/units';
import { asDate, isDate } from '../text/calendar';
import { detail, remark } from '../vocabulary/details';
import { element } from '../vocabulary/elements';
import type { Slot, WordRow } from '../vocabulary/slots';
import { LEAD_WORDS, STATE_WORDS } from '../vocabulary/words';
import { readAmount, startsAmount } from './amount';
import { type Cursor, isMark, isWord, peek, report, reportOdd, take, wordNode, writtenAs } from './cursor';
import { fillSlots, SLOT_NOUNS } from './fill';
import type { Token } from './scan';
import type { AmountNode, PieceNode, Problem, ReadingNode, Value, WordNode } from './tree';
import { checkRateUnit } from './units';

const TEXT_WORDS = new Set(['note', 'because', 'marks']);

/** Words that start running text wherever they stand. */
export const startsText = (token: Token): boolean => token.kind === 'word' && TEXT_WORDS.has(token.text.toLowerCase());

/** `USD`, `USD/ozt`. */
const currencyOf = (text: string): { code: string; per: string | undefined } | undefined => {
  const code = text.slice(0, 3);
  if (code.length < 3 || code !== code.toUpperCase() || !/^[A-Z]{3}$/.test(code)) return undefined;
  if (text.length === 3) return { code, per: undefined };
  return text[3] === '/' && text.length > 4 ? { code, per: text.slice(4) } : undefined;
};

/** A symbol in front of a figure. `In` and `At` are also words of the language: metals only before a proportion. */
export const startsReading = (cursor: Cursor): boolean => {
  const token = peek(cursor);
  if (token?.kind !== 'word' || !element(token.text) || !startsAmount(peek(cursor, 1))) return false;
  if (!detail(token.text.toLowerCase()) && !remark(token.text.toLowerCase())) return true;
  for (let ahead = 1; ahead < 5; ahead++) {
    const next = peek(cursor, ahead);
    if (next?.kind === 'word') return unitRow(next.text)?.kind === 'proportion';
  }
  return false;
};

/** Values up to the end of the piece, or to a word that opens another piece of its own. */
export const readValues = (
  cursor: Cursor,
  slots: readonly Slot[],
): { values: Value[]; scale: WordNode | undefined; states: WordNode[] } => {
  const values: Value[] = [];
  const states: WordNode[] = [];
  let scale: WordNode | undefined;
  while (cursor.at < cursor.end) {
    const token = peek(cursor)!;
    if (startsText(token)) break;
    if (isWord(token, 'was') && values.length > 0) {
      take(cursor);
      const old = readValue(cursor);
      if (old) values.push({ ...values.pop()!, was: old });
      continue;
    }
    if (isState(token) && values.some(({ shape }) => shape === 'amount')) {
      states.push(wordNode(take(cursor)));
      continue;
    }
    if (values.length > 0 && runsOn(cursor, slots)) break;
    // `in A + B`: what follows is the next of a list.
    if (values.length > 0 && isMark(token, '+') && peek(cursor, 1)?.kind === 'word') {
      take(cursor);
      break;
    }
    const least = leastLead(cursor, slots);
    const lead = least ?? (isLead(token) ? wordNode(token) : undefined);
    if (lead && isWord(token, 'on') && !hasLead(slots, 'on')) {
      if (opensCorrectedScale(cursor)) break;
      take(cursor);
      scale = nameAfter(cursor);
      if (!scale) reportOpenLead(cursor, lead, 'a scale');
      continue;
    }
    if (lead && opensRemark(lead, slots)) break;
    if (lead) take(cursor);
    if (least) take(cursor);
    const value = readValue(cursor);
    if (value) values.push(lead ? { ...value, lead } : value);
    else if (lead && cursor.at === cursor.end) reportOpenLead(cursor, lead, wantedBy(slots, lead));
  }
  return { values, scale, states };
};

/** `melt M8 in A`: a detail begins behind another, where a comma or a new line should stand. It is read as what it is. */
const runsOn = (cursor: Cursor, slots: readonly Slot[]): boolean => {
  const token = peek(cursor)!;
  if (token.kind !== 'word' || hasLead(slots, token.text) || isLead(token)) return false;
  const isRemark = remark(token.text) !== undefined;
  const group = peek(cursor, 1) && detail(token.text)?.group;
  if (!isRemark && group !== 'flows' && group !== 'gear') return false;
  const before = cursor.tokens[cursor.at - 1]!;
  const mend = { start: before.end, end: token.start, text: isRemark ? ', ' : '\n  ' };
  report(cursor.problems, 'run-on', token, token.text, { mend });
  return true;
};

/** `in A on fine was bench`: the scale alone is corrected, which is a remark of its own. */
const opensCorrectedScale = (cursor: Cursor): boolean => {
  const [was, old] = [peek(cursor, 2), peek(cursor, 3)];
  return was !== undefined && isWord(was, 'was') && (old?.kind === 'word' || old?.kind === 'quoted');
};

/** `receive A from`: the line ends before the name. */
const reportOpenLead = (cursor: Cursor, lead: WordNode, wanted: string): void =>
  report(cursor.problems, 'missing-part', lead, lead.text.toLowerCase(), { wanted });

const wantedBy = (slots: readonly Slot[], lead: WordNode): string => {
  const slot = slots.find((candidate) => hasLead([candidate], lead.text.toLowerCase()));
  return slot ? SLOT_NOUNS[slot.takes[0]!] : 'a name';
};

const isState = (token: Token): boolean => token.kind === 'word' && STATE_WORDS.has(token.text.toLowerCase());

const nameAfter = (cursor: Cursor): WordNode | undefined => {
  const token = peek(cursor);
  return token?.kind === 'word' || token?.kind === 'quoted' ? wordNode(take(cursor)) : undefined;
};

const hasLead = (slots: readonly Slot[], lead: string): boolean =>
  slots.some((slot) => slot.lead === lead || slot.orLed === lead);

/** `at least 60.00 USD`: the one lead of two words. */
const leastLead = (cursor: Cursor, slots: readonly Slot[]): WordNode | undefined => {
  const [at, least] = [peek(cursor), peek(cursor, 1)];
  if (!at || !least || !isWord(at, 'at') || !isWord(least, 'least') || !hasLead(slots, 'at least')) return undefined;
  return { ...wordNode(at), text: 'at least', end: least.end };
};

const isLead = (token: Token): boolean => token.kind === 'word' && LEAD_WORDS.has(token.text.toLowerCase());

/** `out B57 58 g button at strongbox`: a remark whose comma was left out. */
const opensRemark = (lead: WordNode, slots: readonly Slot[]): boolean =>
  !hasLead(slots, lead.text.toLowerCase()) && remark(lead.text.toLowerCase()) !== undefined;

const readValue = (cursor: Cursor): Value | undefined => {
  const token = peek(cursor);
  if (!token) return undefined;
  if (startsAmount(token)) return amountOrMoney(cursor, readAmount(cursor));
  take(cursor);
  switch (token.kind) {
    case 'date':
      return readDate(cursor, token);
    case 'word':
      if (ABOUT.has(token.text) && peek(cursor)?.kind === 'number') return aboutValue(cursor, token);
      return { shape: 'word', start: token.start, end: token.end, word: wordNode(token) };
    case 'quoted':
      if (!token.text.endsWith('"') || token.text.length < 2) {
        report(cursor.problems, 'unclosed-quote', token, token.text, {
          mend: { start: token.end, end: token.end, text: '"' },
        });
      }
      return { shape: 'word', start: token.start, end: token.end, word: wordNode(token) };
    case 'time':
      report(cursor.problems, 'stray-part', token, token.text);
      return undefined;
    default:
      reportOdd(cursor.problems, token);
      return undefined;
  }
};

/** What is said for `~`. */
const ABOUT: ReadonlySet<string> = new Set(['about', 'approx', 'approximately', 'around', 'ca', 'circa', 'roughly']);

const aboutValue = (cursor: Cursor, about: Token): Value | undefined => {
  const mend = { start: about.start, end: peek(cursor)!.start, text: '~' };
  report(cursor.problems, 'stray-part', about, about.text, { wanted: '~', mend });
  return readValue(cursor);
};

const readDate = (cursor: Cursor, token: Token): Value => {
  checkDate(cursor, token);
  return { shape: 'date', start: token.start, end: token.end, text: token.text };
};

/** Reports a date that there is not, with the one that was likely meant. */
export const checkDate = (cursor: Pick<Cursor, 'problems'>, token: Token): void => {
  if (isDate(token.text)) return;
  const meant = asDate(token.text);
  const mend = meant ? { mend: { start: token.start, end: token.end, text: meant } } : {};
  report(cursor.problems, 'impossible-date', token, token.text, mend);
};

/** A plain number with a currency behind it is money. */
const amountOrMoney = (cursor: Cursor, amount: AmountNode): Value => {
  const number = amount.parts[0];
  const next = peek(cursor);
  if (amount.form !== 'reading' || !number || number.unit || next?.kind !== 'word') return amount;
  const currency = currencyOf(next.text);
  if (!currency) return amount;
  take(cursor);
  const per = currency.per ? { start: next.start + 4, end: next.end, text: currency.per, quoted: false } : undefined;
  if (per) checkRateUnit(per, cursor.problems);
  return { shape: 'money', start: amount.start, end: next.end, number, currency: currency.code, per };
};

/** Symbols and amounts in turn: one determination. */
export const readReadings = (cursor: Cursor): ReadingNode[] => {
  const readings: ReadingNode[] = [];
  while (startsReading(cursor)) {
    const symbol = wordNode(take(cursor));
    let amount: ReadingNode['amount'] = readAmount(cursor);
    if (isWord(peek(cursor), 'was') && startsAmount(peek(cursor, 1))) {
      take(cursor);
      amount = { ...amount, was: readAmount(cursor) };
    }
    readings.push({ start: symbol.start, end: amount.was?.end ?? amount.end, symbol, amount });
  }
  return readings;
};

export const rowPiece = (
  kind: PieceNode['kind'],
  word: WordNode | undefined,
  row: WordRow | undefined,
  slots: readonly Slot[],
  cursor: Cursor,
  start: number,
): PieceNode => {
  const problemsBefore = cursor.problems.length;
  const takesReading = slots.some((slot) => slot.takes.includes('reading'));
  const readings = takesReading ? readReadings(cursor) : [];
  const { values, scale, states } = readValues(cursor, slots);
  const end = Math.max(start, cursor.tokens[cursor.at - 1]?.end ?? start);
  const filled = fillSlots(slots, values, readings, { start, end, word, problemsBefore }, cursor);
  joinProblems(cursor, problemsBefore);
  return { kind, start, end, word, row, values, filled, readings, scale, states };
};

/** Of what is amiss side by side, as in `2 0.00 g` or `(20 g)`, one thing is said: what follows comes of what went before. */
const joinProblems = ({ problems, tokens }: Cursor, from: number): void => {
  const found = problems.splice(from).sort((a, b) => a.start - b.start);
  const joined = new Set<Problem>();
  for (const problem of found) {
    const before = problems.length > from ? problems.at(-1) : undefined;
    const code = before && joinedCode(before, problem);
    if (code) {
      const both = { code, start: before.start, end: problem.end, found: '' };
      joined.add(both);
      problems.splice(-1, 1, both);
    } else if (!before || !comesOf(problem, before)) problems.push(problem);
  }
  for (let at = from; at < problems.length; at++) {
    if (joined.has(problems[at]!)) problems[at] = withText(problems[at]!, tokens);
  }
};

const joinedCode = (before: Problem, problem: Problem): Problem['code'] | undefined => {
  if (problem.code !== 'stray-part' || !isBehind(before, problem)) return undefined;
  if (before.code === 'missing-unit') return 'odd-number';
  const isLoose = before.code === 'stray-part' || before.code === 'odd-number';
  return isLoose && !before.mend && !problem.mend ? before.code : undefined;
};

/** Longer than this nobody reads it in a sentence. */
const LONGEST_FOUND = 60;

const withText = (problem: Problem, tokens: Cursor['tokens']): Problem => {
  const { start, end } = problem;
  if (end - start <= LONGEST_FOUND) return { ...problem, found: writtenAs(tokens, problem) };
  return { ...problem, found: `${writtenAs(tokens, { start, end: start + LONGEST_FOUND })} …` };
};

const isBehind = (before: Problem, problem: Problem): boolean =>
  problem.start >= before.end && problem.start - before.end <= 1;

const comesOf = (problem: Problem, before: Problem): boolean =>
  before.code === 'odd-character' &&
  !before.mend &&
  (problem.found === CLOSES.get(before.found) || (FIGURES.has(problem.code) && isBehind(before, problem)));

const CLOSES: ReadonlyMap<string, string> = new Map([
  ['(', ')'],
  ['[', ']'],
  ['{', '}'],
]);

const FIGURES: ReadonlySet<Problem['code']> = new Set(['missing-unit', 'stray-part', 'odd-character']);

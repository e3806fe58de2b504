/** The line of a day: its date, and what is said of the day. */

import { unit } from '../quantity/units';
import { asDate, dayInWords, isDate, readingsOf } from '../text/calendar';
import type { Span } from '../text/span';
import { verb } from '../vocabulary/verbs';
import { PREFIX_WORDS } from '../vocabulary/words';
import { report } from './cursor';
import { checkDate } from './piece';
import { firstOf, runAt, type Token } from './scan';
import { scan } from './tokens';
import type { Problem } from './tree';

/** The date of a day line, one that is written otherwise too; none where it cannot be read as one. */
export const parseDay = (text: string, line: Span, problems: Problem[]): string | undefined => {
  const [first, ...rest] = scan(text, line);
  if (first?.kind === 'date') {
    checkDate({ problems }, first);
    reportEntry(rest, problems);
    return isDate(first.text) ? first.text : asDate(first.text);
  }
  const at = otherwiseWritten(text, line);
  const found = text.slice(at.start, at.end);
  const meant = dayInWords(found)?.date ?? asDate(found);
  const either = meant ? [] : readingsOf(found);
  const wanted = either.length > 0 ? { wanted: either.join(' or ') } : {};
  report(problems, 'impossible-date', at, found, meant ? { mend: { ...at, text: meant } } : wanted);
  return meant;
};

/** Where the date of a day line stands, as it is written there. */
export const writtenDate = (text: string, line: Span): Span => {
  const [first] = scan(text, line);
  return first?.kind === 'date' ? first : otherwiseWritten(text, line);
};

const otherwiseWritten = (text: string, line: Span): Span => {
  const start = firstOf(text, line);
  const inWords = dayInWords(text.slice(start, line.end));
  return { start, end: start + (inWords?.length ?? runAt(text, start, line.end).length) };
};

/** `2026-05-04 receive C1 20.00 g`: an entry behind the date is words of the day. `dry, two of us` and `melt day` are no entry. */
const reportEntry = (behind: readonly Token[], problems: Problem[]): void => {
  const tokens = behind[0] && PREFIX_WORDS.has(behind[0].text.toLowerCase()) ? behind.slice(1) : behind;
  const [word, name] = tokens;
  if (word?.kind !== 'word' || !verb(word.text.toLowerCase())) return;
  const isName = name?.kind === 'quoted' || (name?.kind === 'word' && /\d/.test(name.text));
  const isWeighed = tokens.some(
    (token, at) => token.kind === 'number' && unit(tokens[at + 1]?.text ?? '') !== undefined,
  );
  if (isName || isWeighed) report(problems, 'swallowed-detail', word, word.text);
};

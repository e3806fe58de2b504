/** A line that begins with a clock time, and tells what happened then. */
import { isTime, timeMeant } from '../text/calendar';
import type { Span } from '../text/span';
import type { VerbRow } from '../vocabulary/verbs';
import { EVENT_WORDS } from '../vocabulary/words';
import { report } from './cursor';
import { checkDate } from './piece';
import type { Token } from './scan';
import { reportSwallowed } from './swallowed';
import type { ClockNode, Problem } from './tree';

export const isClock = (tokens: readonly Token[], row: VerbRow | undefined): boolean => {
  const [first, second] = tokens;
  return first?.kind === 'time' || (first?.kind === 'date' && second !== undefined) || isOddClock(tokens, row);
};

export const clockOf = (text: string, tokens: readonly Token[], problems: Problem[]): ClockNode => {
  const [first, second] = tokens;
  const date = first?.kind === 'date' ? first : undefined;
  const written = date ? (second?.kind === 'time' ? second : undefined) : first;
  if (date) checkDate({ problems }, date);
  const behind = tokens.slice((date ? 1 : 0) + (written ? 1 : 0));
  const half = written && HALVES.has(behind[0]?.text.toLowerCase() ?? '') ? behind[0] : undefined;
  const time = written && timeOf(text, written, half, problems);
  const rest = behind.filter((token) => !time || token.start >= time.end);
  const start = rest[0]?.start ?? tokens.at(-1)!.end;
  const end = tokens.at(-1)!.end;
  const said = { start, end: Math.max(start, end), text: text.slice(start, end) };
  if (rest.length > 0) reportSwallowed(text, said, problems);
  return { start: tokens[0]!.start, end, date, time, text: said };
};

const HALVES: ReadonlySet<string> = new Set(['am', 'pm', 'a.m', 'p.m']);

/** A time as it is written here; one of a clock of twelve hours, or with a point, is read for what it means, and reported. */
const timeOf = (
  text: string,
  time: Token,
  half: Token | undefined,
  problems: Problem[],
): Span & { readonly text: string } => {
  if (!half && isTime(time.text)) return time;
  const end = (half ?? time).end;
  const at = { start: time.start, end: half && text[end] === '.' ? end + 1 : end };
  const meant = timeMeant(time.text, half?.text);
  const mend = meant === undefined ? {} : { mend: { ...at, text: meant } };
  report(problems, 'impossible-time', at, text.slice(at.start, at.end), mend);
  return { ...at, text: meant ?? time.text };
};

/** `10.45 molten`, `11h00 quiet` under a step: no weight stands there alone. */
const isOddClock = ([first, second]: readonly Token[], row: VerbRow | undefined): boolean =>
  first !== undefined &&
  (first.kind === 'number' || first.kind === 'word') &&
  row?.takes.includes('flows') === true &&
  second?.kind === 'word' &&
  EVENT_WORDS.has(second.text.toLowerCase()) &&
  /^\d{1,2}[.h]\d\d$/i.test(first.text) &&
  timeMeant(first.text, undefined) !== undefined;

/** A clock time with its text: known events, a temperature and a mould are picked from what was written. */
import type { Clock, Digits, Named } from '../engine/entry';
import { decimal } from '../quantity/decimal';
import { unit as unitRow } from '../quantity/units';
import { isMark, isWord, wordNode } from '../syntax/cursor';
import type { Token } from '../syntax/scan';
import { scan } from '../syntax/tokens';
import type { ClockNode, Section } from '../syntax/tree';
import { asTime, isDate, isTime } from '../text/calendar';
import { placeIn } from '../text/place';
import { EVENT_WORDS } from '../vocabulary/words';
import { named } from './amounts';

export const readClock = (section: Section, node: ClockNode, day: string | undefined): Clock => {
  const tokens = scan(section.text, node.text);
  return {
    place: placeIn(section, node),
    date: node.date && isDate(node.date.text) ? node.date.text : day,
    time: node.time && isTime(node.time.text) ? asTime(node.time.text) : undefined,
    text: node.text.text,
    events: tokens.flatMap(({ kind, text }) =>
      kind === 'word' && EVENT_WORDS.has(text.toLowerCase()) ? [text.toLowerCase()] : [],
    ),
    temperature: temperatureIn(section, tokens),
    mould: mouldIn(section, tokens),
  };
};

const temperatureIn = (section: Section, tokens: readonly Token[]): Digits | undefined => {
  for (let at = 0; at + 1 < tokens.length; at++) {
    const number = tokens[at]!;
    const unit = unitRow(tokens[at + 1]!.text);
    if (number.kind !== 'number' || unit?.kind !== 'temperature') continue;
    const before = tokens[at - 1];
    const minus = isMark(before, '-') && before?.end === number.start;
    const text = `${minus ? '-' : ''}${number.text}`;
    const place = placeIn(section, { start: minus ? before!.start : number.start, end: number.end });
    return { text, value: decimal(text), unit, measure: undefined, place };
  }
  return undefined;
};

/** The mould that a clock line pours into. */
export const mouldOf = (section: Section, node: ClockNode): Named | undefined =>
  mouldIn(section, scan(section.text, node.text));

const mouldIn = (section: Section, tokens: readonly Token[]): Named | undefined => {
  const at = tokens.findIndex(({ kind, text }) => kind === 'word' && text.toLowerCase() === 'into');
  const name = at < 0 ? undefined : tokens[at + 1];
  // Poured into water it is shot, and no mould is meant.
  if (isWord(name, 'water')) return undefined;
  return name?.kind === 'word' || name?.kind === 'quoted' ? named(section, wordNode(name)) : undefined;
};

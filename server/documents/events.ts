/** What happened to a lot, in words. */
import type { LotEvent, LotStory } from '../engine/book';
import { stepWords } from '../reports/words';
import { typedMoney } from './cells';

/** `went into cupel K21`. */
export const eventWords = ({ kind, entry, flow }: LotEvent): string => {
  const step = stepWords(entry);
  const party = entry.party?.name;
  switch (kind) {
    case 'received':
      return `came in${party ? ` from ${party}` : ''}`;
    case 'made':
      return `made in ${step}`;
    case 'continued':
      return `came out of ${step}`;
    case 'weighed':
      return 'weighed again';
    case 'used':
      return `went into ${step}`;
    case 'part-used':
      return `a part went into ${step}`;
    case 'sampled':
      return flow?.lot ? `sampled: ${flow.lot.name}` : 'sampled';
    case 'returned':
      return `came back in ${step}`;
    case 'found':
      return 'found at a count';
    case 'missing':
      return 'missing at a count';
    case 'discarded':
      return 'thrown away';
    case 'renamed':
      return `${entry.name?.name ?? '?'} renamed ${entry.toLot?.name ?? '?'}`;
    case 'shipped':
      return `shipped in ${step}${party ? ` to ${party}` : ''}`;
    case 'sold':
      return `sold${party ? ` to ${party}` : ''}${entry.money ? ` for ${typedMoney(entry.money).text}` : ''}`;
    case 'settled':
      return `settled${party ? ` with ${party}` : ''}`;
    case 'assayed':
      return `assayed${entry.method ? ` by ${entry.method.name}` : ''}${party ? ` at ${party}` : ''}`;
    default:
      return `spoken of in ${step}`;
  }
};

/** Where a lot lies. */
export const standingWords = (at: string | undefined, party: string | undefined): string =>
  ['on hand', at && `at ${at}`, party && `with ${party}`].filter(Boolean).join(', ');

/** How a lot went that is no more. */
export const goneWords = ({ events }: LotStory): string => {
  const last = events.findLast(({ kind }) => ENDS.has(kind));
  return last ? eventWords(last) : 'gone';
};

const ENDS: ReadonlySet<LotEvent['kind']> = new Set([
  'used',
  'part-used',
  'shipped',
  'sold',
  'discarded',
  'missing',
  'renamed',
  'assayed',
  'sampled',
]);

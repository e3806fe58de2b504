/** Entries about a lot, and prices of one day, that only the names of their pages put in order, where another order would tell something else. */
import type { LotStory } from '../engine/book';
import type { Entry, Money } from '../engine/entry';
import type { Quote } from '../engine/selling/prices';
import { otherwise, tiesOf } from '../engine/ties';
import { stepWords } from '../reports/words';
import { salesOf } from '../workspace/selling/sales';
import { lotBeforeMade } from './lot-before-made';
import { lotUsedUp } from './lot-used-up';
import { moreThanLeft } from './more-than-left';
import { nameUsedTwice } from './name-used-twice';
import { type Look, type Rule, rule } from './rule';
import { otherwiseWords } from './tie-words';
import { weightChanged } from './weight-changed';

export const orderByPage = rule({
  code: 'order-by-page',
  severity: 'hint',
  atOnce: false,
  ofOpenDays: true,
  title: 'an order that only the names of pages give',
  why: 'Entries of one day follow each other by their clock times, else as they stand. On two pages they stand in no order: the names of the pages give one, and a page that is called otherwise turns it round. Where that would tell something else of a lot, such as which of two weights is the last, the entries say when: a line with a time under each, such as `08:10`, or all of that lot on one page. So it is with two prices of one metal on one day, of which the last counts. It is told before the day is sealed, for then nothing is written there any more.',
  wrong: '2026-05-04\nweigh A 20.004 g on fine',
  right: '2026-05-04\nweigh A 20.004 g on fine\n  16:30',
  beside: '2026-05-03\nreceive A ~20 g\n\n2026-05-04\nweigh A 20.00 g on bench',
  metal: function* ({ workspace, account: { entry } }) {
    if (entry.verb !== 'quote') return;
    const { of, quotes } = salesOf(workspace);
    const counted = of(entry)?.parts[0];
    const tie = counted && tiedTo(quotes, counted);
    if (!tie) return;
    const [last, before] = tie.map(({ entry: { money } }) => `${money!.digits.text} ${priceUnit(money!)}`);
    yield {
      place: entry.money!.place,
      says: `Two prices of ${tie[0].of} stand on this day: ${before} and ${last}. Only the names of the pages make this the last, which counts. Write a time under each, such as \`08:10\`.`,
      related: [{ place: tie[1].entry.money!.place, says: 'the other price' }],
    };
  },
  lot: function* (story, look) {
    // Two lots of one name have no order to speak of.
    if (amissIn(story, look, [nameUsedTwice]) > 0) return;
    for (const { before, after, other } of tiesOf(story, look)) {
      const told = otherwise(story, other);
      // What another order would make impossible cannot go unseen.
      if (!told || amissIn(other, look) > amissIn(story, look)) continue;
      const event = story.events.find(({ entry }) => entry === after)!;
      yield {
        place: event.place,
        says: `Only the names of the pages put this behind ${stepWords(before)} on the other page. The other way round ${otherwiseWords(story, told)}. Write a time under each, such as \`08:10\`.`,
        related: [{ place: before.head, says: `${stepWords(before)}` }],
      };
    }
  },
});

const RULES: readonly Rule[] = [lotBeforeMade, lotUsedUp, moreThanLeft, nameUsedTwice, weightChanged];

const amissIn = (story: LotStory, look: Look, rules = RULES): number =>
  rules.flatMap(({ lot }) => [...lot!(story, look)]).length;

/** The last price of a day, and the last before it that stands on another page at the same time of the day, where they are not the same. */
const tiedTo = (quotes: readonly Quote[], entry: Entry): readonly [last: Quote, before: Quote] | undefined => {
  const at = quotes.findIndex((one) => one.entry === entry);
  const last = quotes[at];
  if (!last) return undefined;
  const isLike = ({ of, currency, date }: Quote): boolean =>
    of === last.of && currency === last.currency && date === last.date;
  if (quotes.slice(at + 1).some(isLike)) return undefined;
  const before = quotes.slice(0, at).findLast((one) => isLike(one) && one.entry.anchor.file !== entry.anchor.file);
  if (!before || before.entry.time !== entry.time || perOne(before).equals(perOne(last))) return undefined;
  return [last, before];
};

const perOne = ({ amount, perGrams }: Quote) => (perGrams ? amount.div(perGrams) : amount);

const priceUnit = ({ currency, per }: Money): string => (per ? `${currency}/${per.symbol}` : currency);

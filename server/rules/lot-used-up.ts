/** A lot taken after nothing of it was left. */
import { isUsedUp } from '../engine/accounts/laid-lot';
import type { LotEvent, LotEventKind } from '../engine/book';
import { subtract, uncertainty } from '../quantity/measured';
import { stepWords } from '../reports/words';
import { rule } from './rule';

const TAKING: ReadonlySet<LotEventKind> = new Set([
  'used',
  'part-used',
  'sampled',
  'shipped',
  'sold',
  'discarded',
  'renamed',
  'missing',
]);
const BRINGING: ReadonlySet<LotEventKind> = new Set(['received', 'made', 'continued', 'returned', 'found', 'weighed']);

export const lotUsedUp = rule({
  code: 'lot-used-up',
  severity: 'error',
  atOnce: false,
  ofPlans: true,
  title: 'a lot taken twice',
  why: '`in LOT` takes the whole of a lot; after that there is nothing left to take. A part is taken with `in AMOUNT of LOT`.',
  wrong:
    '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A\n  out B 19.98 g bar\ncast C2\n  in A 20.00 g\n  out D 19.98 g bar',
  right:
    '2026-05-04\nreceive A 20.00 g\ncast C1\n  in 10.00 g of A\n  out B 9.99 g bar\ncast C2\n  in A 10.00 g\n  out D 9.99 g bar',
  lot: function* (story, { workshop }) {
    const { coverage } = workshop.limits;
    let emptied: LotEvent | undefined;
    let taken: LotEvent | undefined;
    let shipped: LotEvent | undefined;
    for (const event of story.events) {
      const bears = event.kind === 'renamed' && story.births.includes(event);
      const gone = goneBefore(event, taken, shipped) ?? (isMoreThanLeft(event, coverage) ? emptied : undefined);
      if (gone) {
        yield {
          place: event.flow?.lot?.place ?? event.place,
          says: `${goneWords(story.name, gone, false)} ${againWords(event, gone)}`,
          related: [
            {
              place: gone.place,
              says: `the ${gone === emptied ? 'last' : 'whole'} of ${story.name} ${USED.has(gone.kind) ? 'went in' : 'left'} here`,
            },
          ],
        };
        taken = undefined;
      } else if (BRINGING.has(event.kind) || bears) taken = undefined;
      else if (TAKING.has(event.kind)) {
        const isDelivery = isDelivered(event, taken);
        if (taken && !isDelivery) {
          yield {
            place: event.flow?.lot?.place ?? event.place,
            says: goneWords(story.name, taken),
            related: [
              {
                place: taken.place,
                says: `the whole of ${story.name} ${USED.has(taken.kind) ? 'went in' : 'left'} here`,
              },
            ],
          };
        } else if (isDelivery || tookAll(event)) taken = event;
      }
      emptied = isUsedUp(event, coverage) ? event : undefined;
      if (event.kind === 'shipped' && tookAll(event)) shipped = event;
      else if (BRINGING.has(event.kind) || bears) shipped = undefined;
    }
  },
});

/** Sent to its buyer, before or after it was sold. */
const isDelivered = ({ kind }: LotEvent, taken: LotEvent | undefined): boolean =>
  (kind === 'sold' && taken?.kind === 'shipped') || (kind === 'shipped' && taken?.kind === 'sold');

/**
 * The entry after which it cannot be there again. What was shipped is there only where something brings it back, what was used up not at all.
 * What was missed or thrown away may turn up, and what was sold changes its owner, not its place.
 */
const goneBefore = (
  { kind }: LotEvent,
  taken: LotEvent | undefined,
  shipped: LotEvent | undefined,
): LotEvent | undefined => {
  if (kind === 'weighed') return taken;
  if (kind !== 'found') return undefined;
  return shipped ?? (taken && (USED.has(taken.kind) || taken.kind === 'renamed') ? taken : undefined);
};

/** Weighed or found with more than its parts have left of it. */
const isMoreThanLeft = ({ kind, before, weight }: LotEvent, coverage: number): boolean => {
  if (!before || !weight.mass || (kind !== 'weighed' && kind !== 'found')) return false;
  const more = subtract(weight.mass, before);
  return more.value.greaterThan(coverage * uncertainty(more));
};

const againWords = ({ kind }: LotEvent, gone: LotEvent): string => {
  if (kind === 'weighed') return 'It is weighed here all the same: found again is written in a `count`.';
  const so = gone.kind === 'shipped' ? 'is it another lot, or did it come `back`?' : ADVICE;
  return `It is found here all the same: ${so}`;
};

const ADVICE = 'correct that entry, or name the lot that this is.';

const USED: ReadonlySet<LotEventKind> = new Set(['used', 'part-used', 'sampled']);

const GONE_WORDS: Readonly<Partial<Record<LotEventKind, string>>> = {
  shipped: 'left',
  sold: 'was sold',
  discarded: 'was thrown away',
  renamed: 'got another name',
  missing: 'was missed',
};

const goneWords = (lot: string, { kind, entry }: LotEvent, withAdvice = true): string => {
  const gone = `${lot} ${GONE_WORDS[kind] ?? 'was used up'} in ${stepWords(entry)}.`;
  const to = kind === 'renamed' && entry.toLot ? ` It is ${entry.toLot.name} now.` : '';
  const part = withAdvice && USED.has(kind) ? ` A part of it would be \`in AMOUNT of ${lot}\`.` : '';
  return `${gone}${to}${part}`;
};

/** Nothing is left, as a statement and not as the outcome of a subtraction. */
const tookAll = ({ after }: LotEvent): boolean => after?.value.isZero() === true && after.errors.length === 0;

/** A lot between two entries: weighed again, carried over, or less by a part. */
import type { Handover, LotEvent, LotStory } from '../../engine/book';
import { isDisputed } from '../../engine/weigh';
import { showMass, showQuantity } from '../../quantity/show';
import { fitting, sizeOf } from '../../reports/figures';
import { handoverLabel, handoverWords } from '../../reports/handover-wording';
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { sumLines } from '../../reports/sum';
import { stepWords } from '../../reports/words';
import { type Draft, RANK, type Subject } from './draft';

export const handoverDrafts = (subject: Subject): Draft[] =>
  [...subject.account.lots.values()].flatMap((story) => [
    ...story.handovers.flatMap((handover) => weighedAgain(handover, subject)),
    ...story.events.flatMap((event) => [...carried(event, story, subject), ...partTaken(event, story, subject)]),
  ]);

const weighedAgain = (handover: Handover, { entry }: Subject): Draft[] => {
  const { to, difference, explained } = handover;
  if (to.entry !== entry || to.place.anchor !== entry.anchor) return [];
  const label = handoverLabel(handover);
  if (label === undefined) return [];
  const rows = [
    { sign: '+', word: `${handover.lot} here`, mass: to.weight.mass },
    { sign: '-', word: `left of it after ${stepWords(handover.since ?? handover.from.entry)}`, mass: handover.left },
    { sign: '=', word: 'difference', mass: difference },
  ] as const;
  const advice = explained
    ? undefined
    : 'Correct the one or the other weight, or say that it was weighed again and why.';
  const tooltip: Draft['tooltip'] = ({ workshop }) =>
    paragraphs(escapeMarkdown(handoverWords(handover, workshop.limits.coverage)), fenced(sumLines(rows)), advice);
  const rank = explained ? RANK.weight : RANK.doubt;
  return [{ at: to.place, label, tooltip, other: handover.from.place, family: 'handover', rank }];
};

const TAKES_ALL: ReadonlySet<LotEvent['kind']> = new Set(['used', 'shipped']);

/** An `in` without a weight takes over what is left. */
const carried = (event: LotEvent, { name, events }: LotStory, { entry }: Subject): Draft[] => {
  const { flow, weight } = event;
  if (event.entry !== entry || !flow || !weight.mass || !TAKES_ALL.has(event.kind)) return [];
  if (flow.amount?.figure || weight.ground === 'weighed' || (flow.said.before && flow.said.after)) return [];
  const rests = isDisputed(weight.mass)
    ? ' That weight is in doubt.'
    : weight.mass.guessed
      ? ' It rests on a guess.'
      : '';
  const says = `${name} is taken over with what is left of it: ${showQuantity(weight.mass, 'g')}.${rests} Weigh it here, and the weight before is checked.`;
  const before = events[events.indexOf(event) - 1]?.place;
  return [
    {
      at: flow.place,
      label: `${showMass(weight.mass)}, carried`,
      ...(before ? { other: before } : {}),
      tooltip: () => escapeMarkdown(says),
      family: 'handover',
      rank: RANK.weight,
    },
  ];
};

const TAKES_PART: ReadonlySet<LotEvent['kind']> = new Set(['part-used', 'sampled', 'discarded', 'assayed', 'shipped']);

const partTaken = (event: LotEvent, { name }: LotStory, { entry }: Subject): Draft[] => {
  const { before, after, weight, flow } = event;
  if (event.entry === entry && TAKES_PART.has(event.kind) && event.volumeAfter?.value.greaterThan(0))
    return [poured(event, name)];
  if (event.entry !== entry || !TAKES_PART.has(event.kind) || !before || !after || !weight.mass) return [];
  if ((flow && flow.word === 'in' && !flow.part) || !after.value.greaterThan(0) || !isLess(event)) return [];
  const left = showMass(sizeOf(after));
  const rows = [
    { sign: '+', word: `${name} before`, mass: before },
    { sign: '-', word: 'taken', mass: weight.mass },
    { sign: '=', word: 'left', mass: after },
  ] as const;
  return [
    {
      at: event.place,
      label: fitting(`${left} of ${name} left`, `${left} left`),
      tooltip: () => fenced(sumLines(rows)),
      family: 'handover',
      rank: RANK.extra,
    },
  ];
};

/** A part of a lot that is measured by volume. */
const poured = ({ place, volumeBefore, volumeAfter, weight }: LotEvent, name: string): Draft => {
  const left = showQuantity({ ...volumeAfter!, errors: [] }, 'mL');
  const rows = [
    { sign: '+', word: `${name} before`, mass: volumeBefore },
    { sign: '-', word: 'taken', mass: weight.volume },
    { sign: '=', word: 'left', mass: volumeAfter },
  ] as const;
  return {
    at: place,
    label: fitting(`${left} of ${name} left`, `${left} left`),
    tooltip: () => fenced(sumLines(rows, 'mL')),
    family: 'handover',
    rank: RANK.extra,
  };
};

const isLess = ({ before, after }: LotEvent): boolean =>
  before !== undefined && (after?.value.lessThan(before.value) ?? false);

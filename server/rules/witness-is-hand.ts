/** A witness who is the one that did the work. */
import type { Entry, Named, Said } from '../engine/entry';
import type { Workshop } from '../engine/workshop';
import { type Match, rule } from './rule';

export const witnessIsHand = rule({
  code: 'witness-is-hand',
  severity: 'warning',
  atOnce: false,
  title: 'a witness who did the work',
  why: 'A witness vouches for what somebody else did. Who did it and saw it alone writes `hand` and no `witness`: then whoever reads the record knows that one pair of eyes stands behind it.',
  wrong: '2026-05-04\nreceive A 20.00 g, hand AB, witness AB',
  right: '2026-05-04\nreceive A 20.00 g, hand AB, witness CD',
  entry: function* ({ entry }, { workshop }) {
    if (entry.broken || entry.prefix === 'plan') return;
    const told = new Set<number>();
    for (const said of saidIn(entry)) {
      const hand = said.hand ?? entry.said.hand;
      const { witness } = said;
      if (!hand || !witness || told.has(witness.place.start) || !isSame(workshop, hand, witness)) continue;
      told.add(witness.place.start);
      yield match(workshop, hand, witness);
    }
  },
});

const saidIn = ({ said, flows, gear, amounts, readings, others }: Entry): readonly Said[] => [
  said,
  ...[...flows, ...gear, ...amounts, ...readings, ...others].map((one) => one.said),
];

/** The workshop file may know somebody by two initials. */
const nameOf = ({ hands }: Workshop, { name }: Named): string => hands.get(name) ?? name;

const isSame = (workshop: Workshop, hand: Named, witness: Named): boolean =>
  hand.name === witness.name || nameOf(workshop, hand) === nameOf(workshop, witness);

const match = (workshop: Workshop, hand: Named, witness: Named): Match => {
  const who = nameOf(workshop, witness);
  const known = hand.name === witness.name ? witness.name : `${witness.name} and ${hand.name} are both ${who}, who`;
  return {
    place: witness.place,
    says: `${known} did this too: a witness is somebody else. Write who saw it, or take \`witness\` out.`,
    related: [{ place: hand.place, says: 'the hand' }],
  };
};

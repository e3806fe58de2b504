/** A correction that changes nothing. */
import type { Account } from '../engine/book';
import type { Entry } from '../engine/entry';
import type { PieceNode, Section, Value } from '../syntax/tree';
import { type Place, placeIn } from '../text/place';
import { apartWords } from '../workspace/meant';
import { correctionsIn } from '../workspace/parts';
import { type Match, rule } from './rule';
import { entryWords } from './seal-words';

export const correctionAmiss = rule({
  code: 'correction-amiss',
  severity: 'error',
  atOnce: false,
  title: 'a correction that changes nothing',
  why: 'A correction names an entry, the new value and the old one as it stands there: `in BR-10 60.00 g was 66.00 g, because misread`. The page keeps both, and every figure after follows the new one. Where the old value is not what the entry says, or there is no such entry to mend or take back, nothing is changed: read it again. Where a name stands several times, say which is meant: the day behind `of`, or what that one alone says, `by xrf`, `from beck-side`, a weight, a reading.',
  wrong: '2026-05-04\nreceive A 20.00 g\n2026-05-06\ncorrect receive A\n  21.00 g was 20.10 g, because misread',
  right: '2026-05-04\nreceive A 20.00 g\n2026-05-06\ncorrect receive A\n  21.00 g was 20.00 g, because misread',
  entry: function* (account) {
    const { entry, mends } = account;
    if (entry.broken || entry.prefix === undefined || entry.prefix === 'plan') return;
    if (entry.verb === 'seal') {
      yield { place: entry.head, says: SEAL_STANDS };
      return;
    }
    if (!isMending(entry)) return;
    if (!entry.name) {
      yield {
        place: entry.head,
        says: `A \`${entry.verb}\` bears no name by which one could be meant: nothing is changed. Write beside it what is right.`,
      };
      return;
    }
    const whole = entryWords({ ...entry, prefix: undefined });
    if (account.either.length > 0) {
      yield whichOf(account, entry.name.place, whole);
      return;
    }
    if (!mends) {
      const deed = entry.prefix === 'void' ? 'take back' : 'correct';
      yield {
        place: entry.name.place,
        says: `There is no \`${whole}\` to ${deed}${entry.ofDate ? ` on ${entry.ofDate}` : ''}.`,
      };
      return;
    }
    if (entry.prefix === 'void') return;
    if (account.parts.length === 0) {
      yield {
        place: entry.name.place,
        says: `\`${whole}\` was taken back: there is nothing left of it to correct.`,
        related: [{ place: mends.head, says: 'the entry that is meant' }],
      };
      return;
    }
    const section = entry.anchor as Section;
    const values = oldValuesIn(section);
    if (values.length === 0) {
      yield { place: entry.head, says: 'A correction says what is right and what stood there: `60.00 g was 66.00 g`.' };
      return;
    }
    const done = new Set(
      account.parts.flatMap(correctionsIn).flatMap(({ by, place }) => (by === entry ? [place.start] : [])),
    );
    for (const { at, was } of values) if (!done.has(at.start)) yield notThere(account, at, was, whole);
  },
});

const SEAL_STANDS =
  'A seal is neither corrected, taken back nor gone on with: it stands as it was made. Take this out; what it closes is corrected entry by entry.';

const MOST_TOLD = 3;

const whichOf = ({ entry, either }: Account, place: Place, whole: string): Match => {
  const words = apartWords(either).map((one) => `\`${one}\``);
  const told = words.length > MOST_TOLD ? [...words.slice(0, MOST_TOLD), 'another'] : words;
  const what = either.length === 2 ? `Two entries are \`${whole}\`` : `${either.length} entries are \`${whole}\``;
  return {
    place,
    says: `${what}, and nothing is ${entry.prefix === 'void' ? 'taken back' : 'corrected'}: say which is meant, ${told.join(' or ')}.`,
    fixes: apartWords(either)
      .filter((one) => /^(?:of|by|from|to|at|with|on) /.test(one))
      .map((one) => ({
        title: `Write ${one} behind the name`,
        edits: [{ at: { ...place, start: place.end }, text: ` ${one}` }],
        safe: false,
      })),
    related: either.map(({ head }, at) => ({ place: head, says: at === 0 ? 'one of them' : 'another' })),
  };
};

const isMending = ({ prefix }: Entry): boolean => prefix === 'correct' || prefix === 'void';

const notThere = ({ mends }: Account, place: Place, was: string, whole: string): Match => ({
  place,
  says: `\`${whole}\` does not say ${was} here: nothing is corrected. Write behind \`was\` what stands there.`,
  ...(mends ? { related: [{ place: mends.head, says: 'the entry that is meant' }] } : {}),
});

interface OldValue {
  readonly at: Place;
  /** As written. */
  readonly was: string;
}

/** Every value of an entry that is written *new* `was` *old*. */
const oldValuesIn = (section: Section): readonly OldValue[] => {
  const ofValue = (value: Value): readonly OldValue[] =>
    value.was
      ? [
          {
            at: placeIn(section, { start: value.start, end: value.was.end }),
            was: section.text.slice(value.was.start, value.was.end),
          },
        ]
      : [];
  const ofPiece = ({ values, readings }: PieceNode): readonly OldValue[] => [
    ...values.flatMap(ofValue),
    ...readings.flatMap(({ amount }) => ofValue(amount)),
  ];
  return section.lines.flatMap(({ pieces }) => pieces.flatMap(ofPiece));
};

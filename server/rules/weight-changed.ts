/** A lot that left one entry at one weight and enters another at a different one. */
import type { Handover, Slip } from '../engine/book';
import type { Entry } from '../engine/entry';
import { showMass } from '../quantity/show';
import { handoverWords, slipSide, weightWords } from '../reports/handover-wording';
import { SLIP_WORDS, stepWords } from '../reports/words';
import type { Place } from '../text/place';
import { type Fix, type Look, rule } from './rule';
import { mendsStep } from './steps';

export const weightChanged = rule({
  code: 'weight-changed',
  severity: 'warning',
  atOnce: false,
  title: 'a weight that changed between two entries',
  why: 'The same metal, with nothing done to it, weighs the same twice, but for what the scales explain. A difference is a slip of the pen, a piece left behind, or something that was done and not written. Correct the one or the other weight, or say that it was weighed again and why.',
  wrong: '2026-05-04\nreceive A 61.37 g on bench\ncast C1\n  in A 61.73 g on bench\n  out B 61.30 g bar on bench',
  right: '2026-05-04\nreceive A 61.37 g on bench\ncast C1\n  in A 61.37 g on bench\n  out B 61.30 g bar on bench',
  source: 'JCGM 100 (GUM) 5.1.2: difference of two readings, k = 2; rounding alone never exceeds one division',
  lot: function* (story, look) {
    for (const handover of story.handovers) {
      if (handover.explained) continue;
      const [best] = handover.slips;
      const blamed = blamedSide(handover, best, look);
      const other = blamed === handover.to ? handover.from : handover.to;
      yield {
        place: placeOf(blamed),
        says: handoverWords(handover, look.workshop.limits.coverage),
        related: [other, ...(handover.again ? [handover.again] : [])].map((side) => ({
          place: placeOf(side),
          says: `${weightWords(side)} in ${stepWords(side.entry)}`,
        })),
        fixes: fixesFor(handover),
        unsure: handover.difference.guessed,
      };
    }
  },
});

type Side = Handover['from'];

/** Where the hand will mend it: at the weight whose own step is out of order, else at the likeliest slip, else at the later one. */
const blamedSide = (handover: Handover, best: Slip | undefined, look: Look): Side => {
  const { from, to } = handover;
  if (handover.again) return to;
  if (mendsStep(handover, look.book.step(from.entry), look)) return from;
  if (mendsStep(handover, look.book.step(to.entry), look)) return to;
  return best && best.amount === from.weight.amount ? from : to;
};

const placeOf = ({ weight, place }: Side): Place => weight.amount?.place ?? place;
const fixesFor = (handover: Handover): Fix[] => {
  const { to, slips } = handover;
  const ofSlips = slips.map((slip, index) => ({
    title: `Write ${slip.inTare ? 'tare ' : ''}${slip.reads} in ${stepWords(slipSide(handover, slip).entry)} (${SLIP_WORDS[slip.kind]})`,
    edits: [{ at: slip.replace, text: slip.reads }],
    safe: false,
    preferred: index === 0,
  }));
  const copies = copiesOf(handover).filter((copy) => !ofSlips.some((slip) => sameEdit(slip, copy)));
  return [...ofSlips, ...copies, ...restateFix(to)];
};

/** A slip's mend may be just the other side's figure. */
const sameEdit = ({ edits: [a] }: Fix, { edits: [b] }: Fix): boolean =>
  a?.text === b?.text && a?.at.anchor === b?.at.anchor && a?.at.start === b?.at.start;

/** The one figure written over the other; where a part was taken between, what should be left. */
const copiesOf = ({ from, to, left, since, again }: Handover): Fix[] => {
  if (since) return writeFix(to, showMass({ ...left, guessed: false }));
  return again ? copyFix(to, from) : [...copyFix(to, from), ...copyFix(from, to)];
};

/** The other side's figure written over this one, where both are plain readings. */
const copyFix = (into: Side, source: Side): Fix[] => {
  const written = plainText(source);
  return written ? writeFix(into, written) : [];
};

const writeFix = (into: Side, written: string): Fix[] => {
  const at = plainPlace(into);
  if (!at) return [];
  return [{ title: `Write ${written} in ${stepWords(into.entry)}`, edits: [{ at, text: written }], safe: false }];
};

const plainText = ({ weight }: Side): string | undefined => {
  const figure = weight.amount?.figure;
  if (figure?.form !== 'reading' || weight.tare || !figure.digits.unit) return undefined;
  return `${figure.digits.text} ${figure.digits.unit.symbol}`;
};

const plainPlace = ({ weight }: Side): Place | undefined => {
  const figure = weight.amount?.figure;
  return figure?.form === 'reading' && !weight.tare ? figure.digits.place : undefined;
};

const restateFix = ({ entry, place }: Side): Fix[] => [
  {
    title: 'It was weighed again: say why',
    edits: [{ at: lineEnd(entry, place), text: '  # accepted weight-changed: weighed again' }],
    safe: false,
  },
];

/** The end of the line on which a place ends. */
const lineEnd = (entry: Entry, place: Place): Place => {
  const text = (entry.anchor as { readonly text?: string }).text ?? '';
  let end = place.end;
  while (end < text.length && text[end] !== '\n' && text[end] !== '\r') end++;
  return { anchor: place.anchor, start: end, end };
};

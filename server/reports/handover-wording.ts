/** How the two weights of a hand-over are said, and the slip that may be behind their difference. */
import type { Handover, Slip } from '../engine/book';
import { showMass } from '../quantity/show';
import { fitting, isShownAsNothing, sizeOf, spreadWords } from './figures';
import { SLIP_WORDS, stepWords, timesWords } from './words';

/** What the two weights of a hand-over say, for the line's end. None where they are the same. */
export const handoverLabel = (handover: Handover): string | undefined => {
  const { difference, explained, because, slips } = handover;
  if (difference.value.isZero()) return undefined;
  const size = showMass(sizeOf(difference));
  const side = difference.value.isNegative() ? 'less' : 'more';
  if (explained) {
    return isShownAsNothing(difference)
      ? 'agrees'
      : fitting(`${size} ${side}, weighing explains it`, `${size} ${side}`);
  }
  const [best] = slips;
  if (best) {
    const where = best.amount === handover.to.weight.amount ? 'here' : 'before';
    return fitting(
      `${size} ${side}, likely ${best.inTare ? 'tare ' : ''}${best.reads} ${where}`,
      `${size} ${side} than it left with`,
    );
  }
  const why = because && BECAUSE[because][side];
  return fitting(...(why ? [`${size} ${side}, ${why}`] : []), `${size} ${side} than it left with`, `${size} ${side}`);
};

const BECAUSE: Readonly<Record<NonNullable<Handover['because']>, Readonly<Record<'less' | 'more', string>>>> = {
  moisture: { less: 'it has dried since', more: 'it has taken up water' },
  heat: { less: 'weighed hot, reads light', more: 'it was weighed hot before' },
  cleaned: { less: 'it was cleaned since', more: 'it was cleaned since' },
  annealed: { less: 'it was annealed since', more: 'it was annealed since' },
};

/**
 * `A weighs 61.37 g in receive A and 61.73 g in cast C1: 0.36 g more, 9 times what weighing explains (±0.01 g).` and the likeliest slip.
 * `coverage`: how many standard uncertainties weighing explains.
 */
export const handoverWords = (handover: Handover, coverage: number): string => {
  const { difference, explained, times } = handover;
  const weights = bothWords(handover);
  if (difference.value.isZero()) return `${weights}.`;
  const gap = `${showMass(sizeOf(difference))} ${difference.value.isNegative() ? 'less' : 'more'}`;
  const spread = spreadWords(difference);
  const bounds = spread ? ` (${spread})` : '';
  if (explained) return `${weights}: ${gap}, which weighing explains${bounds}.`;
  const [best] = handover.slips;
  const why = handover.because && BECAUSE[handover.because][difference.value.isNegative() ? 'less' : 'more'];
  const slip = why ? ` The words beside the weights say why: ${why}.` : best ? ` ${likeliest(handover, best)}` : '';
  return `${weights}: ${gap}, ${timesWords(times / coverage)} what weighing explains${bounds}.${slip}`;
};

/** The two weights; of a lot of which a part was taken since, what should be left of it. */
const bothWords = ({ lot, from, to, left, since, again }: Handover): string => {
  const here = `${weightWords(to)} in ${stepWords(to.entry)}`;
  if (since) return `${showMass(left)} of ${lot} should be left after ${stepWords(since)}; it weighs ${here}`;
  if (again)
    return `${lot} weighs ${weightWords(from)} in ${stepWords(from.entry)} and again in ${stepWords(again.entry)}, but ${here}`;
  return `${lot} weighs ${weightWords(from)} in ${stepWords(from.entry)} and ${here}`;
};

type Side = Handover['from'];

/** A side's weight as it was typed, else the net weight. */
export const weightWords = ({ weight }: Side): string => {
  const figure = weight.amount?.figure;
  if (figure?.form === 'reading' && !weight.tare && figure.digits.unit) {
    return `${figure.digits.text} ${figure.digits.unit.symbol}`;
  }
  return weight.mass ? showMass(weight.mass) : '?';
};

/** The side that a slip would mend. */
export const slipSide = ({ from, to }: Handover, slip: Slip): Side => (slip.amount === from.weight.amount ? from : to);

const likeliest = (handover: Handover, slip: Slip): string =>
  `Likeliest: ${SLIP_WORDS[slip.kind]}, ${slip.inTare ? 'tare ' : ''}${slip.reads} in ${stepWords(slipSide(handover, slip).entry)}.`;

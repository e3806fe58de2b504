/** A slip of the pen that would explain a step's balance: where it is, what it is called, and the edit that mends it. */
import type { Slip, Step } from '../engine/book';
import { SLIP_WORDS } from '../reports/words';
import type { Place } from '../text/place';
import type { Fix, Look } from './rule';

const slipsOf = (_step: Step, _look: Look): readonly Slip[] => [];

export const slipPlace = (step: Step, look: Look): Place | undefined => slipsOf(step, look)[0]?.amount.place;

export const slipWords = (step: Step, look: Look): string => {
  const [best] = slipsOf(step, look);
  return best ? ` Likeliest: ${SLIP_WORDS[best.kind]}; ${best.reads} would close it.` : '';
};

export const slipFixes = (step: Step, look: Look): readonly Fix[] =>
  slipsOf(step, look).map((slip, index) => ({
    title: `Write ${slip.reads} (${SLIP_WORDS[slip.kind]})`,
    edits: [{ at: slip.replace, text: slip.reads }],
    safe: false,
    preferred: index === 0,
  }));

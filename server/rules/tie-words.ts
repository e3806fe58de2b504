/** What another order of the same entries tells of a lot. */
import type { LotStory } from '../engine/book';
import type { Otherwise } from '../engine/ties';
import type { Measured } from '../quantity/measured';
import { showMass } from '../quantity/show';
import { stepWords } from '../reports/words';

/** Of the other order: `20.00 g of A is left instead of 20.01 g`. */
export const otherwiseWords = ({ name }: LotStory, one: Otherwise): string => {
  switch (one.of) {
    case 'left':
      return weightsWords(name, one.other, one.now, 'is left', one.unit);
    case 'taken':
      return weightsWords(name, one.other, one.now, `goes into ${stepWords(one.entry)}`, 'g');
    case 'assay':
      return `${stepWords(one.entry)} speaks of what ${name} was at another time`;
    case 'owner':
      return `${name} belongs to somebody else`;
    case 'place':
      return `${name} is in another place`;
  }
};

/** Where the order as it is now is the other one. */
export const turnedWords = (story: LotStory, one: Otherwise): string =>
  otherwiseWords(story, 'now' in one ? { ...one, now: one.other, other: one.now } : one);

const weightsWords = (
  lot: string,
  is: Measured | undefined,
  insteadOf: Measured | undefined,
  does: string,
  unit: string,
): string => {
  const [here, there] = [is, insteadOf].map((of) => weightWords(of, unit));
  return here === there ? `another weight of ${lot} is the last one` : `${here} of ${lot} ${does} instead of ${there}`;
};

const weightWords = (of: Measured | undefined, unit: string): string => {
  if (!of) return 'an unknown weight';
  return of.value.isZero() && of.errors.length === 0 ? 'nothing' : showMass(of, unit);
};

/** Shares of one metal's whole that add up to more than the whole. */
import type { Amount, Digits, Entry, Reading } from '../engine/entry';
import { isAboveWhole } from '../engine/whole';
import { type Decimal, toPlain, ZERO } from '../quantity/decimal';
import { toBase } from '../quantity/units';
import { rule } from './rule';

export const compositionAboveWhole = rule({
  code: 'composition-above-whole',
  severity: 'error',
  atOnce: true,
  ofPlans: true,
  title: 'a composition above 100 %',
  why: 'The shares of one determination cannot add up to more than the whole, beyond the rounding of their last digits. A share above 100 %, 1000 fine or 24 k cannot be.',
  wrong: '2026-05-04\nreceive A 20.00 g\nassay A by xrf\n  Au 91.2 %  Ag 18.4 %',
  right: '2026-05-04\nreceive A 20.00 g\nassay A by xrf\n  Au 81.2 %  Ag 18.4 %',
  entry: function* ({ entry }) {
    for (const reading of readingsOf(entry)) {
      if (!isAboveWhole(reading)) continue;
      const plain = reading.metals.reduce((sum, { amount }) => sum.plus(plainShare(amount)), ZERO);
      const percent = toPlain(plain.times(100).toDecimalPlaces(2));
      const one = reading.metals.length === 1 ? reading.metals[0]!.symbol.name : undefined;
      yield {
        place: reading.place,
        says: one
          ? `${one} ${percent} % is more than the whole.`
          : `These shares add up to ${percent} %, more than the whole.`,
      };
    }
  },
});

const readingsOf = (entry: Entry): readonly Reading[] => [
  ...entry.readings.map(({ reading }) => reading),
  ...entry.others.flatMap(({ reading }) => (reading ? [reading] : [])),
];

/** As written; of a range its lower end. */
const plainShare = ({ figure }: Amount): Decimal => {
  if (!figure || (figure.form === 'limit' && figure.side === 'below')) return ZERO;
  if (figure.form === 'range') return fraction(figure.low);
  return fraction('digits' in figure ? figure.digits : figure.parts[0]!);
};

const fraction = (digits: Digits): Decimal =>
  digits.unit?.kind === 'proportion' ? toBase(digits.value, digits.unit) : ZERO;

/** A scale that does not show what a check weight weighs. */
import type { Amount, Entry, Named } from '../engine/entry';
import { weighAmount } from '../engine/weigh';
import type { Workshop } from '../engine/workshop';
import { type Measured, subtract, uncertainty } from '../quantity/measured';
import { showDigits, showMass } from '../quantity/show';
import { rule } from './rule';

export const scaleOff = rule({
  code: 'scale-off',
  severity: 'warning',
  atOnce: false,
  title: 'a scale that reads a check weight wrong',
  why: 'A scale that shows a known weight farther off than its division, its repeatability and its permissible error allow is as far off with your metal, and nothing else in the notebook may show it: all that is weighed on it agrees. Level it, clean the pan, let it warm up, adjust it and check it again; then weigh again what was weighed on it since it last read right. If it is known to be so far off, write its `permissible error` in the workshop file: then every weight read on it counts with it.',
  wrong: '2026-05-04\ncheck-scale bench 100 g, reads 100.20 g',
  right: '2026-05-04\ncheck-scale bench 100 g, reads 100.01 g',
  workshop: 'scales: { bench: 0.01 g }\n',
  source:
    'JCGM 100 (GUM) 5.1.2: difference of a reading and a known weight, k = 2, and more than one division; the check weight is taken as true: common practice, no source',
  entry: function* ({ entry: written, parts }, { workshop }) {
    const entry = parts.find(({ anchor }) => anchor === written.anchor) ?? written;
    const check = written.prefix ? undefined : checkOf(entry, workshop);
    if (!check?.isOff) return;
    const { off, scale, reads, weight, isGross } = check;
    const side = off.value.isNegative() ? 'less' : 'more';
    const size = off.value.abs();
    const by = isGross ? `${showDigits(size, 3)} g` : showMass({ ...off, value: size });
    const first = isGross ? 'Look at the two figures; if they are right, level' : 'Level';
    yield {
      place: reads.place,
      says: `${scale.name} shows ${by} ${side} than the check weight. ${first} and adjust it, check it again, and weigh again what was weighed on it since it last read right.`,
      related: [{ place: weight.place, says: 'the check weight' }],
      unsure: off.guessed,
    };
  },
});

export interface ScaleCheck {
  readonly scale: Named;
  readonly reads: Amount;
  readonly weight: Amount;
  /** What it shows less the check weight. */
  readonly off: Measured;
  /** By more than it may. */
  readonly isOff: boolean;
  /** By so much that it is hardly the scale. */
  readonly isGross: boolean;
}

/** What a `check-scale` says; none while a weight or the reading is missing. */
export const checkOf = (entry: Entry, workshop: Workshop): ScaleCheck | undefined => {
  const reads = entry.others.find(({ word }) => word === 'reads')?.amounts[0];
  const scale = entry.name;
  if (entry.verb !== 'check-scale' || !reads || !scale || !entry.amount) return undefined;
  const shown = weighAmount(reads, { ...entry.said, scale }, workshop, scale.name);
  const weight = weighAmount(entry.amount, {}, workshop, 'check weight');
  if (!shown.mass || !weight.mass || weight.mass.value.isZero()) return undefined;
  const off = subtract(shown.mass, { ...weight.mass, errors: [] });
  const size = Math.abs(off.value.toNumber());
  const explained = Math.max(workshop.limits.coverage * uncertainty(off), shown.divisionGrams);
  const isOff = size > explained * (1 + TOUCH);
  const isGross = size > SURELY_A_SLIP * weight.mass.value.toNumber();
  return { scale, reads, weight: entry.amount, off, isOff, isGross };
};

/** Share of the weight by which hardly a scale, and mostly a pen, is off: common practice, no source. */
const SURELY_A_SLIP = 0.02;

/** So that 0.01 g is not more than 0.01 g. */
const TOUCH = 1e-9;

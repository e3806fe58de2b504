/** A scale that does not show what a check weight weighs. */
import { weighAmount } from '../engine/weigh';
import { subtract, uncertainty } from '../quantity/measured';
import { showMass } from '../quantity/show';
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
    if (written.verb !== 'check-scale' || written.prefix) return;
    const entry = parts.find(({ anchor }) => anchor === written.anchor) ?? written;
    const reads = entry.others.find(({ word }) => word === 'reads')?.amounts[0];
    const scale = entry.name;
    if (!reads || !scale || !entry.amount) return;
    const shown = weighAmount(reads, { ...entry.said, scale }, workshop, scale.name);
    const weight = weighAmount(entry.amount, {}, workshop, 'check weight');
    if (!shown.mass || !weight.mass || weight.mass.value.isZero()) return;
    const off = subtract(shown.mass, { ...weight.mass, errors: [] });
    const size = Math.abs(off.value.toNumber());
    const explained = Math.max(workshop.limits.coverage * uncertainty(off), shown.divisionGrams);
    if (size <= explained * (1 + TOUCH)) return;
    const side = off.value.isNegative() ? 'less' : 'more';
    const by = showMass({ ...off, value: off.value.abs() });
    const first =
      size > SURELY_A_SLIP * weight.mass.value.toNumber()
        ? 'Look at the two figures; if they are right, level'
        : 'Level';
    yield {
      place: reads.place,
      says: `${scale.name} shows ${by} ${side} than the check weight. ${first} and adjust it, check it again, and weigh again what was weighed on it since it last read right.`,
      related: [{ place: entry.amount.place, says: 'the check weight' }],
      unsure: off.guessed,
    };
  },
});

/** Share of the weight by which hardly a scale, and mostly a pen, is off: common practice, no source. */
const SURELY_A_SLIP = 0.02;

/** So that 0.01 g is not more than 0.01 g. */
const TOUCH = 1e-9;

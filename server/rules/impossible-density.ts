/** A density that no metal of the trade has. */
import { matrixOf, weighedDensity } from '../engine/accounts/assays';
import type { Segment } from '../engine/accounts/segments';
import { isMetalKind } from '../engine/charge';
import { findMaterial } from '../engine/shelf';
import type { Workshop } from '../engine/workshop';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { element } from '../vocabulary/elements';
import { type MetalSubject, rule } from './rule';

/** Osmium, the heaviest of all, g/cm³: from memory. */
const HEAVIEST = 22.6;
const GOLD = element('Au')!.density!.value;
/** The lightest that is alloyed in the trade. */
const ZINC = element('Zn')!.density!.value;

export const impossibleDensity = rule({
  code: 'impossible-density',
  severity: 'warning',
  atOnce: false,
  title: 'a density that no metal of the trade has',
  why: 'Nothing is heavier than gold but metals of the platinum group, and nothing at all above them. A solid piece lighter than zinc is hollow, has slag or a stone in it, or was weighed with a bubble. Beyond that a weight is wrong: weigh it again in air and, wetted, in water. No gold is reckoned from such a density.',
  wrong: '2026-05-04\nreceive A 50.00 g\nassay A by density\n  air 50.00 g\n  water 47.92 g 20 °C',
  right: '2026-05-04\nreceive A 50.00 g\nassay A by density\n  air 50.00 g\n  water 46.92 g 20 °C',
  source:
    'densities of gold 19.3 and zinc 7.133 g/cm³: a published table of the elements; of osmium, 22.6: from memory; k = 2',
  metal: function* (subject) {
    const { entry, accounts, look } = subject;
    const density = entry.verb === 'assay' ? weighedDensity(entry) : undefined;
    const segment = density && entry.name && accounts.metals.lineage.segmentAt(entry.name.name, entry);
    if (!density || !entry.name || !segment) return;
    const isHeavy = density.low > HEAVIEST || (density.low > GOLD && !mayHoldPlatinum(segment, subject));
    const isLight = density.high < ZINC && matrixOf(entry) === undefined && isMetal(segment, look.workshop);
    if (!isHeavy && !isLight) return;
    const weights = entry.others.filter(({ word }) => word === 'air' || word === 'water');
    yield {
      place: weights.at(-1)?.amounts[0]?.place ?? entry.name.place,
      says: `By these weights ${entry.name.name} is ${shown(density.best)} g/cm³, ${isLight ? LIGHT : heavyWords(density.low)}`,
    };
  },
});

const shown = (density: number): string => showDigits(decimal(density), 3);

const LIGHT = `and even zinc is ${shown(ZINC)}. Is it hollow, is there slag or a stone in it, or a bubble on it? Weigh it again in air and in water; of gold in quartz write \`material quartz\` in the assay.`;

const heavyWords = (low: number): string =>
  low > HEAVIEST
    ? `and no metal is above ${shown(HEAVIEST)}. Weigh it again in air and in water.`
    : `heavier than gold, ${shown(GOLD)}: only metals of the platinum group are. Weigh it again in air and in water.`;

const PLATINUM_GROUP: readonly string[] = ['Pt', 'Ir', 'Os'];

const mayHoldPlatinum = (segment: Segment, { accounts }: MetalSubject): boolean => {
  const best = accounts.metals.best(segment);
  return PLATINUM_GROUP.some((metal) => (best.get(metal)?.share?.value ?? 0) > 0);
};

/** Ore, sand and slag are lighter than any metal, as they may be. */
const isMetal = ({ start, story: { make } }: Segment, workshop: Workshop): boolean => {
  const material = make?.material === undefined ? undefined : findMaterial(workshop, make.material);
  return isMetalKind(start.flow?.kind ?? make?.kind) && (material === undefined || material.group === 'metal');
};

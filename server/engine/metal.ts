/**
 * Metal alone through a heat: a button cannot weigh more than the metal that was charged, nor a bead more than the button, however much flux,
 * slag or lead went round them. The balance of the whole charge is too coarse to show it.
 */
import { add, type Measured, subtract, uncertainty } from '../quantity/measured';
import { element } from '../vocabulary/elements';
import type { FlowWeight, Make, Step } from './book';
import { addedParts, isMetalKind, metalShare } from './charge';
import type { Flow } from './entry';
import { findMaterial } from './shelf';
import type { Workshop } from './workshop';

export interface MetalGain {
  /** Metal that went in, as far as it can come out again: without the lead of a cupellation. Grams. */
  readonly charged: Measured;
  /** Metal that came out and was weighed. */
  readonly out: Measured;
  /** out − charged; above zero, and beyond weighing. */
  readonly gained: Measured;
}

/** Verbs whose metal comes out as metal. */
const HEATS: ReadonlySet<string> = new Set(['melt', 'cast', 'cupel']);
/** What a cupel keeps: base metal charged there does not come back. */
const NOBLE: ReadonlySet<string> = new Set(['Au', 'Ag', 'Pt', 'Pd']);

/**
 * The metal that a heat seems to have made. None where nothing is wrong, or where it cannot be told: a feed that is not known to be metal, a
 * weight not known, or a charge that may itself yield metal (litharge, chloride, oxides).
 */
export function metalGain(
  step: Step,
  workshop: Workshop,
  makeOf: (flow: Flow) => Make | undefined,
): MetalGain | undefined {
  const { verb } = step.entry;
  if (!HEATS.has(verb) || step.inputs.length === 0) return undefined;
  if (!step.inputs.every(({ flow, mass }) => mass && isMetal(makeOf(flow), workshop))) return undefined;
  const added = verb === 'cupel' ? nobleAdded(step.added, workshop) : metalAdded(step.added, workshop);
  const products = step.outputs.filter(({ flow, mass }) => mass && flow.kind !== undefined && isMetalKind(flow.kind));
  if (!added || products.length === 0) return undefined;
  const charged = add(...step.inputs.map(({ mass }) => mass!), ...added);
  const out = add(...products.map(({ mass }) => mass!));
  const gained = subtract(out, charged);
  const divisions = [...step.inputs, ...products].reduce((sum, { divisionGrams }) => sum + divisionGrams / 2, 0);
  const reach = Math.max(workshop.limits.coverage * uncertainty(gained), divisions);
  return gained.value.gt(reach) ? { charged, out, gained } : undefined;
}

function isMetal(make: Make | undefined, workshop: Workshop): boolean {
  if (make?.kind !== undefined) return isMetalKind(make.kind);
  const material = make?.material ? findMaterial(workshop, make.material) : undefined;
  return material !== undefined && metalShare(material) >= 0.5;
}

/** Metal from the shelf; none where something else on it could give metal too. */
function metalAdded(added: readonly FlowWeight[], workshop: Workshop): Measured[] | undefined {
  const metals: Measured[] = [];
  for (const weight of added) {
    const parts = addedParts([weight], workshop);
    if (parts.some(({ material }) => !material || mayYieldMetal(material.composition))) return undefined;
    const metal = parts.filter(({ material }) => metalShare(material!) >= 0.5);
    if (metal.length === 0) continue;
    if (metal.length < parts.length || !weight.mass) return undefined;
    metals.push(weight.mass);
  }
  return metals;
}

/** A compound of a metal that a heat may bring down. */
const mayYieldMetal = (composition: readonly { readonly what: string }[]): boolean =>
  composition.some(({ what }) => !element(what) && REDUCIBLE.test(what));
const REDUCIBLE = /Au|Ag|Pb|Cu|Bi|Sn|Sb|Hg|Fe|Zn|Ni|Cd/;

function nobleAdded(added: readonly FlowWeight[], workshop: Workshop): Measured[] | undefined {
  const noble: Measured[] = [];
  for (const weight of added) {
    const material = addedParts([weight], workshop)[0]?.material;
    if (!material || !weight.mass) return undefined;
    if (material.composition.some(({ what }) => NOBLE.has(what))) noble.push(weight.mass);
  }
  return noble;
}

/** What was charged, sorted by what becomes of it in the heat: metal, slag, gas. */
import { decimal } from '../quantity/decimal';
import { add, type Measured, scale, subtract, uncertainty } from '../quantity/measured';
import { parseFormula } from '../vocabulary/compounds';
import { type MaterialLike, oxygenToSlag } from '../vocabulary/materials';
import type { FlowWeight, Make } from './book';
import type { Flow } from './entry';
import { type ChargeItem, type GasGivenOff, gasGivenOff } from './gas';
import { expandRecipe, findMaterial } from './shelf';
import type { Charge } from './usual';
import type { Material, Workshop } from './workshop';

export type MakeOf = (flow: Flow) => Make | undefined;

/** One known material in a charge; a recipe gives several. */
export interface Part {
  readonly material: Material | undefined;
  readonly item: ChargeItem;
}

/** Product kinds that are metal; a product without a kind is taken for metal. */
const METAL_KINDS: ReadonlySet<string> = new Set([
  'button',
  'bead',
  'bar',
  'shot',
  'prills',
  'skull',
  'sponge',
  'cornet',
  'drillings',
]);

export const isMetalKind = (kind: string | undefined): boolean => kind === undefined || METAL_KINDS.has(kind);

/** What was added from the shelf, recipes taken apart; a material that nobody knows has no composition. */
export function addedParts(added: readonly FlowWeight[], workshop: Workshop): Part[] {
  return added.flatMap(({ flow, mass }) => {
    const name = flow.material?.name ?? flow.lot?.name;
    return mass && name ? partsOf(name, mass, workshop) : [];
  });
}

function partsOf(name: string, mass: Measured, workshop: Workshop): Part[] {
  const recipe = expandRecipe(workshop, name, mass.value);
  if (!recipe) return [partOf(name, mass.value.toNumber(), uncertainty(mass), workshop)];
  const relative = mass.value.isZero() ? 0 : uncertainty(mass) / Math.abs(mass.value.toNumber());
  return recipe.map(({ material, grams }) => {
    const size = grams.toNumber();
    return partOf(material, size, size * relative, workshop);
  });
}

function partOf(name: string, massGrams: number, u: number, workshop: Workshop): Part {
  const material = findMaterial(workshop, name);
  return { material, item: { material: material ?? unknownMake(name), massGrams: Math.max(0, massGrams), u } };
}

const unknownMake = (name: string): MaterialLike => ({ name, composition: [], givesOff: [] });

/** Stands for any metal: it brings no acid and no base to the slag, and gives off nothing. */
const METAL: MaterialLike = { name: 'metal', composition: [{ what: 'Au', fraction: 1 }], givesOff: [] };

/** The lots that went in, as far as the record knows their make. */
export function feedParts(inputs: readonly FlowWeight[], workshop: Workshop, makeOf: MakeOf): Part[] {
  return inputs.flatMap(({ flow, mass }) => {
    if (!mass) return [];
    const make = makeOf(flow);
    const material = make?.material ? findMaterial(workshop, make.material) : undefined;
    const metal = make?.kind !== undefined && METAL_KINDS.has(make.kind);
    const plain = material ?? (metal ? METAL : unknownMake(flow.lot?.name ?? 'feed'));
    const like = make?.fumes ? { ...plain, givesOff: [...plain.givesOff, ...make.fumes] } : plain;
    const massGrams = Math.max(0, mass.value.toNumber());
    return [{ material, item: { material: like, massGrams, u: uncertainty(mass) } }];
  });
}

/** Gas from fluxes; without any there is none to reckon. */
export function gasOf(added: readonly Part[], feed: readonly Part[]): GasGivenOff {
  const gives = (parts: readonly Part[]) => parts.some(({ item }) => item.material.givesOff.length > 0);
  if (!gives(added) && !gives(feed)) return NO_GAS;
  return gasGivenOff([...feed, ...added].map(({ item }) => item));
}

/** Metal that may leave as fume, g, at the most: zinc, cadmium, mercury. */
export const metalFume = (parts: readonly Part[]): number =>
  parts.reduce(
    (so, { item: { material, massGrams } }) =>
      so +
      material.givesOff
        .filter(({ what, when }) => when === 'fume' && parseFormula(what)?.size === 1 && what !== 'S')
        .reduce((sum, { fraction, high = fraction }) => sum + massGrams * high, 0),
    0,
  );

export const NO_GAS: GasGivenOff = { grams: 0, low: 0, high: 0, u: 0, moles: 0, parts: [] };

export interface Heat {
  readonly added: readonly Part[];
  readonly feed: readonly Part[];
  readonly gasGrams: number;
  readonly outputs: readonly FlowWeight[];
  readonly material: string | undefined;
  readonly cupelGain: number | undefined;
}

/** The masses that the usual band of a step depends on. */
export function chargeOf({ added, feed, gasGrams, outputs, material, cupelGain }: Heat): Charge {
  const metal = added.filter(({ material: of }) => of?.group === 'metal' || of?.group === 'collector');
  const rest = added.filter((part) => !metal.includes(part));
  return {
    feed: total(feed),
    metalAdded: total(metal),
    collector: total(metal.filter(({ material: of }) => of?.group === 'collector')),
    slagMakers: Math.max(0, total(rest) - gasGrams),
    metalOut: metalOut(outputs),
    slagWritten: outputs.some(({ flow }) => flow.kind !== undefined && SLAG_KINDS.has(flow.kind)),
    ore: feed.some(({ material: of }) => of !== undefined && metalShare(of) < 0.5),
    metal:
      feed.length > 0 &&
      feed.every(({ material: of, item }) => (of ? metalShare(of) >= 0.5 : item.material.name === METAL.name)),
    material,
    oxygen: oxygenOf(feed),
    cupelGain,
  };
}

/**
 * What the slag-makers leave in the slag once their gas is gone: added, but for metal and collectors. In grams, with the errors of what was
 * weighed.
 */
export function slagFrom(added: readonly FlowWeight[], gas: Measured, workshop: Workshop): Measured {
  const makers = added.flatMap((weight) => {
    const parts = addedParts([weight], workshop);
    const metal = parts.filter(({ material: of }) => of?.group === 'metal' || of?.group === 'collector');
    if (!weight.mass || total(parts) === 0 || metal.length === parts.length) return [];
    if (metal.length === 0) return [weight.mass];
    return [scale(weight.mass, decimal(1 - total(metal) / total(parts)))];
  });
  return subtract(add(...makers), gas);
}

const SLAG_KINDS: ReadonlySet<string> = new Set(['slag', 'matte', 'speiss', 'residue', 'other']);

const total = (parts: readonly Part[]): number => parts.reduce((sum, { item }) => sum + item.massGrams, 0);

function metalOut(outputs: readonly FlowWeight[]): number | undefined {
  const metal = outputs.filter(({ flow }) => isMetalKind(flow.kind));
  if (metal.length === 0 || metal.some(({ mass }) => !mass)) return undefined;
  return metal.reduce((sum, { mass }) => sum.plus(mass!.value), decimal(0)).toNumber();
}

/** Share of a material that is metal as such, not in a compound; half of what is not known counts. */
export function metalShare({ composition }: MaterialLike): number {
  const known = composition.reduce((sum, { fraction }) => sum + fraction, 0);
  const metals = composition.filter(({ what }) => parseFormula(what)?.size === 1 && what !== 'C' && what !== 'S');
  return metals.reduce((sum, { fraction }) => sum + fraction, 0) + Math.max(0, 1 - known) / 2;
}

/** Oxygen that the feed's own metals would take in turning to slag; none when any part of the feed is of unknown make. */
function oxygenOf(feed: readonly Part[]): number | undefined {
  if (feed.length === 0 || feed.some(({ material }) => !material)) return undefined;
  return feed.reduce((sum, { item }) => sum + item.massGrams * oxygenToSlag(item.material.composition), 0);
}

/** What fire leaves of a material, by a name of two words, which no page can write: burnt sweeps, roasted concentrate. */
import { givesOffOf } from '../vocabulary/materials';
import { leftBy } from './bench/roast';
import type { Material } from './workshop';

const LEFT = /^(burnt|roasted) (.+)$/;

/** `lemel` of `burnt lemel`: what the shop's figures and the usual losses go by. */
export const rawName = (name: string): string => {
  const [, , raw] = LEFT.exec(name) ?? [];
  return raw === undefined ? name : rawName(raw);
};

const made = new WeakMap<Material, Map<string, Material>>();

/** The make behind a name of two words, of the raw one that `find` knows. */
export const leftMaterial = (name: string, find: (name: string) => Material | undefined): Material | undefined => {
  const [, by, raw] = LEFT.exec(name) ?? [];
  const from = raw === undefined ? undefined : find(raw);
  if (!from || !by) return undefined;
  const known = made.get(from) ?? new Map<string, Material>();
  made.set(from, known);
  const before = known.get(by);
  if (before) return before;
  const { composition, kept } = leftBy(by === 'roasted' ? 'roast' : 'burn', from.composition);
  const material: Material = {
    ...from,
    name,
    composition,
    givesOff: givesOffOf(composition),
    // What has left leaves its room at the most.
    bulkDensity: from.bulkDensity && { ...from.bulkDensity, low: Number((from.bulkDensity.low * kept).toPrecision(2)) },
  };
  known.set(by, material);
  return material;
};

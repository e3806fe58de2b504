/** The shop's own materials, and its recipes. */
import type { Material, Recipe } from '../engine/workshop';
import { type Decimal, sum } from '../quantity/decimal';
import { placeIn } from '../text/place';
import { type Constituent, type GivenOff, givesOffOf, material, type Share } from '../vocabulary/materials';
import { namedPairs } from './fields';
import type { Reading } from './reading';
import { thingsOf } from './things';
import type { Item } from './tree';
import { READERS } from './values';

export interface OwnMaterials {
  readonly materials: ReadonlyMap<string, Material>;
  readonly declared: ReadonlySet<string>;
}

export const readMaterials = (item: Item | undefined, reading: Reading): OwnMaterials => {
  const materials = readOwn(item, reading);
  return { materials, declared: new Set(materials.keys()) };
};

const readOwn = thingsOf<Omit<Material, 'place'>>('materials', (fields, _, name) => {
  const base = material(fields.get('from', 'material') ?? '');
  const moisture = fields.get('moisture', 'share')?.toNumber() ?? 0;
  const own = fields.get('composition', 'composition');
  const dry = own ?? base?.composition ?? [];
  const givesOff = own ? givesOffOf(own) : (base?.givesOff ?? []);
  return {
    name,
    group: base?.group ?? 'own',
    composition: wetted(dry, moisture),
    givesOff: [...givesOff.map((gas) => scaled(gas, 1 - moisture)), ...water(moisture)],
    // What a base takes of oxygen holds for its own composition only.
    ...(own || !base?.takesOxygen ? {} : { takesOxygen: dried(base.takesOxygen, moisture) }),
    bulkDensity: fields.get('bulk density', 'density') ?? base?.bulkDensity,
    price: fields.get('price', 'price'),
  };
});

const dried = (
  taken: NonNullable<Material['takesOxygen']>,
  moisture: number,
): NonNullable<Material['takesOxygen']> => ({
  ...taken,
  practical: taken.practical * (1 - moisture),
  theory: taken.theory * (1 - moisture),
});

/** A dry composition with water in it. */
const wetted = (dry: readonly Constituent[], moisture: number): readonly Constituent[] => {
  if (moisture === 0) return dry;
  return [...dry.map((part) => scaled(part, 1 - moisture)), { what: 'H2O', fraction: moisture }];
};

const water = (moisture: number): readonly GivenOff[] =>
  moisture === 0 ? [] : [{ what: 'H2O', when: 'heat', fraction: moisture }];

const scaled = <Part extends Share>(part: Part, by: number): Part => {
  if (by === 1) return part;
  const low = part.low === undefined ? {} : { low: part.low * by };
  const high = part.high === undefined ? {} : { high: part.high * by };
  return { ...part, fraction: part.fraction * by, ...low, ...high };
};

export const readRecipes = (item: Item | undefined, reading: Reading): ReadonlyMap<string, Recipe> => {
  const recipes = new Map<string, Recipe>();
  for (const { key, at, value } of namedPairs('recipes', item, reading)) {
    const parts = value && READERS.parts(value, reading);
    const place = placeIn(reading.report.anchor, at);
    recipes.set(key, { name: key, place, parts: parts ? sharesOf(parts) : [] });
  }
  return recipes;
};

const sharesOf = (parts: ReadonlyMap<string, Decimal>): Recipe['parts'] => {
  const whole = sum(parts.values());
  return [...parts].map(([name, amount]) => ({ material: name, share: amount.div(whole).toNumber() }));
};

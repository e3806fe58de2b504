/** What stands on the shelf: a material by its name, a recipe taken apart. */
import type { Decimal } from '../quantity/decimal';
import { decimal } from '../quantity/decimal';
import { type MaterialRow, material } from '../vocabulary/materials';
import { leftMaterial } from './left-of';
import type { Material, Workshop } from './workshop';

/** The shop's own material of a name, else the built-in one, else what a fire left of one (`burnt sweeps`); undefined for a name that none knows. */
export const findMaterial = (workshop: Workshop, name: string): Material | undefined => {
  const own = workshop.materials.get(name);
  if (own) return own;
  const row = material(name);
  return row ? builtIn(row) : leftMaterial(name, (raw) => findMaterial(workshop, raw));
};

export interface RecipePart {
  readonly material: string;
  readonly grams: Decimal;
}

/** Grams of each part in so many grams of a recipe; undefined for a name that is no recipe, and for a recipe that could not be read. */
export const expandRecipe = (workshop: Workshop, name: string, grams: Decimal): readonly RecipePart[] | undefined => {
  const recipe = workshop.recipes.get(name);
  if (!recipe || recipe.parts.length === 0) return undefined;
  return recipe.parts.map((part) => ({ material: part.material, grams: grams.times(decimal(part.share)) }));
};

const made = new Map<MaterialRow, Material>();

/** The same object each time, so that what is computed of it can be kept with it. */
const builtIn = (row: MaterialRow): Material => {
  const known = made.get(row);
  if (known) return known;
  const density = row.bulkDensity;
  const material: Material = { ...row, place: undefined, bulkDensity: density, price: undefined };
  made.set(row, material);
  return material;
};

/** A material or a recipe: what it is, what it is made of, what it gives off in the heat, with the source. */
import { expandRecipe, findMaterial } from '../../engine/shelf';
import type { Material, Workshop } from '../../engine/workshop';
import { decimal } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import { showSize } from '../../reports/figures';
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import { material as builtIn, type Share } from '../../vocabulary/materials';
import { materialMeaning } from '../../vocabulary/materials/told';

export const materialMarkdown = (workshop: Workshop, name: string): string => {
  const recipe = expandRecipe(workshop, name, decimal(100));
  if (recipe) {
    const parts = recipe.map(({ material, grams }) => `${material} ${showDigits(grams, 3)} %`).join(', ');
    return paragraphs(
      `**${escapeMarkdown(name)}** · ${escapeMarkdown(parts)}`,
      'A recipe of the workshop file, by mass.',
    );
  }
  const found = findMaterial(workshop, name);
  if (!found) {
    return paragraphs(
      `**${escapeMarkdown(name)}** · neither a built-in material nor one of the workshop file.`,
      'Its gas and its room in the crucible are not reckoned. Declare it under `materials`.',
    );
  }
  return knownMaterial(found, workshop.materials.has(name));
};

const knownMaterial = (found: Material, isOwn: boolean): string => {
  const row = builtIn(found.name);
  const meaning = isOwn
    ? `a material of the workshop file, ${found.group}`
    : row
      ? materialMeaning(row.name)
      : found.group;
  const density = found.bulkDensity;
  const bulk = density && `Lies at ${rangeWords(density.low, density.high)} g/mL.`;
  const source = isOwn ? 'From the workshop file.' : `Source: ${row?.source ?? 'built in'}.`;
  return paragraphs(
    `**${escapeMarkdown(found.name)}** · ${escapeMarkdown(meaning)}`,
    sharesLine('Made of', found.composition),
    sharesLine('Gives off in the heat, of its own weight', found.givesOff),
    escapeMarkdown([bulk, row && !isOwn ? row.open : undefined, source].filter(Boolean).join(' ')),
  );
};

const rangeWords = (low: number, high: number): string =>
  low === high ? showSize(low) : `${showSize(low)}..${showSize(high)}`;

const sharesLine = (title: string, shares: readonly (Share & { readonly what: string })[]): string | undefined => {
  const said = shares.filter(({ fraction, high }) => (high ?? fraction) > 0).map(shareWords);
  return said.length > 0 ? `${title}: ${escapeMarkdown(said.join(', '))}.` : undefined;
};

const shareWords = ({ what, fraction, low, high }: Share & { readonly what: string }): string => {
  const [least, most] = [low ?? fraction, high ?? fraction].map((share) => showSize(share * 100));
  return `${what} ${least === most ? least : `${least}..${most}`} %`;
};

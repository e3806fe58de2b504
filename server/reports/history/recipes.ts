/** Flux recipes compared: what of a metal they leave in the slag, how much slag they make, how soon the heat is quiet. */
import { over } from '../../engine/accounts/inexact';
import type { Done } from '../../engine/longview/done';
import { type Comparison, compared, FEWEST_COMPARED, type Summary, summaryOf } from '../../engine/longview/summary';
import { balanceRow } from '../../engine/usual';
import { decimal } from '../../quantity/decimal';
import { showDigits } from '../../quantity/show';
import { type Cell, count, figure, NOTHING, type Table, word } from '../table';

interface Recipe {
  readonly name: string;
  readonly heats: readonly Done[];
  readonly inSlag: readonly number[];
  readonly quiet: Summary | undefined;
}

/** Of heats with flux. What is in the slag is known where it was assayed, or melted again and weighed. */
export const recipeTable = (done: readonly Done[], metal: string): Table => {
  const recipes = recipesOf(done, metal);
  const known = recipes.filter(({ inSlag }) => inSlag.length > 0).length;
  return {
    key: `recipes_${metal.toLowerCase()}`,
    title: `flux recipes by ${metal} left in the slag`,
    columns: [
      { key: 'recipe', head: 'flux' },
      { key: 'heats', head: 'heats', right: true },
      { key: 'slags', head: 'slags known', right: true },
      { key: 'median', head: `usual part of ${metal} in slag`, right: true },
      { key: 'least', head: 'least', right: true },
      { key: 'most', head: 'most', right: true },
      { key: 'quiet_heats', head: 'heats timed', right: true },
      { key: 'quiet_minutes', head: 'usual minutes to quiet', right: true },
      { key: 'against', head: '' },
    ],
    rows: recipes.map((recipe) => rowOf(recipe, recipes[0]!, LEVEL / Math.max(1, known - 1))),
    notes: [
      ...(known < recipes.length
        ? [
            `Where no slag is known, assay one, or melt it again and weigh the prills: without that no recipe can be told from another.`,
          ]
        : []),
      ...(known > 1
        ? [
            `Told from the first where chance alone parts their slags so in one of twenty such tables at most (exact rank sum test), from ${FEWEST_COMPARED} slags each on.`,
          ]
        : []),
    ],
  };
};

const recipesOf = (done: readonly Done[], metal: string): readonly Recipe[] => {
  const byName = new Map<string, Done[]>();
  for (const one of done) {
    const name = one.groups.recipe;
    if (name === undefined || balanceRow(one.step.entry.verb)?.kind !== 'melt') continue;
    const all = byName.get(name);
    if (all) all.push(one);
    else byName.set(name, [one]);
  }
  return [...byName]
    .map(([name, heats]) => ({
      name,
      heats,
      inSlag: heats.flatMap((heat) => {
        const one = heat.metal(metal);
        return one?.slag ? [over(one.slag, one.charged).value] : [];
      }),
      quiet: summaryOf(heats.flatMap(({ quietMinutes }) => quietMinutes ?? [])),
    }))
    .sort((a, b) => b.inSlag.length - a.inSlag.length || b.heats.length - a.heats.length || (a.name < b.name ? -1 : 1));
};

/** Of a table that tells recipes apart which are alike. */
const LEVEL = 0.05;

const rowOf = (recipe: Recipe, first: Recipe, level: number): readonly Cell[] => {
  const { name, heats, inSlag, quiet } = recipe;
  const summary = summaryOf(inSlag);
  return [
    word(name),
    count(heats.length),
    count(inSlag.length),
    share(summary?.median),
    share(summary?.least),
    share(summary?.most),
    count(quiet?.count ?? 0),
    quiet ? figure(`${Math.round(quiet.median)}`, quiet.median) : NOTHING,
    word(recipe === first || inSlag.length === 0 ? '' : AGAINST[compared(inSlag, first.inSlag, level)]),
  ];
};

const AGAINST: Readonly<Record<Comparison, string>> = {
  lower: 'less than the first',
  higher: 'more than the first',
  'cannot tell': 'cannot be told from the first',
};

const share = (value: number | undefined): Cell =>
  value === undefined ? NOTHING : figure(`${showDigits(decimal(100 * value), 2)} %`, value);

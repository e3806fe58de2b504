/** Flux recipes and other ways of working compared: what each left in the slag, how quiet its heats were, and every heat with its figures. */

import { shareWords } from '../../reports/figures';
import { historyTables, stepsOf } from '../../reports/history/history';
import { chargeOf } from '../../reports/wording';
import { listWords, stepWords } from '../../reports/words';
import type { Workspace } from '../../workspace/workspace';
import { mass, plainFigure } from '../cells';
import { type Choice, periodWords } from '../choice';
import { drawn } from '../drawn';
import { feedNames } from '../gear';
import { lookBack } from '../look-back';
import { NOTHING, type Row, type Section, section, table, words } from '../model';
import type { Kind } from './kind';

export const recipes: Kind = {
  code: 'recipes',
  title: 'Recipe comparison',
  means: 'flux recipes held against each other: metal left in slag, quietness, losses, and every heat done with each',
  takes: ['from', 'to'],
  make: (workspace, choice) => {
    const question = { from: choice.from, to: choice.to, metals: ['Au', 'Ag'], by: 'recipe' } as const;
    return {
      title: `Recipe comparison: ${periodWords(choice)}`,
      until: choice.to,
      facts: [],
      sections: [
        ...lookBack(historyTables(workspace, { ...question, part: 'recipes' })),
        ...lookBack(historyTables(workspace, { ...question, part: 'losses' })),
        ...lookBack(historyTables(workspace, { ...question, part: 'recovery' })),
        ...section(
          'Loss by recipe',
          drawn(workspace, { kind: 'loss', by: 'recipe', from: choice.from, to: choice.to }),
        ),
        ...madeOf(workspace),
        ...heatsOf(workspace, choice),
      ],
    };
  },
};

/** As the workshop file has them. */
const madeOf = ({ workshop }: Workspace): readonly Section[] => {
  const rows = [...workshop.recipes.values()].flatMap(({ name, parts, place }): readonly Row[] =>
    parts.map(({ material, share }, at) => ({
      cells: [words(at === 0 ? name : ''), words(material), plainFigure(100 * share, '%')],
      place,
    })),
  );
  return section(
    'What each is made of',
    table(
      [{ head: 'material' }, { head: 'recipe' }, { head: 'parts by mass', right: true }],
      rows.map(({ cells, ...row }) => ({ ...row, cells: [cells[1]!, cells[0]!, cells[2]!] })),
    ),
  );
};

const heatsOf = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const rows = stepsOf(workspace, choice)
    .filter(({ groups }) => groups.recipe !== undefined)
    .sort((a, b) => (a.groups.recipe! < b.groups.recipe! ? -1 : a.groups.recipe! > b.groups.recipe! ? 1 : 0))
    .map(({ groups, step, quietMinutes }): Row => {
      const slag = step.outputs.find(({ flow }) => flow.kind === 'slag')?.mass;
      const charge = chargeOf(step);
      return {
        cells: [
          words(stepWords(step.entry)),
          words(step.entry.date),
          words(groups.recipe),
          words(listWords(feedNames(step))),
          mass(charge),
          slag ? mass(slag) : NOTHING,
          step.unaccounted ? mass(step.unaccounted) : NOTHING,
          words(step.unaccounted && shareWords(step.unaccounted, charge)),
          quietMinutes === undefined
            ? NOTHING
            : { text: `${quietMinutes} min`, figure: { value: `${quietMinutes}`, unit: 'min' } },
        ],
        place: step.entry.head,
      };
    });
  const columns = ['heat', 'day', 'recipe', 'of', 'charge', 'slag', 'unaccounted for', 'of it', 'to quiet'];
  return section(
    'Every heat',
    table(
      columns.map((head, at) => ({ head, right: at > 3 })),
      rows,
    ),
  );
};

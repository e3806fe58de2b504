/** Acid that was used, and the gas that metal gives in it: what was to be aired and what was to be made harmless. */

import { jobOf } from '../advice/job';
import { acidTaken } from '../advice/parting';
import { rangeWords } from '../advice/words';
import { DEFERS } from '../engine/bench/hazards';
import { findMaterial } from '../engine/shelf';
import { stepWords } from '../reports/words';
import type { Workspace } from '../workspace/workspace';
import { mass } from './cells';
import type { Choice } from './choice';
import { stepsWithin } from './entries';
import { NOTHING, type Row, type Section, says, section, sentences, table, words } from './model';

/** Each step that was given acid, with what was written of it. */
export const acidSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const rows = stepsWithin(workspace, choice).flatMap(({ entry, added }): readonly Row[] => {
    const acids = added.filter(({ flow: { material } }) => {
      const found = material && findMaterial(workspace.workshop, material.name);
      return found?.group === 'acid';
    });
    const job = acids.length > 0 ? jobOf(workspace, entry) : undefined;
    const taken = job && acidTaken(job);
    return acids.map(({ flow, volume, mass: grams }, at) => ({
      cells: [
        words(stepWords(entry)),
        words(entry.date),
        words(flow.material?.name ?? ''),
        volume ? mass(volume, 'mL') : grams ? mass(grams) : NOTHING,
        words(taken && at === 0 ? rangeWords(taken.acidMillilitres, 'mL') : ''),
        words(taken && at === 0 ? `${taken.gas} ${rangeWords(taken.gasLitres, 'L')}` : ''),
        words(taken && at === 0 ? rangeWords(taken.airCubicMetres, 'm³') : ''),
      ],
      place: flow.place,
    }));
  });
  if (rows.length === 0) return [];
  const columns = ['step', 'day', 'acid', 'used', 'its metal takes', 'gas given off', 'air to thin it'];
  return section(
    'Acid and its gas',
    table(
      columns.map((head, at) => ({ head, right: at > 2 })),
      rows,
    ),
    sentences([
      says(
        'Reckoned by equation from the metal that went in; air thins the gas to 5 ppm of NO2. What is not taken is still acid: it is in the solution.',
      ),
      says(DEFERS),
    ]),
  );
};

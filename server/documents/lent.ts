/** Silver and gold that were lent into a step and are to come back out of it. */
import { fromMeasured, type Inexact, minus, NOTHING, plus, times } from '../engine/accounts/inexact';
import type { FlowWeight } from '../engine/book';
import { addedParts } from '../engine/charge';
import { stepWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { grams } from './cells';
import type { Choice } from './choice';
import { stepsWithin } from './entries';
import { type Row, type Section, section, table, words } from './model';

interface Loan {
  readonly row: Row;
  readonly grams: Inexact;
}

/** Up to the end of the period: what was lent, what was repaid, and what is still out. By weight of the metal as lent. */
export const lentSection = (workspace: Workspace, { to }: Choice): readonly Section[] => {
  const loans = stepsWithin(workspace, { ...(to === undefined ? {} : { to }) }).flatMap(
    ({ entry, inputs, added, outputs }) => {
      const loan = (of: FlowWeight, word: string, sign: 1 | -1): readonly Loan[] => {
        if (!of.mass) return [];
        const fine = silverIn(workspace, of);
        return [
          {
            row: {
              cells: [
                words(word),
                words(stepWords(entry)),
                words(entry.date),
                grams(fromMeasured(of.mass)),
                grams(fine),
              ],
              place: of.flow.place,
            },
            grams: sign > 0 ? fine : minus(NOTHING, fine),
          },
        ];
      };
      return [
        ...[...inputs, ...added].filter(({ flow }) => flow.said.lent).flatMap((of) => loan(of, 'lent', 1)),
        ...outputs.filter(({ flow }) => flow.said.repays).flatMap((of) => loan(of, 'repaid', -1)),
      ];
    },
  );
  if (loans.length === 0) return [];
  const out = loans.reduce((so, one) => plus(so, one.grams), NOTHING);
  return section(
    'Lent silver',
    table(
      [
        { head: 'what' },
        { head: 'in' },
        { head: 'day' },
        { head: 'weight', right: true },
        { head: 'fine silver', right: true },
      ],
      [
        ...loans.map(({ row }) => row),
        {
          cells: [
            words(out.value < 0 ? 'repaid beyond what was lent' : 'still out'),
            words(''),
            words(''),
            words(''),
            grams({ ...out, value: Math.abs(out.value) }),
          ],
          total: true,
        },
      ],
    ),
  );
};

const silverIn = (workspace: Workspace, of: FlowWeight): Inexact => {
  const { metals } = accountsOf(workspace);
  const segment = of.flow.lot && metals.lineage.segment(of.flow);
  const share = segment && metals.best(segment).get('Ag')?.share;
  if (share && of.mass) return times(fromMeasured(of.mass), share);
  const parts = addedParts([of], workspace.workshop);
  const silver = parts.flatMap(({ material, item }) =>
    (material?.composition ?? []).filter(({ what }) => what === 'Ag').map(({ fraction }) => fraction * item.massGrams),
  );
  return { ...NOTHING, value: silver.reduce((so, one) => so + one, 0) };
};

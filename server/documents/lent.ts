/** Silver and gold that were lent into a step and are to come back out of it. */
import { certain, fromMeasured, type Inexact, scaled, sum, times } from '../engine/accounts/inexact';
import { memo } from '../engine/accounts/memo';
import type { FlowWeight } from '../engine/book';
import { addedParts } from '../engine/charge';
import { stepWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { grams, mass } from './cells';
import type { Choice } from './choice';
import { stepsWithin } from './entries';
import { NOTHING, type Row, type Section, section, table, words } from './model';

interface Loan {
  readonly date: string;
  readonly row: Row;
  readonly grams: Inexact;
}

/** Up to the end of the period: what was lent, what was repaid, and what is still out. By weight of the metal as lent. */
export const lentSection = (workspace: Workspace, { to }: Choice): readonly Section[] => {
  const loans = loansIn(workspace).filter(({ date }) => to === undefined || date <= to);
  if (loans.length === 0) return [];
  const out = sum(loans.map((one) => one.grams));
  const still = { ...out, value: Math.abs(out.value) };
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
            NOTHING,
            NOTHING,
            NOTHING,
            grams(still),
          ],
          total: true,
        },
      ],
    ),
  );
};

const kept = memo<Workspace, readonly Loan[]>();

const loansIn = (workspace: Workspace): readonly Loan[] => {
  const known = kept.get(workspace);
  if (known) return known;
  const made = stepsWithin(workspace, {}).flatMap(({ entry, inputs, added, outputs }) => {
    const loan = (of: FlowWeight, word: string): readonly Loan[] => {
      if (!of.mass) return [];
      const fine = silverIn(workspace, of);
      const cells = [words(word), words(stepWords(entry)), words(entry.date), mass(of.mass), grams(fine)];
      return [
        {
          date: entry.date ?? '',
          row: { cells, place: of.flow.place },
          grams: word === LENT ? fine : scaled(fine, -1),
        },
      ];
    };
    return [
      ...[...inputs, ...added].filter(({ flow }) => flow.said.lent).flatMap((of) => loan(of, LENT)),
      ...outputs.filter(({ flow }) => flow.said.repays).flatMap((of) => loan(of, 'repaid')),
    ];
  });
  kept.set(workspace, made);
  return made;
};

const LENT = 'lent';

const silverIn = (workspace: Workspace, of: FlowWeight): Inexact => {
  const { metals } = accountsOf(workspace);
  const segment = of.flow.lot && metals.lineage.segment(of.flow);
  const share = segment && metals.best(segment).get('Ag')?.share;
  if (share && of.mass) return times(fromMeasured(of.mass), share);
  const parts = addedParts([of], workspace.workshop);
  const silver = parts.flatMap(({ material, item }) =>
    (material?.composition ?? []).filter(({ what }) => what === 'Ag').map(({ fraction }) => fraction * item.massGrams),
  );
  return certain(silver.reduce((so, one) => so + one, 0));
};

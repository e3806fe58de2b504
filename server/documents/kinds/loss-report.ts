/** What was lost in a period: the heats outside what is usual, losses by kind of step and by what they were done with, where metal went. */

import type { PeriodAccount } from '../../engine/accounts/period';
import { metalGain, metalMissing } from '../../engine/metal';
import { limitWords } from '../../reports/account';
import { shareWords } from '../../reports/figures';
import { GROUPINGS, historyTables, PARTS, stepsOf } from '../../reports/history/history';
import { chargeOf, metalGainedWords, metalMissingWords, verdictWords } from '../../reports/wording';
import { flowWords, stepWords } from '../../reports/words';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { count, goldAndSilver, grams, mass, weight } from '../cells';
import { type Choice, periodWords } from '../choice';
import { drawn } from '../drawn';
import { stepsWithin } from '../entries';
import { lookBack } from '../look-back';
import { NOTHING, type Row, type Section, says, section, sentences, table, words } from '../model';
import { fact, fineIn } from '../parts';
import type { Kind } from './kind';

export const lossReport: Kind = {
  code: 'loss-report',
  title: 'Loss report',
  means:
    'a period: heats outside what is usual, losses by step, recipe, crucible, furnace, hand, material and month, running sum of metal',
  restsOn: 'period',
  takes: ['from', 'to'],
  make: (workspace, choice) => {
    const steps = stepsWithin(workspace, choice).filter(({ entry }) => entry.verb !== 'sample');
    const outside = steps.filter((step) => isOutside(step) || metalWords(workspace, step) !== undefined);
    const open = steps.filter(({ verdict }) => verdict === 'open');
    return {
      title: `Loss report: ${periodWords(choice)}`,
      until: choice.to,
      facts: [
        ...fact('steps', count(steps.length)),
        ...fact('outside what is usual', count(outside.length)),
        ...fact('without a balance', count(open.length)),
      ],
      sections: [
        ...section(
          'Outside what is usual',
          table(
            OUTSIDE,
            outside.map((step) => stepRow(workspace, step)),
          ) ??
            sentences([
              says(
                steps.length === 0
                  ? 'No step was done in this period.'
                  : 'No step lost more than such steps usually do, and none gained.',
              ),
            ]),
        ),
        ...seenSection(workspace, choice),
        ...metalSection(workspace, choice),
        ...(steps.length > 0 ? lookedBack(workspace, choice) : []),
        ...section(
          'Every step',
          table(
            OUTSIDE,
            steps.filter((one) => one.unaccounted && !outside.includes(one)).map((step) => stepRow(workspace, step)),
          ),
        ),
      ],
    };
  },
};

const lookedBack = (workspace: Workspace, choice: Choice): readonly Section[] => [
  ...section(
    'Gold unaccounted for, step by step',
    drawn(workspace, { kind: 'unaccounted', from: choice.from, to: choice.to }),
  ),
  ...tablesOf(workspace, choice),
];

type Step = ReturnType<typeof stepsWithin>[number];

const OUTSIDE = [
  { head: 'step' },
  { head: 'day' },
  { head: 'went in', right: true },
  { head: 'unaccounted for', right: true },
  { head: 'of it', right: true },
  { head: 'so' },
] as const;

const isOutside = ({ verdict }: Step): boolean => verdict === 'high' || verdict === 'gain';

/** Metal alone, where flux and slag hide from the balance of the whole that it is missing, or too much. */
const metalWords = ({ workshop, book }: Workspace, step: Step): string | undefined => {
  if (step.verdict === 'gain') return undefined;
  const gain = metalGain(step, workshop, book.make);
  if (gain) return metalGainedWords(step.entry, gain);
  const loss = step.slag ? undefined : metalMissing(step, workshop, book.make);
  return loss && metalMissingWords(step.entry, loss);
};

const stepRow = (workspace: Workspace, step: Step): Row => {
  const { entry, unaccounted } = step;
  const charge = chargeOf(step);
  return {
    cells: [
      words(stepWords(entry)),
      words(entry.date),
      mass(charge),
      unaccounted ? mass(unaccounted) : words('?'),
      words(unaccounted && shareWords(unaccounted, charge)),
      words(verdictOf(workspace, step)),
    ],
    place: entry.head,
  };
};

const verdictOf = (workspace: Workspace, step: Step): string => {
  const metal = metalWords(workspace, step);
  const { verdict } = step;
  if (verdict === 'closed' || verdict === 'usual') return metal ?? verdict;
  return [verdictWords(step, workspace.workshop), metal].filter(Boolean).join(' ');
};

/** `lost 0.5 g because …`, and products that there were none of. */
const seenSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const rows = stepsWithin(workspace, choice).flatMap(({ entry, lost }) =>
    lost.map(
      (of): Row => ({
        cells: [
          words(flowWords(of.flow)),
          words(stepWords(entry)),
          words(entry.date),
          weight(of),
          ...goldAndSilver(fineIn(workspace, of)),
          words(of.flow.said.because),
        ],
        place: of.flow.place,
      }),
    ),
  );
  const columns = ['what', 'in', 'day', 'weight', 'gold', 'silver', 'because'];
  return section(
    'Seen to be lost',
    table(
      columns.map((head, at) => ({ head, right: at > 2 && at < 6 })),
      rows,
    ),
  );
};

const LEFT: ReadonlySet<string> = new Set(['discarded', 'lost', 'assayed', 'missing']);
const LEFT_WORDS: Readonly<Record<string, string>> = {
  discarded: 'thrown away: gone',
  lost: 'seen to be lost: gone',
  assayed: 'used up in assays: gone',
  missing: 'missing at a count: not explained',
};

const cupelRow = ({ cupelsClosing, cupelsOpening }: PeriodAccount): Row => ({
  cells: [
    words('in used cupels, more than at the opening: may be won back'),
    grams({ ...cupelsClosing, value: cupelsClosing.value - cupelsOpening.value }, 'guessed'),
    NOTHING,
  ],
});

/** Gone for good, held up where it may be won back, and left over. */
const metalSection = (workspace: Workspace, { from, to }: Choice): readonly Section[] =>
  ['Au', 'Ag'].flatMap((metal) => {
    const account = accountsOf(workspace).period(metal, from, to);
    const rows: Row[] = [
      ...account.lines
        .filter(({ movement }) => LEFT.has(movement))
        .map(({ movement, grams: of }) => ({ cells: [words(LEFT_WORDS[movement]), grams(of), NOTHING] })),
      ...(account.cupelsClosing.value > 0 || account.cupelsOpening.value > 0 ? [cupelRow(account)] : []),
      { cells: [words('unaccounted for'), grams(account.unaccounted), words(limitWords(account))], total: true },
    ];
    return section(
      `Where ${metal === 'Au' ? 'gold' : 'silver'} went that is not in a lot`,
      table([{ head: 'what' }, { head: 'fine weight', right: true }, { head: 'so' }], rows),
    );
  });

/** By each way of putting steps together that tells more than one group apart. */
const tablesOf = (workspace: Workspace, { from, to }: Choice): readonly Section[] => {
  const question = { from, to, metals: ['Au', 'Ag'] };
  const done = stepsOf(workspace, question);
  const telling = GROUPINGS.filter(
    (by) => by === 'kind' || new Set(done.flatMap(({ groups }) => groups[by] ?? [])).size > 1,
  );
  return [
    ...telling.flatMap((by) => lookBack(historyTables(workspace, { ...question, by, part: 'losses' }))),
    ...PARTS.filter((part) => AS_A_WHOLE.has(part)).flatMap((part) =>
      lookBack(historyTables(workspace, { ...question, by: 'kind', part })),
    ),
  ];
};

const AS_A_WHOLE: ReadonlySet<string> = new Set(['recovery', 'limits', 'taught', 'running']);

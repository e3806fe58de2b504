/** `fineweight reconcile`: every reading of a history held against all others. */
import { inexact } from '../engine/accounts/inexact';
import type { HistoryReading, ReconciledHistory } from '../engine/accounts/reconciled';
import { showQuantity } from '../quantity/show';
import { correctedNote, type Mended, mendedIn } from '../reports/corrections';
import { csv } from '../reports/csv';
import { asMeasured } from '../reports/fine';
import {
  figureWords,
  isMoved,
  isUnchecked,
  lotsWords,
  readingWords,
  reconciledIn,
  showsWords,
  suspectWords,
  testWords,
} from '../reports/reconcile';
import { stepWords } from '../reports/words';
import { nearest } from '../text/nearest';
import { visible } from '../text/visible';
import type { Workspace } from '../workspace/workspace';
import type { OptionsOf } from './args';
import type { Outcome } from './check';
import { correctionsJson } from './corrections';
import type { Opened } from './journals';
import { UsageError } from './options';
import type { Paint } from './paint';
import { whereIs, whereWords } from './print';
import { table } from './table';

export type ReconcileOptions = OptionsOf<'reconcile'>;

interface Told {
  readonly workspace: Workspace;
  readonly histories: readonly ReconciledHistory[];
}

/** Throws a UsageError for a lot that no journal knows. Exit 0 whether something is suspected or not: `check` is there to judge. */
export const reconcile = ({ journals, failures }: Opened, options: ReconcileOptions): Outcome => {
  const told = journals.flatMap(({ workspace }): Told[] => {
    const histories = reconciledIn(workspace, options.lot);
    return histories ? [{ workspace, histories }] : [];
  });
  if (options.lot !== undefined && told.length === 0) {
    const names = journals.flatMap(({ workspace }) => [...workspace.book.lotNames()]);
    const near = nearest(options.lot, names);
    throw new UsageError(
      `No entry of this journal speaks of a lot ${options.lot}.${near ? ` Did you mean ${near}?` : ''}`,
    );
  }
  return { text: TEXTS[options.format](told, options.paint), exit: failures.length > 0 ? 2 : 0 };
};

const TEXTS: Readonly<Record<ReconcileOptions['format'], (told: readonly Told[], paint: Paint) => string>> = {
  text: (told, paint) => told.map((one) => asText(one, paint)).join('\n'),
  json: (told) =>
    `${JSON.stringify({ version: 1, journals: told.map(asJson), corrections: told.flatMap(correctedJson) }, null, 2)}\n`,
  csv: (told) => csv(CSV_COLUMNS, told.flatMap(csvRows)),
};

const asText = ({ workspace, histories }: Told, paint: Paint): string => {
  const head = paint(
    'bold',
    `${visible(workspace.workshop.shop.name ?? 'The shop')}, readings held against each other`,
  );
  const checked = histories.filter(({ test, converged }) => test.freedom > 0 || !converged);
  const alone = histories.filter((history) => !checked.includes(history)).flatMap(({ readings }) => readings);
  const parts = checked.map((history) => historyText(workspace, history, paint));
  const unchecked = alone.length > 0 ? [uncheckedText('Nothing else speaks of these', workspace, alone, paint)] : [];
  const note = correctedNote(workspace, speaksOfReadings(histories));
  const all = [...parts, ...unchecked, ...(note ? [`${note}\n`] : [])];
  return `${[head, ...(all.length > 0 ? all : ['Nothing was read.\n'])].join('\n\n')}`;
};

const speaksOfReadings = (histories: readonly ReconciledHistory[]): ((mended: Mended) => boolean) => {
  const read = new Set<object>(histories.flatMap(({ readings }) => readings.map(({ place }) => place.anchor)));
  return ({ entry, by }) => read.has(entry.anchor) || read.has(by.anchor);
};

const correctedJson = ({ workspace, histories }: Told) => correctionsJson(workspace, speaksOfReadings(histories));

const historyText = (workspace: Workspace, history: ReconciledHistory, paint: Paint): string => {
  const { readings, suspects, unweighed } = history;
  const moved = readings.filter(isMoved);
  const unchecked = readings.filter(isUnchecked);
  const told = unweighed.filter(({ value }) => value !== undefined);
  const open = unweighed.filter(({ value }) => value === undefined);
  const lines = [
    `${paint('bold', visible(lotsWords(history)))}, ${countWords(history)}`,
    testWords(history),
    ...suspects.map((one) => {
      const where = one.reading ? ` ${paint('dim', whereWords(workspace, one.reading.place))}` : '';
      return `${paint('yellow', 'suspect')}: ${visible(suspectWords(one))}${where}`;
    }),
    ...(moved.length > 0 ? ['', 'moved by more than its own uncertainty', ...movedTable(workspace, moved, paint)] : []),
    ...(unchecked.length > 0
      ? ['', uncheckedText('Nothing would show if these were wrong', workspace, unchecked, paint).trimEnd()]
      : []),
    ...(told.length > 0 ? ['', `not weighed, but told by the rest: ${visible(told.map(toldWords).join(', '))}`] : []),
    ...(open.length > 0
      ? ['', `not weighed, and not to be told: ${visible(open.map(({ what }) => what).join(', '))}`]
      : []),
  ];
  return `${lines.join('\n')}\n`;
};

const countWords = ({ history, readings }: ReconciledHistory): string => {
  const count = (many: number, word: string): string => `${many} ${word}${many === 1 ? '' : 's'}`;
  const weights = readings.filter(({ kind }) => kind === 'mass').length;
  const assays = readings.length - weights;
  return `${count(history.steps.length, 'step')}, ${count(weights, 'weight')}, ${count(assays, 'assay figure')}`;
};

const movedTable = (workspace: Workspace, readings: readonly HistoryReading[], paint: Paint): readonly string[] => {
  const [head, ...rows] = table(
    [
      { head: 'reading' },
      { head: 'read', right: true },
      { head: 'adjusted', right: true },
      { head: 'an error shows from', right: true },
      { head: 'where' },
    ],
    readings.map((one) => [
      readingWords(one),
      figureWords(one, one.value, one.u),
      figureWords(one, one.adjusted, one.adjustedU),
      showsWords(one),
      whereWords(workspace, one.place),
    ]),
  );
  return [paint('dim', head!), ...rows.map(visible)];
};

const uncheckedText = (
  title: string,
  workspace: Workspace,
  readings: readonly HistoryReading[],
  paint: Paint,
): string => {
  const [head, ...rows] = table(
    [{ head: 'reading' }, { head: 'read', right: true }, { head: 'where' }],
    readings.map((one) => [readingWords(one), figureWords(one, one.value, one.u), whereWords(workspace, one.place)]),
  );
  return `${[title, paint('dim', head!), ...rows.map(visible)].join('\n')}\n`;
};

const toldWords = ({ what, value, u }: ReconciledHistory['unweighed'][number]): string =>
  `${what} ${showQuantity(asMeasured(inexact(value!, u ?? 0, { label: what })), 'g')}`;

/** Grams, or mass fractions; ± at k = 2. A stable shape: fields keep their names and meaning. */
const readingJson = (workspace: Workspace, one: HistoryReading) => ({
  kind: one.kind,
  of: one.what,
  metal: one.metal ?? null,
  entry: stepWords(one.entry),
  value: one.value,
  plusMinus: 2 * one.u,
  adjusted: one.adjusted,
  adjustedPlusMinus: 2 * one.adjustedU,
  /** Adjustment in its standard deviations; null where nothing checks it. */
  score: one.score ?? null,
  /** The error that would be found nine times of ten. */
  errorShowsFrom: one.shows ?? null,
  ...whereIs(workspace, one.place),
});

const asJson = ({ workspace, histories }: Told) => ({
  histories: histories.map((history) => ({
    lots: history.history.stories.map(({ name }) => name),
    steps: history.history.steps.map(({ entry }) => stepWords(entry)),
    settled: history.converged,
    chiSquared: history.test.gamma,
    freedom: history.test.freedom,
    limit: Number.isFinite(history.test.limit) ? history.test.limit : null,
    chance: history.test.p,
    hangsTogether: history.test.passes,
    readings: history.readings.map((one) => readingJson(workspace, one)),
    suspects: history.suspects.map(({ reading, loss, score, instead, insteadU, alike }) => ({
      reading: reading ? readingJson(workspace, reading) : null,
      loss: loss ? stepWords(loss.step.entry) : null,
      score,
      instead: instead ?? null,
      insteadPlusMinus: insteadU === undefined ? null : 2 * insteadU,
      orElse: alike.map((one) => readingJson(workspace, one)),
    })),
    notWeighed: history.unweighed.map(({ what, value, u }) => ({
      of: what,
      grams: value ?? null,
      plusMinus: u === undefined ? null : 2 * u,
    })),
  })),
});

const CSV_COLUMNS = [
  'history',
  'kind',
  'of',
  'metal',
  'entry',
  'value',
  '± (k = 2)',
  'adjusted',
  '± of adjusted (k = 2)',
  'score',
  'error shows from',
  'suspect',
  'file',
  'line',
  'corrected',
];

/** Of the line that a weight stands on, of the assay, or of the correction that it was taken from. */
const isOf =
  ({ kind, place: { anchor, start } }: HistoryReading) =>
  ({ at, by }: Mended): boolean =>
    by.anchor === anchor || (at.anchor === anchor && (kind !== 'mass' || (at.start <= start && start < at.end)));

const csvRows = ({ workspace, histories }: Told) => {
  const mended = mendedIn(workspace);
  return histories.flatMap(({ history, readings, suspects }) =>
    readings.map((one) => {
      const { file, line } = whereIs(workspace, one.place);
      const rank = suspects.findIndex(({ reading }) => reading === one);
      return [
        history.stories[0]?.name,
        one.kind,
        one.what,
        one.metal,
        stepWords(one.entry),
        one.value,
        2 * one.u,
        one.adjusted,
        2 * one.adjustedU,
        one.score,
        one.shows,
        rank < 0 ? undefined : rank + 1,
        file,
        line,
        mended.some(isOf(one)) ? 'yes' : 'no',
      ];
    }),
  );
};

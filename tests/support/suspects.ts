/** Histories of made journals reconciled: false alarms where all is honest, and what is found where one reading is wrong. */
import { historiesOf } from '../../server/engine/accounts/history';
import {
  type HistoryReading,
  type ReconciledHistory,
  reconciledHistory,
} from '../../server/engine/accounts/reconciled';
import { accountsOf } from '../../server/workspace/accounts';
import { WORKSHOP_FILE } from '../../server/workspace/update';
import { locate, type Workspace } from '../../server/workspace/workspace';
import { HISTORY_WORKSHOP, type MadeJournal, type MadeReading, madeJournal } from './histories';
import { seeded } from './random';
import { workspaceOf } from './workspace';

export const reconciledAll = (workspace: Workspace): readonly ReconciledHistory[] =>
  historiesOf(workspace.book).map((history) =>
    reconciledHistory(history, accountsOf(workspace).metals, workspace.workshop),
  );

interface Solved {
  readonly journal: MadeJournal;
  readonly history: ReconciledHistory;
  readonly isOf: (reading: HistoryReading, made: MadeReading) => boolean;
}

const solved = (journal: MadeJournal): Solved => {
  const workspace = workspaceOf({ 'page.melt': journal.text, [WORKSHOP_FILE]: HISTORY_WORKSHOP });
  const [history, other] = reconciledAll(workspace);
  if (!history || other) throw new Error('a made journal is one history');
  const lineOf = (reading: HistoryReading): number =>
    journal.text.slice(0, locate(workspace, reading.place).start).split('\n').length - 1;
  return { journal, history, isOf: (reading, made) => reading.metal === made.metal && lineOf(reading) === made.line };
};

/** How many of so many honest histories name a suspect, and how many fail the test of the whole. */
export const falseAlarms = (
  count: number,
  seed: number,
  steps = 8,
): { suspects: number; whole: number; unsettled: number } => {
  const told = { suspects: 0, whole: 0, unsettled: 0 };
  for (let each = 0; each < count; each++) {
    const { history } = solved(madeJournal(seed + each, steps));
    if (history.suspects.length > 0) told.suspects++;
    if (!history.test.passes) told.whole++;
    if (!history.converged) told.unsettled++;
  }
  return told;
};

export interface FoundRates {
  readonly trials: number;
  /** A suspect was named. */
  readonly found: number;
  /** The wrong reading was named first, alone or as one of those that fit alike. */
  readonly first: number;
  /** The same, and alone. */
  readonly alone: number;
}

/**
 * One reading off by `low` to `high` times its uncertainty (small errors as likely as large ones, by their logarithm), among those that something checks; `only` those of which an error of this size would be found
 * nine times of ten by what the history says itself.
 */
export const foundRates = (
  count: number,
  seed: number,
  [low, high]: readonly [low: number, high: number],
  only: boolean,
  steps = 8,
): FoundRates => {
  const random = seeded(seed);
  const rates = { trials: 0, found: 0, first: 0, alone: 0 };
  for (let each = 0; rates.trials < count; each++) {
    const times = low * (high / low) ** random.next();
    const clean = solved(madeJournal(seed + each, steps));
    const checked = clean.journal.readings.flatMap((made, index) => {
      const reading = clean.history.readings.find((one) => clean.isOf(one, made));
      const shows = reading?.shows;
      return shows !== undefined && (!only || shows <= times * made.u) ? [{ made, index }] : [];
    });
    if (checked.length === 0) continue;
    const { made, index } = random.pick(checked);
    const error = (random.next() < 0.5 ? -1 : 1) * times * made.u;
    const { history, isOf } = solved(madeJournal(seed + each, steps, { index, error }));
    const [suspect] = history.suspects;
    rates.trials++;
    if (!suspect) continue;
    rates.found++;
    const named = [...(suspect.reading ? [suspect.reading] : []), ...suspect.alike];
    if (!named.some((reading) => isOf(reading, made))) continue;
    rates.first++;
    if (named.length === 1) rates.alone++;
  }
  return rates;
};

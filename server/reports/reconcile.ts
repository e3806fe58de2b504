/** Every connected history of a journal reconciled, with the words and figures in which it is shown. */
import { historiesOf, historyOf } from '../engine/accounts/history';
import { inexact } from '../engine/accounts/inexact';
import {
  type HistoryReading,
  type HistorySuspect,
  type ReconciledHistory,
  reconciledHistory,
} from '../engine/accounts/reconciled';
import { decimal } from '../quantity/decimal';
import { showDigits, showPercent, showQuantity } from '../quantity/show';
import { acceptedApart } from '../workspace/accepted';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { asMeasured } from './fine';
import { listWords, stepWords } from './words';

/** All histories of which something was read, or that of one lot; undefined for a lot that the record does not know. */
export const reconciledIn = (workspace: Workspace, lot?: string): readonly ReconciledHistory[] | undefined => {
  const { book, workshop } = workspace;
  const { metals } = accountsOf(workspace);
  const one = lot === undefined ? undefined : historyOf(book, lot);
  if (lot !== undefined && !one) return undefined;
  return (one ? [one] : historiesOf(book))
    .map((history) => reconciledHistory(history, metals, workshop, { apart: acceptedApart(history) }))
    .filter(({ readings }) => readings.length > 0);
};

/** An error of it would not show, or only one as large as the reading itself. */
export const isUnchecked = ({ shows, value }: HistoryReading): boolean => shows === undefined || shows >= value;

/** Moved by more than its own uncertainty. */
export const isMoved = ({ value, adjusted, u }: HistoryReading): boolean => Math.abs(adjusted - value) > u;

/** `50.02 g ±0.02`, `91.34 %`. */
export const figureWords = ({ kind }: HistoryReading, value: number, u: number): string =>
  kind === 'mass' ? showQuantity(asMeasured(inexact(value, u, READ)), 'g') : showPercent(value, u);

const READ = { label: 'reading' };

/** `B57 in melt M57`, `Au of B57c`. */
export const readingWords = ({ what, entry, metal }: HistoryReading): string =>
  metal
    ? `${metal} of ${what}`
    : entry.name?.name === what
      ? `${what} at ${entry.verb}`
      : `${what} in ${stepWords(entry)}`;

/** What an error must come to so that it would be found nine times of ten. */
export const showsWords = ({ kind, shows }: HistoryReading): string => {
  if (shows === undefined) return 'never';
  const digits = showDigits(decimal(kind === 'mass' ? shows : 100 * shows), 2);
  return kind === 'mass' ? `${digits} g` : `${digits} %`;
};

/** `TE-31, TE-31d, TE-31m and 28 more`. */
export const lotsWords = ({ history }: ReconciledHistory): string => listWords(history.stories.map(({ name }) => name));

/** The test of the whole, in a sentence. */
export const testWords = ({ test, converged }: ReconciledHistory): string => {
  if (!converged)
    return 'Its figures contradict each other so far that nothing could be fitted: mend its findings first.';
  if (test.freedom === 0) return 'Nothing in it checks anything else.';
  const figures = `chi-squared ${showDigits(decimal(test.gamma), 3)} on ${test.freedom} ${test.freedom === 1 ? 'check' : 'checks'}`;
  return test.passes
    ? `It hangs together: ${figures}.`
    : `It does not hang together: ${figures}, and of 100 honest records 95 stay below ${showDigits(decimal(test.limit), 3)}.`;
};

/** `the rest gives 40.00 g ±0.05`; and which other reading may be wrong instead. */
export const suspectWords = ({ reading, loss, instead, insteadU, alike }: HistorySuspect): string => {
  if (!reading) return loss ? `${stepWords(loss.step.entry)} lost more, or less, than such a step usually does.` : '';
  const given = instead === undefined ? '' : `: the rest gives ${figureWords(reading, instead, insteadU ?? reading.u)}`;
  const others = alike.length > 0 ? `, unless it is ${listWords(alike.map(readingWords))}` : '';
  return `${readingWords(reading)}, ${figureWords(reading, reading.value, reading.u)}${given}${others}.`;
};

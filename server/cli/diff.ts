/** `fineweight diff REV [REV]`: what changed in meaning between two commits, or between one and the pages as they are. */
import { type Change, changesBetween } from '../features/difference';
import { changesText } from '../features/difference-words';
import type { Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import { commitOf, journalAt } from './git';
import type { Opened } from './journals';
import { UsageError } from './options';
import type { Paint } from './paint';
import { whereWords } from './print';

export interface DiffOptions {
  readonly from: string;
  /** None: the pages as they are. */
  readonly to: string | undefined;
  readonly format: 'text' | 'json';
  readonly paint: Paint;
}

export const diff = (opened: Opened, { from, to, format, paint }: DiffOptions): Outcome => {
  const [journal, second] = opened.journals;
  if (!journal) return { text: '', exit: 2 };
  if (second) throw new UsageError('These are several journals; compare one of them.');
  const { root } = journal.workspace;
  const before = journalAt(root, commitOf(root, from));
  const after = to === undefined ? journal.workspace : journalAt(root, commitOf(root, to));
  const changes = changesBetween(before, after);
  const exit = opened.failures.length > 0 ? 2 : 0;
  if (format === 'json') return { text: `${JSON.stringify(asJson(after, changes), null, 2)}\n`, exit };
  return { text: changesText(changes, paint), exit };
};

const asJson = (after: Workspace, changes: readonly Change[]) => ({
  version: 1,
  changes: changes.map(({ part, what, was, now, place }) => ({
    part,
    what,
    was: was ?? null,
    now: now ?? null,
    where: place ? whereWords(after, place) : null,
  })),
});

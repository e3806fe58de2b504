/** `fineweight diff REV [REV]`: what changed in meaning between two commits, or between one and the pages as they are. */
import { type Change, changesBetween, type Part } from '../features/difference';
import { visible } from '../text/visible';
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
  return { text: changes.length === 0 ? 'Nothing changed but spacing.\n' : changesText(changes, paint), exit };
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

const PARTS: readonly (readonly [Part, string])[] = [
  ['entries', 'Written'],
  ['balances', 'Balances'],
  ['lots', 'Lots as they were made'],
  ['on hand', 'On hand'],
  ['findings', 'Findings'],
];

export const changesText = (changes: readonly Change[], paint: Paint): string =>
  PARTS.flatMap(([part, title]) => {
    const own = changes.filter((change) => change.part === part);
    return own.length === 0 ? [] : [paint('bold', title), ...linesOf(own, paint), ''];
  }).join('\n');

/** What belongs to one thing stands under its name. */
const linesOf = (changes: readonly Change[], paint: Paint): readonly string[] => {
  const lines: string[] = [];
  let last: string | undefined;
  for (const { part, what, was, now } of changes) {
    const name = visible(what);
    if (part === 'findings')
      lines.push(now === undefined ? paint('green', `  gone  ${name}`) : paint('red', `  new   ${name}`));
    else if (part === 'entries' && now === 'new' && was === undefined) lines.push(paint('green', `  + ${name}`));
    else if (part === 'entries' && was === 'there' && now === undefined) lines.push(paint('red', `  - ${name}`));
    else {
      if (what !== last) lines.push(`  ${name}`);
      if (was !== undefined) lines.push(paint('red', `    - ${visible(was)}`));
      if (now !== undefined) lines.push(paint('green', `    + ${visible(now)}`));
    }
    last = what;
  }
  return lines;
};

/** `fineweight report`: a document made from the notes, to standard output or into a new file; or one for each month of the record. */
import { dirname, join, relative, resolve } from 'node:path';
import { type Choice, Refused } from '../documents/choice';
import { countedEntries } from '../documents/entries';
import type { Setting, Where } from '../documents/formats/format';
import { FORMATS } from '../documents/formats/formats';
import { documentOf, kindNamed } from '../documents/kinds';
import type { Kind } from '../documents/kinds/kind';
import { settingOf } from '../documents/source';
import { revisionOf } from '../files/revision';
import { realPathOf } from '../files/walk';
import { lastDateOf, monthsBetween } from '../text/calendar';
import { visible } from '../text/visible';
import type { Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import type { ReportCommand } from './document-args';
import type { Opened } from './journals';
import { UsageError } from './options';
import { proofPaths } from './proofs';
import { makeFolder, syncFolder, writeNew } from './write';

/** Throws a UsageError where the document cannot be made or written. `tell` shows how far it has come. */
export const report = (
  { journals, failures }: Opened,
  command: ReportCommand,
  tell: (line: string, isLast: boolean) => void,
): Outcome => {
  const [journal, ...others] = journals;
  const exit = failures.length > 0 ? 2 : 0;
  if (!journal) return { text: '', exit: 2 };
  if (others.length > 0)
    throw new UsageError(`These paths hold ${journals.length} journals: ask for a document of one.`);
  const kind = kindNamed(command.kind)!;
  const { workspace } = journal;
  if (command.monthsIn !== undefined) return { text: writeMonths(workspace, kind, command, tell), exit };
  const text = textOf(workspace, kind, command, command.choice, command.out);
  if (command.out === undefined) return { text, exit };
  writeNew({ ...writing(workspace, command), path: command.out, text });
  return { text: '', exit };
};

const writing = (workspace: Workspace, { format, overwrite }: ReportCommand) => ({
  ending: format,
  overwrite,
  proofs: proofPaths(workspace),
  root: workspace.root,
});

const textOf = (
  workspace: Workspace,
  kind: Kind,
  { format, revision }: ReportCommand,
  choice: Choice,
  out: string | undefined,
): string => {
  const setting = settingOf(workspace, revision ?? revisionOf(workspace.root), linkFrom(workspace, out));
  try {
    return FORMATS[format](documentOf(kind, workspace, choice), setting);
  } catch (error) {
    throw error instanceof Refused ? new UsageError(error.message) : error;
  }
};

/** To the page, from where the document will lie; the line is a fragment. */
const linkFrom = ({ root }: Workspace, out: string | undefined): Setting['link'] => {
  const folder = out === undefined ? process.cwd() : dirname(resolve(out));
  const from = realPathOf(folder) ?? folder;
  return ({ file, line }: Where) => {
    const path = relative(from, join(root, file)).split(/[\\/]/).map(encodeURIComponent).join('/');
    return `${path}#L${line}`;
  };
};

const writeMonths = (
  workspace: Workspace,
  kind: Kind,
  command: ReportCommand,
  tell: (line: string, isLast: boolean) => void,
): string => {
  const folder = command.monthsIn!;
  const dates = countedEntries(workspace).flatMap(({ date }) => date ?? []);
  const [first, last] = [dates[0], dates.at(-1)];
  if (first === undefined || last === undefined) throw new UsageError('Nothing in this journal stands under a day.');
  makeFolder(workspace.root, folder);
  const months = monthsBetween(first, last);
  const beside = { ...writing(workspace, command), isOneOfMany: true };
  for (const [at, month] of months.entries()) {
    const out = join(folder, `${kind.code}-${month}.${command.format}`);
    const choice = { ...command.choice, from: `${month}-01`, to: lastDateOf(month) };
    writeNew({ ...beside, path: out, text: textOf(workspace, kind, command, choice, out) });
    tell(`${month}, ${at + 1} of ${months.length}`, at + 1 === months.length);
  }
  syncFolder(folder);
  return `${months.length} ${months.length === 1 ? 'document' : 'documents'} in ${visible(folder)}.\n`;
};

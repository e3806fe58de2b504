/** What changed since a broken seal was made, as git has it: the entries themselves, also those that are gone. */
import { entryChanges } from '../features/difference';
import { changesText } from '../features/difference-words';
import { recordOf } from '../record/breaks';
import type { Workspace } from '../workspace/workspace';
import { askGit, journalAt } from './git';
import type { Paint } from './paint';

/** Nothing where no seal is broken, or git does not have the commit that brought the seal. */
export const sincePage = (workspace: Workspace, paint: Paint): string => {
  const { root } = workspace;
  const broken = recordOf(workspace).seals.filter(({ breaks }) => breaks.some(({ kind }) => kind !== 'twice'));
  return broken
    .flatMap(({ seal }) => {
      const digest = seal.entry.digest?.name;
      const commit = digest === undefined ? undefined : commitWith(root, digest);
      if (commit === undefined) return [];
      const changes = entryChanges(journalAt(root, commit), workspace, undefined).filter(
        ({ what }) => what.slice(0, 10) <= seal.upTo,
      );
      if (changes.length === 0) return [];
      const head = `Since the seal of ${seal.upTo}, as git has it (commit ${commit.slice(0, 10)}):`;
      return [`${head}\n${changesText(changes, paint)}`];
    })
    .join('\n');
};

/** The first commit that has the digest in a page. */
const commitWith = (root: string, digest: string): string | undefined => {
  const args = ['log', `-S${digest}`, '--format=%H', '--no-textconv', '--no-ext-diff', '--', '*.melt'];
  return askGit(root, args)?.trim().split('\n').at(-1) || undefined;
};

/** What broken seals closed, as git has it: so that a finding names what changed, also where it is gone. */
import { forgottenSeals, withRemembered } from '../record/remembered';
import type { Workspace } from '../workspace/workspace';
import { askGit, textsAt } from './git';
import type { Opened } from './journals';
import { topOf } from './seals-in-git';

/**
 * The same journal with what git knows of the sealed entries that changed; as it is where no seal is broken or git has no answer. A journal may have
 * stood elsewhere when it was sealed: what its own folder does not tell, the whole repository may.
 */
export const rememberSealed = (workspace: Workspace): Workspace => {
  const own = rememberFrom(workspace, workspace.root);
  const top = forgottenSeals(own).length > 0 ? topOf(own.root) : undefined;
  return top === undefined || top === own.root ? own : rememberFrom(own, top);
};

const rememberFrom = (workspace: Workspace, folder: string): Workspace => {
  let found = workspace;
  for (const { digest } of forgottenSeals(workspace)) {
    const commit = commitWith(folder, digest);
    if (commit !== undefined) found = withRemembered(found, textsAt(folder, commit));
  }
  return found;
};

export const withSealedTexts = (opened: Opened): Opened => ({
  ...opened,
  journals: opened.journals.map((journal) => ({ ...journal, workspace: rememberSealed(journal.workspace) })),
});

/** The first commit that has the digest in a page. */
const commitWith = (root: string, digest: string): string | undefined => {
  const args = ['log', '-m', `-S${digest}`, '--format=%H', '--no-textconv', '--no-ext-diff', '--', '*.melt'];
  return askGit(root, args)?.trim().split('\n').at(-1) || undefined;
};

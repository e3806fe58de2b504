/** The editor's own git, as far as it is used here. It runs in folders that are trusted, and in a browser there is none. */
import { type Event, extensions, type Uri, workspace } from 'vscode';

interface Commit {
  readonly hash: string;
}

interface Change {
  readonly originalUri: Uri;
}

export interface Repository {
  readonly state: { readonly HEAD: { readonly commit?: string } | undefined; readonly onDidChange: Event<void> };
  /** A file as a commit has it. */
  readonly show: (ref: string, path: string) => Promise<string>;
  /** Commits that touched a file, or what a pattern of git's names, the newest first. */
  readonly log: (options: { readonly path: string; readonly maxEntries: number }) => Promise<readonly Commit[]>;
  /** What differs between a commit and the files as they are. */
  readonly diffWith: (ref: string) => Promise<readonly Change[]>;
  readonly diffBetween: (before: string, after: string) => Promise<readonly Change[]>;
}

interface GitExtension {
  readonly getAPI: (version: 1) => { readonly getRepository: (uri: Uri) => Repository | null };
}

/** None where the folder is not trusted, or the editor knows of no repository there. */
export const repositoryOf = async (uri: Uri): Promise<Repository | undefined> => {
  if (!workspace.isTrusted) return undefined;
  const git = extensions.getExtension<GitExtension>('vscode.git');
  return (await git?.activate())?.getAPI(1).getRepository(uri) ?? undefined;
};

/** A file as a commit has it; none where it has none. */
export const shown = async (repository: Repository, commit: string, file: Uri): Promise<string | undefined> => {
  try {
    return await repository.show(commit, file.fsPath);
  } catch {
    return undefined;
  }
};

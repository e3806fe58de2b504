/** Answers `fineweight/files`: reads pages and workshop files for a server that cannot. Bounded whatever the folders hold. */

export interface Item {
  readonly name: string;
  readonly uri: string;
  readonly isFolder: boolean;
  readonly isLink: boolean;
}

/** What can be read, by address. Both reject where nothing is, or where it may not be read. */
export interface Folders {
  readonly list: (folder: string) => Promise<readonly Item[]>;
  readonly read: (uri: string) => Promise<Uint8Array>;
}

export type Wanted = { readonly below: string } | { readonly files: readonly string[] };

export interface Answer {
  readonly files: ({ uri: string; bytes: Uint8Array } | { uri: string; failed: string })[];
  /** Sentences on what was left out, and why. */
  readonly notes: string[];
}

const DEPTH_LIMIT = 16;
const COUNT_LIMIT = 20_000;
/** So many files are read at a time: each may come from afar. */
const AT_ONCE = 16;

export const answerFiles = async (folders: Folders, wanted: Wanted): Promise<Answer> => {
  const notes: string[] = [];
  const uris = 'files' in wanted ? wanted.files : await pagesBelow(folders, wanted.below, notes);
  const files: Answer['files'] = [];
  for (let from = 0; from < uris.length; from += AT_ONCE) {
    const read = await Promise.all(uris.slice(from, from + AT_ONCE).map((uri) => readOne(folders, uri)));
    files.push(...read.filter((file) => file !== undefined));
  }
  return { files, notes };
};

const readOne = async (folders: Folders, uri: string): Promise<Answer['files'][number] | undefined> => {
  try {
    return { uri, bytes: await folders.read(uri) };
  } catch (error) {
    const failed = codeOf(error);
    return GONE.has(failed) ? undefined : { uri, failed };
  }
};

/** Words for a file that is not there. */
const GONE: ReadonlySet<string> = new Set(['FileNotFound', 'ENOENT']);

const codeOf = (error: unknown): string => (error instanceof Error && 'code' in error ? String(error.code) : 'unknown');

/** Links to folders are not followed: nothing here tells where they lead. */
const pagesBelow = async (folders: Folders, root: string, notes: string[]): Promise<readonly string[]> => {
  const found: string[] = [];
  const visit = async (folder: string, depth: number): Promise<void> => {
    if (depth > DEPTH_LIMIT) {
      notes.push(`${folder} is more than ${DEPTH_LIMIT} folders deep and is not read.`);
      return;
    }
    for (const item of await itemsOf(folders, folder, notes)) {
      if (found.length >= COUNT_LIMIT) return;
      if (item.name.startsWith('.') || item.name === 'node_modules') continue;
      if (item.isFolder && !item.isLink) await visit(item.uri, depth + 1);
      else if (!item.isFolder && isOurs(item.name)) found.push(item.uri);
    }
  };
  await visit(root, 0);
  if (found.length >= COUNT_LIMIT)
    notes.push(`Only the first ${COUNT_LIMIT} journal files are read. Open the journal's own folder.`);
  return found;
};

const itemsOf = async (folders: Folders, folder: string, notes: string[]): Promise<readonly Item[]> => {
  try {
    return [...(await folders.list(folder))].sort((a, b) => (a.name < b.name ? -1 : 1));
  } catch (error) {
    notes.push(`${folder} cannot be read (${codeOf(error)}).`);
    return [];
  }
};

const isOurs = (name: string): boolean => name.toLowerCase().endsWith('.melt') || name === 'workshop.yaml';

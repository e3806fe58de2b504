/**
 * A journal being opened: in which order its texts are taken in, and of which files all that they rest on is there already. What is open on the
 * screen comes first, then the pages that its lots can depend on, found by their words; then the rest.
 */
import { isWorkshop } from '../files/names';
import { mayHold, soughtFor, wordsIn } from '../syntax/words';
import { namesReached } from '../workspace/reach';
import type { Workspace } from '../workspace/workspace';

export interface Opening {
  /** Members of the journal that are not yet taken in. */
  readonly waiting: Set<string>;
  /** Files of which all that they rest on is taken in. */
  readonly sure: Set<string>;
  /** Words of waiting pages, as far as they have been asked for. */
  readonly words: Map<string, ReadonlySet<string>>;
  /** Waiting pages that an open one may rest on. */
  readonly wanted: Set<string>;
}

/** The next small piece of work. */
export type Piece =
  | { readonly kind: 'take'; readonly files: readonly string[] }
  /** This open file rests on nothing that is still waiting. */
  | { readonly kind: 'sure'; readonly file: string }
  /** Something was looked up; ask again. */
  | { readonly kind: 'looked' }
  | { readonly kind: 'end' };

/** About as many characters are taken in together; a page of a month is more. */
const LENGTH_IN_ONE_GO = 16_000;
/** Of many small pages, this share of those that are there already: each taking-in costs a little for all of them. */
const SHARE_IN_ONE_GO = 1 / 100;
/** So many characters are looked through for their words in one go. */
const LOOK_IN_ONE_GO = 100_000;

/** What is to wait once a journal has these members; none where nothing does. `newWait` tells whether files that it does not have yet are to. */
export const beginOpening = (
  before: Opening | undefined,
  { pages, workshopFile }: Workspace,
  members: readonly string[],
  newWait: boolean,
): Opening | undefined => {
  const isNew = (id: string): boolean => !pages.has(id) && workshopFile?.file !== id;
  const waits = (id: string): boolean => before?.waiting.has(id) || (newWait && isNew(id));
  const all = members.filter(waits);
  // The workshop file first: whatever is computed before it is computed again.
  const waiting = new Set([...all.filter(isWorkshop), ...all]);
  return before || waiting.size > 0
    ? { waiting, sure: new Set(), words: before?.words ?? new Map(), wanted: new Set() }
    : undefined;
};

/** What is to be done next. `textOf` gives the text of a waiting file. */
export const passFirst = (
  opening: Opening,
  workspace: Workspace,
  openFiles: readonly string[],
  textOf: (id: string) => string,
): Piece => {
  const { waiting, sure } = opening;
  if (waiting.size === 0) return { kind: 'end' };
  const [first] = waiting;
  if (first !== undefined && isWorkshop(first)) return { kind: 'take', files: [first] };
  const file = openFiles.find((id) => !sure.has(id));
  if (file === undefined) return { kind: 'take', files: batchOf(waiting, workspace, textOf) };
  if (waiting.has(file)) return { kind: 'take', files: [file] };
  return towards(opening, workspace, file, textOf);
};

/** The next step towards knowing all that an open page rests on. */
const towards = (opening: Opening, workspace: Workspace, file: string, textOf: (id: string) => string): Piece => {
  const { waiting, words, wanted } = opening;
  const due = [...wanted].filter((id) => waiting.has(id));
  wanted.clear();
  if (due.length > 0) {
    const files = batchOf(due, workspace, textOf);
    for (const id of due) if (!files.includes(id)) wanted.add(id);
    return { kind: 'take', files };
  }
  if (lookThrough(opening, textOf)) return { kind: 'looked' };
  const sought = [...namesReached(workspace, file)].map(soughtFor);
  for (const id of waiting) if (sought.some((one) => mayHold(words.get(id)!, one))) wanted.add(id);
  return wanted.size > 0 ? { kind: 'looked' } : { kind: 'sure', file };
};

/** Looks through some waiting pages for their words; false when all have been. */
const lookThrough = ({ waiting, words }: Opening, textOf: (id: string) => string): boolean => {
  let length = 0;
  for (const id of waiting) {
    if (words.has(id)) continue;
    const text = textOf(id);
    words.set(id, wordsIn(text));
    length += text.length;
    if (length >= LOOK_IN_ONE_GO) break;
  }
  return length > 0;
};

const batchOf = (
  waiting: Iterable<string>,
  { pages }: Workspace,
  textOf: (id: string) => string,
): readonly string[] => {
  const most = Math.max(1, Math.floor(pages.size * SHARE_IN_ONE_GO));
  const files: string[] = [];
  let length = 0;
  for (const id of waiting) {
    files.push(id);
    length += textOf(id).length;
    if (length >= LENGTH_IN_ONE_GO && files.length >= most) break;
  }
  return files;
};

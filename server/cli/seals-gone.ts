/**
 * Seals that stood once and stand no more. What a seal closes is checked by the seals that stand; that the newest was taken out, or made anew over
 * what was changed, leaves no trace in the pages: git alone has it. A seal is known by its digest, wherever in the repository it stood.
 */
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { WORKSHOP_NAME } from '../files/names';
import { recordOf } from '../record/breaks';
import { markOf } from '../record/canonical';
import { type SealEntry, sealsOf, UNDATED } from '../record/periods';
import { type MarksByDay, markOfSeal, saidBy, WORKSHOP } from '../record/seal';
import { parsePage } from '../syntax/parse';
import { visible } from '../text/visible';
import type { Workspace } from '../workspace/workspace';
import type { Opened } from './journals';
import {
  type PagesBeside,
  type PastSeal,
  pageOf,
  pagesOnDisk,
  sealsInGit,
  sealsOn,
  sealsTakenBefore,
  topOf,
  unknownHistory,
  wholeSeal,
} from './seals-in-git';

export interface GoneSeals {
  /** Of this journal: neither standing nor named by one that was openly made anew instead. */
  readonly own: readonly PastSeal[];
  /** Of journals that are there no more, nor anything that they sealed. */
  readonly lost: readonly PastSeal[];
}

const NONE: GoneSeals = { own: [], lost: [] };
const asked = new WeakMap<Workspace, GoneSeals>();

/** By all that git knows. */
export const goneSeals = (workspace: Workspace): GoneSeals => {
  const known = asked.get(workspace);
  if (known) return known;
  const made = goneOf(workspace, sealsInGit(workspace.root), pagesOnDisk);
  asked.set(workspace, made);
  return made;
};

/** Of seals that stood once those that are gone, as far as they are this journal's or nobody's. */
export const goneOf = (workspace: Workspace, past: readonly PastSeal[], beside: PagesBeside): GoneSeals => {
  const known = knownIn(sealsOf(workspace));
  const missing = past.filter(({ digest }) => !known.has(digest));
  const top = missing.length > 0 ? topOf(workspace.root) : undefined;
  if (top === undefined) return NONE;
  const pages = beside(top, new Set(workspace.pages.keys()));
  const elsewhere = knownIn([...pages.values()].flatMap(sealsOn));
  const gone = missing.map((seal) => ({
    seal,
    whose: whoseIs(workspace, seal, { top, pages, stands: elsewhere.has(seal.digest) }),
  }));
  const of = (who: Whose): readonly PastSeal[] => gone.flatMap(({ seal, whose }) => (whose === who ? seal : []));
  return { own: of('ours'), lost: of('nobody') };
};

/** The digests of seals that stand, and those that they were openly made anew instead of. */
const knownIn = (seals: readonly SealEntry[]): ReadonlySet<string> =>
  new Set(seals.flatMap(({ entry, section }) => [entry.digest?.name ?? '', ...saidBy(section).replaces]));

type Whose = 'ours' | 'others' | 'nobody';

interface Beside {
  readonly top: string;
  /** The pages of other journals of the repository, by their paths from its top. */
  readonly pages: ReadonlyMap<string, string>;
  /** One of them bears the seal. */
  readonly stands: boolean;
}

/**
 * Ours where it stood in this journal's folder; if it stands in another journal now, only as long as at least half of what it closed is here: a copy
 * elsewhere does not vouch for these pages. Where a journal was moved, it is that of the pages that have what it closed: ours, where at least half
 * of that is here and not as much of it on the pages where it stood. Where no page has it, of nobody, or ours if no other journal is there.
 */
const whoseIs = (workspace: Workspace, seal: PastSeal, { top, pages, stands }: Beside): Whose => {
  const isHome = isWithin(workspace.root, join(top, seal.path));
  const wasHome = [...seal.paths].some((path) => isWithin(workspace.root, join(top, path)));
  if (isHome && !stands) return 'ours';
  if (!wasHome && stands) return 'others';
  if (pages.size === 0) return 'ours';
  const whole = wholeSeal(top, seal);
  const marks = whole ? keysOf(saidBy(whole.section).marks) : new Set<string>();
  const borneBy = (texts: readonly string[]): number =>
    new Set(texts.flatMap((text) => [...keysOn(text)].filter((key) => marks.has(key)))).size;
  const enough = Math.max(1, marks.size / 2);
  const here = borneBy([...workspace.pages.values()].map(({ page }) => page.text));
  if (stands) return here >= enough ? 'ours' : 'others';
  const home = homeOf(top, seal.path);
  const atHome = [...pages].flatMap(([path, text]) => (isWithin(home, join(top, path)) ? text : []));
  if (here >= enough && here > borneBy(atHome)) return 'ours';
  return atHome.length > 0 || borneBy([...pages.values()]) >= enough ? 'others' : 'nobody';
};

/** Below a folder, and below no nearer workshop file, which would make a journal of its own. */
const isWithin = (root: string, path: string): boolean => {
  if (!path.startsWith(root.endsWith('/') ? root : `${root}/`)) return false;
  for (let folder = dirname(path); folder !== root && folder.length > root.length; folder = dirname(folder))
    if (existsSync(join(folder, WORKSHOP_NAME))) return false;
  return true;
};

/** The folder of the journal that a page of this path would be in now. */
const homeOf = (top: string, path: string): string => {
  const own = dirname(join(top, path));
  for (let folder = own; folder.length >= top.length; folder = dirname(folder)) {
    if (existsSync(join(folder, WORKSHOP_NAME))) return folder;
    if (dirname(folder) === folder) break;
  }
  return own;
};

const keysOf = (marks: MarksByDay): ReadonlySet<string> =>
  new Set([...marks].flatMap(([day, list]) => (day === WORKSHOP ? [] : list.map((mark) => `${day} ${mark}`))));

/** The same of a page as it is. */
const keysOn = (text: string): ReadonlySet<string> => {
  const keys = new Set<string>();
  let day = UNDATED;
  for (const section of parsePage('page.melt', text).sections) {
    if (section.kind === 'day') day = section.date ?? '';
    if (section.kind === 'day' || section.kind === 'entry') keys.add(`${day} ${markOf(section)}`);
  }
  return keys;
};

/** A sentence for each that is gone; one that a later seal misses is told there. */
export const goneWords = (workspace: Workspace, gone: readonly PastSeal[]): readonly string[] => {
  const standing = new Map(sealsOf(workspace).map(({ upTo, entry }) => [upTo, entry.digest?.name]));
  const missed = new Set(
    recordOf(workspace).seals.flatMap(({ breaks }) => breaks.flatMap((one) => (one.kind === 'before' ? one.was : []))),
  );
  const last = [...gone, ...sealsOf(workspace)].reduce((so, { upTo }) => (upTo > so ? upTo : so), '');
  const apart = `If two hands sealed apart, take out what stands of both, and seal anew: \`fineweight seal ${last} --because "two hands sealed apart"\`.`;
  return gone.flatMap((seal) => {
    const { upTo, digest } = seal;
    if (standing.has(upTo))
      return [
        `The seal up to ${upTo} was made anew: it was ${shortDigest(digest)} in ${whereStood(seal)}, and is ${shortDigest(standing.get(upTo) ?? 'without a digest')}. Put it back; what it closed is corrected, not sealed again. ${apart}`,
      ];
    if (missed.has(markOfSeal(digest))) return [];
    return [
      `The seal up to ${upTo} is gone: it stood in ${whereStood(seal)}. Put it back; what it closed is corrected, not opened again. ${apart}`,
    ];
  });
};

/**
 * A sentence for each that was gone already at a commit, whose page stood in this folder and whose digest no page bears now. Of what is checked since
 * then it is no fault: the whole check makes one of it.
 */
export const goneBefore = (root: string, commit: string, texts: readonly string[]): readonly string[] => {
  const top = topOf(root);
  if (top === undefined) return [];
  return sealsTakenBefore(root, commit)
    .filter(({ path, digest }) => isWithin(root, join(top, path)) && !texts.some((text) => text.includes(digest)))
    .map(
      (seal) =>
        `The seal up to ${seal.upTo} was gone before: it stood in ${whereStood(seal)}. \`fineweight check\` tells what to do.`,
    );
};

export const whereStood = (seal: PastSeal): string =>
  `${visible(pageOf(seal))}${seal.commit === undefined ? '' : ` (commit ${seal.commit})`}`;

/** Enough to tell two digests apart by eye. */
export const shortDigest = (digest: string): string =>
  digest.length > 20 ? `${digest.slice(0, 'sn-'.length + 12)}…` : digest;

const lostWords = ({ upTo, path, commit }: PastSeal): string =>
  `A journal is gone with its seal up to ${upTo}: it stood in ${visible(path)}${commit === undefined ? '' : ` (commit ${commit})`}, and no page here has what it closed.`;

/** A check that also asks git for seals that are gone. */
export const withSealsGone = (opened: Opened): Opened => {
  const all = opened.journals.map(({ workspace }) => ({ workspace, gone: goneSeals(workspace) }));
  const gone = all.flatMap(({ workspace, gone: { own } }) => goneWords(workspace, own));
  const lost = all.flatMap(({ gone: { lost: some } }) => some.map(lostWords));
  const unknown = opened.journals.flatMap(({ workspace }) => unknownHistory(workspace.root) ?? []);
  return {
    ...opened,
    failures: [...opened.failures, ...gone],
    gone,
    notes: [...new Set([...opened.notes, ...lost, ...unknown])],
  };
};

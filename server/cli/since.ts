/**
 * `fineweight check --since REV`: the entries that changed since a commit, those that hang together with them, and no more. Pages that speak of
 * none of their names are not parsed, which is what makes it quick. What only the whole record can tell is left to the whole check, but for
 * what a seal holds: a sealed day, a photo or paper that pages name, a seal itself.
 */
import type { Entry } from '../engine/entry';
import { isPage, isWorkshop } from '../files/names';
import { lotsOf } from '../journal/names';
import { recordOf } from '../record/breaks';
import { filesNamedBy, filesNamedIn, pathFromRoot } from '../record/files';
import { isSeal } from '../record/periods';
import { saidBy } from '../record/seal';
import { fileChanged } from '../rules/file-changed';
import { fileMissing } from '../rules/file-missing';
import { findingsOf, sectionFindings } from '../rules/findings';
import type { Finding } from '../rules/rule';
import { REST_ON_WHOLE_RECORD } from '../rules/whole-record';
import { isHidden } from '../syntax/scan';
import type { Section } from '../syntax/tree';
import { soughtFor } from '../syntax/words';
import { namesFrom } from '../workspace/reach';
import { emptyWorkspace, withProofs, withTexts } from '../workspace/update';
import { locate, type Workspace } from '../workspace/workspace';
import { commitOf, git, textsAt } from './git';
import { type Opened, openTexts, rootOfJournal, type Texts } from './journals';
import { onDisk, type ProofReader, proofsOf } from './proofs';
import { replacedNotes } from './replaced';
import { rememberSealed } from './sealed-history';
import { goneBefore, goneOf, goneWords } from './seals-gone';
import { type PagesBeside, pagesOnDisk, pagesStaged, sealsTakenSince } from './seals-in-git';
import { headOf, stagedOf } from './staged';

type TextsByFile = ReadonlyMap<string, string>;

interface Change {
  readonly was: Workspace;
  readonly now: Workspace;
  /** All pages are at hand: what rests on the whole record can be told. */
  readonly isWhole: boolean;
}

/** What a check since a commit looks at: the files as they are, or as they are staged. */
interface Looked extends Pick<Texts, 'root' | 'texts'> {
  readonly proofs: ProofReader;
  /** How git is asked for the files that differ from the commit. */
  readonly ask: readonly string[];
  readonly beside: PagesBeside;
}

export const openSince = (path: string, revision: string): Opened => {
  const { failures, notes, ...journal } = openTexts(path);
  const fresh = untracked(journal.root);
  const commit = commitOf(journal.root, revision);
  const looked = { ...journal, proofs: onDisk, ask: [], beside: pagesOnDisk };
  const opened = sinceCommit(looked, commit, fresh, failures);
  return { ...opened, notes: [...notes, ...opened.notes] };
};

/** What goes into the next commit, against the one before; the first one is looked at whole. */
export const openStaged = (path: string): Opened => {
  const root = rootOfJournal(path);
  const { failures, ...staged } = stagedOf(root);
  return sinceCommit({ root, ...staged, ask: ['--cached'], beside: pagesStaged }, headOf(root), [], failures);
};

const sinceCommit = (
  { root, texts, proofs: reader, ask, beside }: Looked,
  commit: string,
  fresh: readonly string[],
  failures: readonly string[],
): Opened => {
  const touched = [...new Set([...changedFiles(root, commit, ask), ...fresh])];
  const changed = touched.filter((file) => isPage(file) || isWorkshop(file));
  const proofs = touched.filter((file) => !changed.includes(file) && isSpokenOf(file, texts));
  const taken = sealsTakenSince(root, commit, ask);
  const old = changed.length > 0 ? textsAt(root, commit, new Set(changed)) : new Map<string, string>();
  const { now, ...rest } = changeIn({ root, texts }, changed, old, proofs.length > 0 || taken.length > 0);
  const change = { ...rest, now: rest.isWhole ? rememberSealed(now) : now };
  const found = foundIn(change);
  const paths = new Set([...proofs.map((file) => file.slice(root.length + 1)), ...namedAnew(change, changed)]);
  if (paths.size > 0) addProofs(found, change.now, paths, reader);
  if (changed.some(isWorkshop))
    for (const file of changed.filter((one) => isWorkshop(one) && texts.has(one)))
      found.set(file, findingsOf(change.now, file));
  const asked = [...new Set([...changed.filter((file) => texts.has(file)), ...found.keys()])].sort();
  // A seal that was taken out has no line left to say so at; one that was made anew holds, whatever was changed under it.
  const gone = goneWords(change.now, goneOf(change.now, taken, beside).own);
  const anew = onlyIn(now, change.was, changed).some(isSeal) ? replacedNotes(change.now) : [];
  const notes = [...anew, ...goneBefore(root, commit, [...texts.values()])];
  return { journals: [{ workspace: change.now, asked, found }], failures: [...failures, ...gone], gone, notes };
};

/** Photos and papers of entries that came or changed, seals among them: they may be none of those that changed, and not be there. */
const namedAnew = ({ was, now }: Change, changed: readonly string[]): readonly string[] => {
  const come = onlyIn(now, was, changed);
  const sealed = come.filter(isSeal).flatMap(({ anchor }) => saidBy(anchor as Section).files.map(({ path }) => path));
  return [...filesNamedIn(now, come), ...sealed];
};

/** A photo or paper has nothing in it that tells whose it is: its name stands in a page. */
const isSpokenOf = (file: string, texts: TextsByFile): boolean => {
  const name = file.slice(file.lastIndexOf('/') + 1);
  return [...texts].some(([page, text]) => isPage(page) && text.includes(name));
};

/** What is amiss with photos and papers that changed, at the entries that name them. */
const addProofs = (
  found: Map<string, readonly Finding[]>,
  now: Workspace,
  paths: ReadonlySet<string>,
  reader: ProofReader,
): void => {
  const read = withProofs(now, proofsOf(now, paths, reader));
  for (const [file, page] of read.pages) {
    for (const entry of page.entries) {
      if (!filesNamedBy(entry).some(({ path }) => paths.has(pathFromRoot(read, file, path)))) continue;
      const told = sectionFindings(read, page, entry.anchor as Section, 'none');
      add(
        found,
        file,
        told.filter(({ code }) => code === fileChanged.code || code === fileMissing.code),
      );
    }
  }
};

const namesFromGit = (root: string, args: readonly string[]): readonly string[] =>
  git(root, [...args, '--', '.'])
    .toString('utf8')
    .split('\0')
    .flatMap((path) => (path === '' ? [] : [`${root}/${path}`]));

/** Changed, new, and gone, as the work tree has them, or what is staged. */
const changedFiles = (root: string, commit: string, ask: readonly string[]): readonly string[] =>
  namesFromGit(root, [
    ...['diff', ...ask, '--name-only', '-z', '--no-ext-diff', '--no-textconv', '--no-renames', '--relative'],
    commit,
  ]);

const untracked = (root: string): readonly string[] =>
  namesFromGit(root, ['ls-files', '--others', '--exclude-standard', '-z']);

const changeIn = (
  { root, texts }: Pick<Texts, 'root' | 'texts'>,
  changed: readonly string[],
  old: TextsByFile,
  needsAll: boolean,
): Change => {
  const news = new Map(changed.map((file) => [file, texts.get(file)]));
  const isWhole = needsAll || changed.some(isWorkshop) || touchesSeal(texts, changed, old);
  const standing = [...texts].filter(([file]) => !news.has(file));
  const first = isWhole ? standing : standing.filter(([file]) => isWorkshop(file));
  let was = withTexts(emptyWorkspace(root), new Map([...first, ...old]));
  let now = withTexts(was, news);
  const waiting = new Map(isWhole ? [] : standing.filter(([file]) => isPage(file)));
  while (waiting.size > 0) {
    const names = new Set([...namesFrom(was, onlyIn(was, now, changed)), ...namesFrom(now, onlyIn(now, was, changed))]);
    const come = [...waiting].filter(([, text]) => maySpeakOf(text, names));
    if (come.length === 0) break;
    for (const [file] of come) waiting.delete(file);
    was = withTexts(was, new Map(come));
    now = withTexts(was, news);
  }
  return { was, now, isWhole };
};

/** A day that is sealed, on a page as it is or as it was: then every seal is checked, and for that all pages are needed. */
const touchesSeal = (texts: TextsByFile, changed: readonly string[], old: TextsByFile): boolean => {
  const seals = [...texts.values(), ...old.values()].flatMap((text) =>
    text.includes('seal ') ? [...text.matchAll(/^seal (\d{4}-\d\d-\d\d)/gim)] : [],
  );
  const last = seals.reduce((latest, [, date = '']) => (date > latest ? date : latest), '');
  const isSealed = (text: string | undefined): boolean =>
    text !== undefined &&
    (/^seal /im.test(text) || [...text.matchAll(/^\ufeff?(\d{4}-\d\d-\d\d)/gm)].some(([, date = '']) => date <= last));
  return last !== '' && changed.some((file) => isSealed(texts.get(file)) || isSealed(old.get(file)));
};

/** Entries of the changed pages that the other version has not. */
const onlyIn = (one: Workspace, other: Workspace, changed: readonly string[]): readonly Entry[] =>
  changed.flatMap((file) => {
    const theirs = other.pages.get(file)?.order;
    return (one.pages.get(file)?.entries ?? []).filter((entry) => !theirs?.has(entry));
  });

/** A page too many is read, never one too few: a name with what is not seen in it may stand anywhere. */
const maySpeakOf = (text: string, names: ReadonlySet<string>): boolean => {
  for (const name of names) {
    if (soughtFor(name).some((way) => way.every((word) => text.includes(word)))) return true;
  }
  return hasHidden(text);
};

const hasHidden = (text: string): boolean => {
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code !== 10 && code !== 13 && isHidden(code)) return true;
  }
  return false;
};

/** Findings of what changed, and the new ones of what hangs together with it; by file, in the order of the text. */
const foundIn = ({ was, now, isWhole }: Change): Map<string, readonly Finding[]> => {
  // A whole history is looked at where the whole record is.
  const histories = isWhole ? 'all' : 'none';
  const tells = ({ code }: Finding): boolean => isWhole || code === 'unknown-lot' || !REST_ON_WHOLE_RECORD.has(code);
  const found = new Map<string, readonly Finding[]>();
  const lots = new Set<string>();
  const takeLots = (entry: Entry): void => {
    for (const lot of lotsOf(entry)) lots.add(lot);
  };
  for (const [file, page] of now.pages) {
    const before = was.pages.get(file);
    for (const section of page.page.sections) {
      const entry = page.bySection.get(section);
      if (before?.page.starts.has(section) && (!entry || before.order.has(entry))) continue;
      if (entry) takeLots(entry);
      add(found, file, sectionFindings(now, page, section, histories).filter(tells));
    }
    for (const entry of before?.entries ?? []) if (!page.order.has(entry)) takeLots(entry);
  }
  // Of a page that is gone nothing is left to be looked at but what its lots became elsewhere.
  for (const [file, { entries }] of was.pages) if (!now.pages.has(file)) for (const entry of entries) takeLots(entry);
  const seen = new Set<Entry>();
  // A set goes on to what is added to it meanwhile: a weight that changed is handed on from lot to lot.
  for (const lot of lots) {
    for (const [file, page] of now.pages) {
      for (const entry of page.byLot.get(lot) ?? []) {
        const before = was.pages.get(file);
        if (seen.has(entry) || !before?.order.has(entry)) continue;
        seen.add(entry);
        if (!isAsBefore(was, now, entry)) takeLots(entry);
        const section = entry.anchor as Section;
        const stood = new Set(sectionFindings(was, before, section, histories).map(keyOf));
        const fresh = sectionFindings(now, page, section, histories);
        add(
          found,
          file,
          fresh.filter((one) => tells(one) && !stood.has(keyOf(one))),
        );
      }
    }
  }
  if (isWhole) {
    for (const section of recordOf(now).breaks.keys()) {
      const page = now.pages.get(section.file)!;
      add(
        found,
        section.file,
        sectionFindings(now, page, section, histories).filter(({ code }) => code === 'seal-broken'),
      );
    }
  }
  return new Map([...found].map(([file, list]) => [file, inOrder(now, list)]));
};

const add = (found: Map<string, readonly Finding[]>, file: string, more: readonly Finding[]): void => {
  if (more.length > 0) found.set(file, [...(found.get(file) ?? []), ...more]);
};

const isAsBefore = (was: Workspace, now: Workspace, entry: Entry): boolean =>
  was.state.accounts.get(entry.anchor.file)?.get(entry) === now.state.accounts.get(entry.anchor.file)?.get(entry);

const keyOf = ({ code, says }: Finding): string => `${code} ${says}`;

/** Each once. */
const inOrder = (workspace: Workspace, list: readonly Finding[]): readonly Finding[] => {
  const once = new Map(list.map((one) => [`${locate(workspace, one.place).start} ${keyOf(one)}`, one]));
  return [...once.values()].sort((a, b) => locate(workspace, a.place).start - locate(workspace, b.place).start);
};

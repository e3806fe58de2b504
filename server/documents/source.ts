/** The journal that a document is made from, as its foot names it. */
import { sha256 } from '../record/sha256';
import { accountsOf } from '../workspace/accounts';
import { linesOf } from '../workspace/lines';
import type { Workspace } from '../workspace/workspace';
import { locate } from '../workspace/workspace';
import type { Setting, Source } from './formats/format';

interface Text {
  readonly text: string;
}

const kept = new WeakMap<object, string>();

/** `page` is the same object as long as its text is. */
const digestOf = (page: Text): string => {
  const known = kept.get(page);
  if (known !== undefined) return known;
  const made = sha256(page.text);
  kept.set(page, made);
  return made;
};

/** Seen from the journal's own folder. An address is read as the name that it stands for, so that a file has one name wherever it is read. */
export const fileInJournal = ({ root }: Pick<Workspace, 'root'>, file: string): string => {
  const name = file.startsWith(`${root}/`) ? file.slice(root.length + 1) : file.slice(file.lastIndexOf('/') + 1);
  return /^[a-z][a-z\d+.-]+:/i.test(root) ? decoded(name) : name;
};

const decoded = (name: string): string => {
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
};

/**
 * SHA-256 of the list of all files with their SHA-256, in the order of their names: what `sha256sum` gives of the list that `sha256sum` gives of
 * the files, in the C locale.
 */
export const journalDigest = (workspace: Workspace): string => {
  const files: [string, Text][] = [...workspace.pages].map(([file, { page }]) => [file, page]);
  if (workspace.workshopFile) files.push([workspace.workshopFile.file, workspace.workshopFile]);
  const lines = files.map(([file, text]) => ({ name: fileInJournal(workspace, file), digest: digestOf(text) }));
  lines.sort((a, b) => (a.name < b.name ? -1 : 1));
  return sha256(lines.map(({ name, digest }) => `${digest}  ${name}\n`).join(''));
};

/** `revision` of version control, where it is at hand. */
export const sourceOf = (workspace: Workspace, revision: string | undefined): Source => ({
  pages: workspace.pages.size,
  lastDay: accountsOf(workspace).lastDate || undefined,
  digest: journalDigest(workspace),
  revision,
});

/** From a document in a folder to a line of the journal, as an address. Folders are addresses themselves, without a slash at the end. */
export const linkBetween =
  (folder: string, root: string): Setting['link'] =>
  ({ file, line }) => {
    const [from, to] = [folder.split('/'), root.split('/')];
    let same = 0;
    while (same < from.length && same < to.length && from[same] === to[same]) same++;
    const steps = [...from.slice(same).map(() => '..'), ...to.slice(same), ...file.split('/').map(encodeURIComponent)];
    return `${steps.join('/')}#L${line}`;
  };

/** All that a form needs to know of a journal. `link` leads from the document to a line. */
export const settingOf = (workspace: Workspace, revision: string | undefined, link: Setting['link']): Setting => {
  const { shop, reports } = workspace.workshop;
  return {
    heading: reports.heading ?? shop.name,
    address: shop.address,
    paper: reports.paper,
    source: sourceOf(workspace, revision),
    where: (place) => {
      const { file, start } = locate(workspace, place);
      return { file: fileInJournal(workspace, file), line: linesOf(workspace, file).positionOf(start).line };
    },
    link,
  };
};

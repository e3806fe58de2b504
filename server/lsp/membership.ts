/**
 * Which journal a file belongs to. A journal is the folder of a `workshop.yaml` with the pages below it, but for those below a nested one; pages
 * below none belong to the workspace folder itself. A page outside every folder, or an untitled one, is a journal of its own.
 */
import { isWorkshop } from '../files/names';
import { isBelow, parentOf } from './address';

/** Folders that hold a workshop file. */
export const workshopFolders = (ids: Iterable<string>): ReadonlySet<string> => {
  const folders = new Set<string>();
  for (const id of ids) if (isWorkshop(id)) folders.add(parentOf(id));
  return folders;
};

/** The root of a file's journal: a folder, or the file itself where it stands alone. */
export const rootOf = (id: string, folders: readonly string[], shops: ReadonlySet<string>): string => {
  const inside = folders.filter((folder) => isBelow(id, folder));
  if (inside.length === 0) return id;
  const outermost = inside.reduce((a, b) => (a.length <= b.length ? a : b));
  for (let folder = parentOf(id); folder.length >= outermost.length; folder = parentOf(folder)) {
    if (shops.has(folder)) return folder;
  }
  return inside.reduce((a, b) => (a.length >= b.length ? a : b));
};

/**
 * Files have many spellings as an address: `file:///c%3A/x` and `file:///C:/x`, `(` and `%28`. Inside the server each has one, its id;
 * what is sent back to the client keeps the client's own spelling.
 */
import { fileURLToPath, pathToFileURL } from 'node:url';

/** The one spelling of an address. What is not a file keeps its own. */
export const idOf = (uri: string): string => {
  const path = pathOf(uri);
  return path === undefined ? uri : idOfPath(path);
};

/** A folder's id, without a slash at its end. */
export const folderIdOf = (uri: string): string => {
  const id = idOf(uri);
  return id.endsWith('/') ? id.slice(0, -1) : id;
};

export const idOfPath = (path: string): string => pathToFileURL(path).href;

/** The path of a file on this machine; none for an untitled page or a file that is elsewhere. */
export const pathOf = (uri: string): string | undefined => {
  if (!uri.startsWith('file:')) return undefined;
  try {
    return fileURLToPath(uri);
  } catch {
    return undefined;
  }
};

/** The folder that an id stands in. */
export const parentOf = (id: string): string => id.slice(0, Math.max(0, id.lastIndexOf('/')));

export const isBelow = (id: string, folder: string): boolean => id.startsWith(`${folder}/`);

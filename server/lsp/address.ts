/**
 * Files have many spellings as an address: `file:///c%3A/x` and `file:///C:/x`, `(` and `%28`. Inside the server each has one, its id, which the
 * disk gives it; what is sent back to the client keeps the client's own spelling.
 */

/** The folder that an id stands in. */
export const parentOf = (id: string): string => id.slice(0, Math.max(0, id.lastIndexOf('/')));

export const isBelow = (id: string, folder: string): boolean => id.startsWith(`${folder}/`);

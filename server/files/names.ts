/** Which files are a journal's: its pages and the shop's own file. Everything else on the disk is none of our business. */

export const WORKSHOP_NAME = 'workshop.yaml';

/** The last part of a path or an address. */
export const lastSegment = (path: string): string =>
  path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1);

export const isPage = (path: string): boolean => lastSegment(path).toLowerCase().endsWith('.melt');
export const isWorkshop = (path: string): boolean => lastSegment(path) === WORKSHOP_NAME;
export const isJournalFile = (path: string): boolean => isPage(path) || isWorkshop(path);

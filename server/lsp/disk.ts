/** Where the texts come from that no editor has open: the server is given one, and knows no other. It reads, and never writes. */
import type { FileResult } from '../files/decoded';

/** What was found when reading, by id. A file that is not there, or is not to be read, is undefined. */
export interface Found {
  readonly files: ReadonlyMap<string, FileResult | undefined>;
  /** Sentences on what was left out, and why. */
  readonly notes: readonly string[];
}

/** Ids of files that were read and are there. */
export type IsRead = (id: string) => boolean;

export interface Disk {
  /** The one spelling of an address. */
  readonly idOf: (uri: string) => string;
  /** The id of a file, also when it is come upon by another way than the first. */
  readonly knownIdOf: (uri: string, isRead: IsRead) => string;
  /** Whether a folder is on this disk. Pages of one that is elsewhere stand alone. */
  readonly canRead: (folder: string) => boolean;
  /** Lets messages in that have come meanwhile. */
  readonly pause: () => Promise<void>;
  /** All pages and workshop files below a folder. */
  readonly readFolder: (folder: string) => Promise<Found>;
  /** Files of these folders, as they are now. */
  readonly readFiles: (ids: readonly string[], folders: readonly string[], isRead: IsRead) => Found | Promise<Found>;
}

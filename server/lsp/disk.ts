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

/** A photo or paper: what shows that it was not written since, and its digest; null where there is no such file, or `UNREAD`. */
export interface ProofOnDisk {
  readonly stamp: string;
  readonly digest: string | null;
}

export interface Disk {
  /** A file below a folder, or beside a lone page; the same value as long as it was not written again. None where nothing can be known of it. */
  readonly proof?: (root: string, path: string, known: ProofOnDisk | undefined) => ProofOnDisk | undefined;
  /** Other files in its folder. */
  readonly beside?: (root: string, path: string) => readonly string[];
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
  /** Of version control, as it is checked out; none where it is not at hand. */
  readonly revisionOf?: (folder: string) => string | undefined;
  /** Files of these folders, as they are now. */
  readonly readFiles: (ids: readonly string[], folders: readonly string[], isRead: IsRead) => Found | Promise<Found>;
}

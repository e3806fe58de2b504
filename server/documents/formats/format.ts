/** What a form of a document needs to know besides the document. */

import type { Place } from '../../text/place';
import type { Document } from '../model';

/** The journal that a document was made from, as it stood. */
export interface Source {
  readonly pages: number;
  /** The last day of the record. */
  readonly lastDay: string | undefined;
  /** SHA-256 of the journal's text, in hexadecimal. */
  readonly digest: string;
  /** Of version control, where it is at hand. */
  readonly revision: string | undefined;
}

export interface Where {
  /** Seen from the journal's own folder, with forward slashes. */
  readonly file: string;
  /** From 1. */
  readonly line: number;
}

export interface Setting {
  /** The shop's heading for documents, its name or nothing. */
  readonly heading: string | undefined;
  readonly address: string | undefined;
  readonly paper: 'A4' | 'letter' | undefined;
  readonly source: Source;
  readonly where: (place: Place) => Where;
  /** An address that leads to the line; none where there is no way to it. */
  readonly link: (where: Where) => string | undefined;
}

export type Format = (document: Document, setting: Setting) => string;

/** `2026-05.melt:34`. */
export const whereWords = ({ file, line }: Where): string => `${file}:${line}`;

export const HOW_TO_READ =
  'A weight with no word beside it was weighed. ± is two standard uncertainties (k = 2). ~ marks a guess, ? what is not known yet.';

/** The sentences at the foot, the same in every form. */
export const footOf = ({ source }: Setting): readonly string[] => [
  HOW_TO_READ,
  `From ${source.pages === 1 ? 'one page' : `${source.pages} pages`} of the journal${source.lastDay ? `, up to ${source.lastDay}` : ''}.${source.revision ? ` Revision ${source.revision}.` : ''} SHA-256 ${source.digest}.`,
];

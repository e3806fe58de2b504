/** What a document is asked of. */
import { nearest } from '../text/nearest';

/** What is not given is not asked for: the whole record, every party. */
export interface Choice {
  /** The name of a step or a shipment: `M57`. */
  readonly entry?: string;
  readonly lot?: string;
  /** From the beginning of one day to the end of another. */
  readonly from?: string;
  readonly to?: string;
  readonly day?: string;
  readonly party?: string;
  /** As the stock list names them: `the shop`, a party. */
  readonly owner?: string;
  /** A chemical symbol. */
  readonly metal?: string;
}

/** A document that cannot be made; the message is for the reader, and says what to do. */
export class Refused extends Error {}

export const isWithin = ({ from, to }: Choice, date: string | undefined): boolean =>
  (from === undefined || (date ?? '') >= from) && (to === undefined || (date ?? '') <= to);

/** `2026-06-01 to 2026-06-30`, `the whole record`. */
export const periodWords = ({ from, to }: Choice): string => {
  if (from === undefined && to === undefined) return 'the whole record';
  if (from === to) return from!;
  if (from !== undefined && to !== undefined) return `${from} to ${to}`;
  return from === undefined ? `up to ${to}` : `from ${from} on`;
};

export const meant = (found: string, known: readonly string[]): string => {
  const near = nearest(found, known);
  return near ? ` Did you mean ${near}?` : '';
};

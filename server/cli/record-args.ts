/** What the command line asks of the record: seals, comparisons, merges. */
import { isDate } from '../text/calendar';
import { parsed, UsageError } from './options';

export interface SealCommand {
  readonly command: 'seal';
  readonly upTo: string;
  readonly path: string;
  /** Write a page, print it, or print what is hashed. */
  readonly what: 'write' | 'print' | 'canonical';
  readonly withErrors: boolean;
}

export type RecordCommand = SealCommand;

const SEAL_OPTIONS = {
  print: { type: 'boolean' },
  canonical: { type: 'boolean' },
  'with-errors': { type: 'boolean' },
} as const;

export const readSeal = (args: readonly string[]): SealCommand => {
  const { values, positionals } = parsed(args, SEAL_OPTIONS);
  const [upTo, path = '.', more] = positionals;
  if (upTo === undefined || !isDate(upTo) || more !== undefined)
    throw new UsageError('`fineweight seal` wants a day, year first, and one journal: `fineweight seal DATE [PATH]`.');
  const what = values.has('canonical') ? 'canonical' : values.has('print') ? 'print' : 'write';
  return { command: 'seal', upTo, path, what, withErrors: values.has('with-errors') };
};

/** What the command line asks of the record: seals, comparisons, merges. */
import { isDate } from '../text/calendar';
import { oneOf, parsed, UsageError } from './options';

export interface SealCommand {
  readonly command: 'seal';
  readonly upTo: string;
  readonly path: string;
  /** Write a page, print it, or print what is hashed. */
  readonly what: 'write' | 'print' | 'canonical';
  readonly withErrors: boolean;
  readonly because: string | undefined;
}

export type RecordCommand =
  | SealCommand
  | {
      readonly command: 'diff';
      readonly from: string;
      /** None: the pages as they are. */
      readonly to: string | undefined;
      readonly path: string;
      readonly format: 'text' | 'json';
    }
  | {
      readonly command: 'merge';
      readonly base: string;
      readonly ours: string;
      readonly theirs: string;
      /** The page's own name, for what is said. */
      readonly name: string | undefined;
      readonly print: boolean;
    }
  | { readonly command: 'record'; readonly paths: readonly string[]; readonly days: number }
  | { readonly command: 'attributes'; readonly folder: string }
  | { readonly command: 'textconv'; readonly path: string };

const SEAL_OPTIONS = {
  print: { type: 'boolean' },
  canonical: { type: 'boolean' },
  'with-errors': { type: 'boolean' },
  because: { type: 'string' },
} as const;

export const readSeal = (args: readonly string[]): SealCommand => {
  const { values, positionals } = parsed(args, SEAL_OPTIONS);
  const [upTo, path = '.', more] = positionals;
  if (upTo === undefined || !isDate(upTo) || more !== undefined)
    throw new UsageError('`fineweight seal` wants a day, year first, and one journal: `fineweight seal DATE [PATH]`.');
  const what = values.has('canonical') ? 'canonical' : values.has('print') ? 'print' : 'write';
  const because = values.get('because');
  if (because !== undefined && !/[\p{L}\d]/u.test(because)) throw new UsageError('--because wants a reason.');
  return { command: 'seal', upTo, path, what, withErrors: values.has('with-errors'), because };
};

const DIFF_OPTIONS = { journal: { type: 'string' }, format: { type: 'string' } } as const;

export const readDiff = (args: readonly string[]): RecordCommand => {
  const { values, positionals } = parsed(args, DIFF_OPTIONS);
  const [from, to, more] = positionals;
  if (from === undefined || more !== undefined)
    throw new UsageError('`fineweight diff` wants one commit or two: `fineweight diff REV [REV]`.');
  const format = oneOf('--format', values.get('format') ?? 'text', ['text', 'json'] as const);
  return { command: 'diff', from, to, path: values.get('journal') ?? '.', format };
};

export const readMerge = (args: readonly string[]): RecordCommand => {
  const { values, positionals } = parsed(args, { print: { type: 'boolean' } });
  const [base, ours, theirs, name, more] = positionals;
  if (base === undefined || ours === undefined || theirs === undefined || more !== undefined)
    throw new UsageError('`fineweight merge` is for git to call: `fineweight merge BASE OURS THEIRS [NAME]`.');
  return { command: 'merge', base, ours, theirs, name, print: values.has('print') };
};

export const readRecord = (args: readonly string[]): RecordCommand => {
  const { values, positionals } = parsed(args, { days: { type: 'string' } });
  const days = values.get('days') ?? '7';
  if (!/^\d{1,4}$/.test(days)) throw new UsageError(`--days wants a number of days; "${days}" is none.`);
  return { command: 'record', paths: positionals.length > 0 ? positionals : ['.'], days: Number(days) };
};

export const readAttributes = (args: readonly string[]): RecordCommand => {
  const { positionals } = parsed(args, {});
  if (positionals.length > 1) throw new UsageError('`fineweight attributes` takes one folder.');
  return { command: 'attributes', folder: positionals[0] ?? '.' };
};

export const readTextconv = (args: readonly string[]): RecordCommand => {
  const { positionals } = parsed(args, {});
  const [path, more] = positionals;
  if (path === undefined || more !== undefined)
    throw new UsageError('`fineweight textconv` is for git to call, with one page.');
  return { command: 'textconv', path };
};

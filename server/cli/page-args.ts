/** How the commands that read pages one by one are asked. */
import type { Severity } from '../rules/rule';
import { CHECK_FORMATS, type CheckFormat } from './check';
import { numberOption, oneOf, parsed, UsageError } from './options';

export type PagesCommand =
  | {
      readonly command: 'check';
      readonly paths: readonly string[];
      readonly failOn: Severity;
      readonly format: CheckFormat;
      /** Only what changed since this commit. */
      readonly since: string | undefined;
      /** Only what goes into the next commit, as it is staged. */
      readonly staged: boolean;
      /** The page stands on standard input and bears this name. */
      readonly stdinName: string | undefined;
    }
  | { readonly command: 'show'; readonly path: string; readonly stdinName: string | undefined }
  | {
      readonly command: 'format';
      readonly paths: readonly string[];
      /** Names the pages that are not in form, and no more. */
      readonly check: boolean;
      /** Column of the decimal points, counted from 1. */
      readonly pointAt: number | undefined;
    }
  | { readonly command: 'unfinished'; readonly paths: readonly string[]; readonly format: 'text' | 'json' };

const SEVERITIES: readonly Severity[] = ['error', 'warning', 'hint'];

const CHECK_OPTIONS = {
  'fail-on': { type: 'string' },
  format: { type: 'string' },
  'stdin-filename': { type: 'string' },
  since: { type: 'string' },
  staged: { type: 'boolean' },
} as const;
const UNFINISHED_OPTIONS = { format: { type: 'string' } } as const;
const SHOW_OPTIONS = { 'stdin-filename': { type: 'string' } } as const;

export const readCheck = (args: readonly string[]): PagesCommand => {
  const { values, positionals } = parsed(args, CHECK_OPTIONS);
  const failOn = oneOf('--fail-on', values.get('fail-on') ?? 'warning', SEVERITIES);
  const format = oneOf('--format', values.get('format') ?? 'text', CHECK_FORMATS);
  const since = values.get('since');
  const stdinName = values.get('stdin-filename');
  if (stdinName !== undefined && positionals.length > 0) {
    throw new UsageError('With --stdin-filename the page comes from standard input: give no PATH beside it.');
  }
  const staged = values.has('staged');
  if (staged && since !== undefined)
    throw new UsageError('--staged is since the last commit: give no --since beside it.');
  if ((staged || since !== undefined) && (stdinName !== undefined || positionals.length > 1))
    throw new UsageError(
      `${staged ? '--staged' : '--since'} looks at the files of one journal: give one PATH at most.`,
    );
  const paths = positionals.length > 0 ? positionals : ['.'];
  return { command: 'check', paths, failOn, format, stdinName, since, staged };
};

export const readUnfinished = (args: readonly string[]): PagesCommand => {
  const { values, positionals } = parsed(args, UNFINISHED_OPTIONS);
  const format = oneOf('--format', values.get('format') ?? 'text', ['text', 'json']);
  return { command: 'unfinished', paths: positionals.length > 0 ? positionals : ['.'], format };
};

export const readShow = (args: readonly string[]): PagesCommand => {
  const { values, positionals } = parsed(args, SHOW_OPTIONS);
  const stdinName = values.get('stdin-filename');
  if (positionals.length + (stdinName === undefined ? 0 : 1) !== 1) {
    throw new UsageError('`fineweight show` takes one page: `fineweight show FILE`.');
  }
  return { command: 'show', path: positionals[0] ?? stdinName!, stdinName };
};

const FORMAT_OPTIONS = { check: { type: 'boolean' }, 'point-at': { type: 'string' } } as const;

export const readFormat = (args: readonly string[]): PagesCommand => {
  const { values, positionals } = parsed(args, FORMAT_OPTIONS);
  return {
    command: 'format',
    paths: positionals.length > 0 ? positionals : ['.'],
    check: values.has('check'),
    pointAt: numberOption(values, 'point-at', 1, 120),
  };
};

/** What the command line asks for, or a plain sentence on what is wrong with it. */

import { GROUPINGS, type Grouping, PARTS, type Part } from '../reports/history/history';
import type { Severity } from '../rules/rule';
import { CHECK_FORMATS, type CheckFormat } from './check';
import { type ReportCommand, readReport } from './document-args';
import { type ExportCommand, readExport } from './export-args';
import { dateOption, metalOption, numberOption, oneOf, parsed, UsageError, unknownWords } from './options';
import type { Paint } from './paint';
import { type PictureCommand, readPicture } from './picture-args';
import {
  type RecordCommand,
  readAttributes,
  readDiff,
  readMerge,
  readRecord,
  readSeal,
  readTextconv,
} from './record-args';
import { type RoutesCommand, readRoutes, readSettle, type SettleCommand } from './selling-args';

export type Command =
  | ExportCommand
  | PictureCommand
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
  | { readonly command: 'unfinished'; readonly paths: readonly string[]; readonly format: 'text' | 'json' }
  | {
      readonly command: 'stock';
      readonly paths: readonly string[];
      /** The end of this day. */
      readonly at: string | undefined;
      readonly owner: string | undefined;
      readonly format: 'text' | 'json' | 'csv';
    }
  | {
      readonly command: 'account';
      readonly paths: readonly string[];
      /** From the beginning of one day to the end of another. */
      readonly from: string | undefined;
      readonly to: string | undefined;
      readonly metal: string | undefined;
      readonly format: 'text' | 'json' | 'csv';
    }
  | {
      readonly command: 'trace';
      readonly lot: string;
      readonly paths: readonly string[];
      readonly format: 'text' | 'json' | 'csv';
    }
  | {
      readonly command: 'reconcile';
      readonly paths: readonly string[];
      /** The history of this lot alone. */
      readonly lot: string | undefined;
      readonly format: 'text' | 'json' | 'csv';
    }
  | {
      readonly command: 'history';
      readonly paths: readonly string[];
      readonly by: Grouping;
      readonly part: Part | undefined;
      readonly from: string | undefined;
      readonly to: string | undefined;
      readonly metal: string | undefined;
      readonly cusumSlack: number | undefined;
      readonly cusumLimit: number | undefined;
      readonly ewmaWeight: number | undefined;
      readonly format: 'text' | 'json' | 'csv';
    }
  | SettleCommand
  | RoutesCommand
  | { readonly command: 'plan'; readonly paths: readonly string[]; readonly format: 'text' | 'json' }
  | {
      readonly command: 'ask';
      readonly text: string;
      /** The journal whose lots and workshop file are meant. */
      readonly path: string | undefined;
      readonly format: 'text' | 'json';
    }
  | ReportCommand
  | RecordCommand
  | { readonly command: 'serve' }
  | { readonly command: 'explain'; readonly code: string | undefined }
  | { readonly command: 'help'; readonly of: string | undefined };

/** What a command is given beside the pages that it reads. */
export type OptionsOf<Name extends Command['command']> = Omit<
  Extract<Command, { command: Name }>,
  'command' | 'paths'
> & {
  readonly paint: Paint;
};

export const COMMANDS = [
  'check',
  'show',
  'unfinished',
  'stock',
  'account',
  'trace',
  'reconcile',
  'history',
  'picture',
  'export',
  'settle',
  'routes',
  'plan',
  'ask',
  'report',
  'seal',
  'record',
  'diff',
  'merge',
  'attributes',
  'textconv',
  'serve',
  'explain',
  'help',
] as const;
const TEXT_OR_JSON = ['text', 'json'] as const;
const SEVERITIES: readonly Severity[] = ['error', 'warning', 'hint'];

/** Throws a UsageError. `args` are what stands behind the program's name. */
export const readArgs = (args: readonly string[]): Command => {
  const [first, ...rest] = args;
  if (first === undefined || first === 'help' || first === '--help' || first === '-h')
    return { command: 'help', of: rest[0] };
  if (rest.includes('--help') || rest.includes('-h')) return { command: 'help', of: first };
  switch (first) {
    case 'check':
      return readCheck(rest);
    case 'show':
      return readShow(rest);
    case 'unfinished':
      return readUnfinished(rest);
    case 'stock':
      return readStock(rest);
    case 'account':
      return readAccount(rest);
    case 'trace':
      return readTrace(rest);
    case 'reconcile':
      return readReconcile(rest);
    case 'history':
      return readHistory(rest);
    case 'picture':
      return readPicture(rest);
    case 'export':
      return readExport(rest);
    case 'settle':
      return readSettle(rest);
    case 'routes':
      return readRoutes(rest);
    case 'plan':
      return readPlan(rest);
    case 'ask':
      return readAsk(rest);
    case 'report':
      return readReport(rest);
    case 'seal':
      return readSeal(rest);
    case 'record':
      return readRecord(rest);
    case 'diff':
      return readDiff(rest);
    case 'merge':
      return readMerge(rest);
    case 'attributes':
      return readAttributes(rest);
    case 'textconv':
      return readTextconv(rest);
    case 'serve':
      return readServe(rest);
    case 'explain':
      return readExplain(rest);
    default:
      throw new UsageError(unknownWords('command', first, COMMANDS));
  }
};

const CHECK_OPTIONS = {
  'fail-on': { type: 'string' },
  format: { type: 'string' },
  'stdin-filename': { type: 'string' },
  since: { type: 'string' },
  staged: { type: 'boolean' },
} as const;
const UNFINISHED_OPTIONS = { format: { type: 'string' } } as const;
const SHOW_OPTIONS = { 'stdin-filename': { type: 'string' } } as const;

const readCheck = (args: readonly string[]): Command => {
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

const readUnfinished = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, UNFINISHED_OPTIONS);
  const format = oneOf('--format', values.get('format') ?? 'text', TEXT_OR_JSON);
  return { command: 'unfinished', paths: positionals.length > 0 ? positionals : ['.'], format };
};

const readShow = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, SHOW_OPTIONS);
  const stdinName = values.get('stdin-filename');
  if (positionals.length + (stdinName === undefined ? 0 : 1) !== 1) {
    throw new UsageError('`fineweight show` takes one page: `fineweight show FILE`.');
  }
  return { command: 'show', path: positionals[0] ?? stdinName!, stdinName };
};

const FORMATS = ['text', 'json', 'csv'] as const;
const STOCK_OPTIONS = { at: { type: 'string' }, owner: { type: 'string' }, format: { type: 'string' } } as const;
const TRACE_OPTIONS = { format: { type: 'string' } } as const;

const readStock = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, STOCK_OPTIONS);
  return {
    command: 'stock',
    paths: positionals.length > 0 ? positionals : ['.'],
    at: dateOption(values, 'at'),
    owner: values.get('owner'),
    format: oneOf('--format', values.get('format') ?? 'text', FORMATS),
  };
};

const ACCOUNT_OPTIONS = {
  from: { type: 'string' },
  to: { type: 'string' },
  metal: { type: 'string' },
  format: { type: 'string' },
} as const;

const readAccount = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, ACCOUNT_OPTIONS);
  return {
    command: 'account',
    paths: positionals.length > 0 ? positionals : ['.'],
    from: dateOption(values, 'from'),
    to: dateOption(values, 'to'),
    metal: metalOption(values),
    format: oneOf('--format', values.get('format') ?? 'text', FORMATS),
  };
};

const HISTORY_OPTIONS = {
  by: { type: 'string' },
  part: { type: 'string' },
  from: { type: 'string' },
  to: { type: 'string' },
  metal: { type: 'string' },
  'cusum-slack': { type: 'string' },
  'cusum-limit': { type: 'string' },
  'ewma-weight': { type: 'string' },
  format: { type: 'string' },
} as const;

const readHistory = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, HISTORY_OPTIONS);
  const part = values.get('part');
  return {
    command: 'history',
    paths: positionals.length > 0 ? positionals : ['.'],
    by: oneOf('--by', values.get('by') ?? 'kind', GROUPINGS),
    part: part === undefined ? undefined : oneOf('--part', part, PARTS),
    from: dateOption(values, 'from'),
    to: dateOption(values, 'to'),
    metal: metalOption(values),
    cusumSlack: numberOption(values, 'cusum-slack', 0.1, 20),
    cusumLimit: numberOption(values, 'cusum-limit', 0.1, 20),
    ewmaWeight: numberOption(values, 'ewma-weight', 0.01, 1),
    format: oneOf('--format', values.get('format') ?? 'text', FORMATS),
  };
};

const readTrace = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, TRACE_OPTIONS);
  const [lot, ...paths] = positionals;
  if (lot === undefined) throw new UsageError('`fineweight trace` wants a lot: `fineweight trace LOT [PATH…]`.');
  const format = oneOf('--format', values.get('format') ?? 'text', FORMATS);
  return { command: 'trace', lot, paths: paths.length > 0 ? paths : ['.'], format };
};

const RECONCILE_OPTIONS = { lot: { type: 'string' }, format: { type: 'string' } } as const;

const readReconcile = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, RECONCILE_OPTIONS);
  const format = oneOf('--format', values.get('format') ?? 'text', FORMATS);
  return { command: 'reconcile', paths: positionals.length > 0 ? positionals : ['.'], lot: values.get('lot'), format };
};

const readPlan = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, UNFINISHED_OPTIONS);
  const format = oneOf('--format', values.get('format') ?? 'text', TEXT_OR_JSON);
  return { command: 'plan', paths: positionals.length > 0 ? positionals : ['.'], format };
};

const ASK_OPTIONS = { format: { type: 'string' }, journal: { type: 'string' } } as const;

const readAsk = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, ASK_OPTIONS);
  if (!positionals.some((text) => /[^;\s]/.test(text))) {
    throw new UsageError('`fineweight ask` wants a plan in words: `fineweight ask "receive B 61 g; cupel, in B"`.');
  }
  const format = oneOf('--format', values.get('format') ?? 'text', TEXT_OR_JSON);
  return { command: 'ask', text: positionals.join('; '), path: values.get('journal'), format };
};

/** The flag must be there: whoever types the bare word in a terminal is told, and does not wait for an answer that never comes. */
const readServe = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, { stdio: { type: 'boolean' } });
  if (!values.has('stdio') || positionals.length > 0) {
    throw new UsageError(
      '`fineweight serve --stdio` is for an editor to start; it takes no PATH: the editor names the folders.',
    );
  }
  return { command: 'serve' };
};

const readExplain = (args: readonly string[]): Command => {
  const { positionals } = parsed(args, {});
  if (positionals.length > 1) throw new UsageError('`fineweight explain` takes one code: `fineweight explain CODE`.');
  return { command: 'explain', code: positionals[0] };
};

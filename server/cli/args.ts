/** What the command line asks for, or a plain sentence on what is wrong with it. */

import { type AccountsCommand, readAccount, readHistory, readReconcile, readStock, readTrace } from './account-args';
import { type ReportCommand, readReport } from './document-args';
import { type ExportCommand, readExport } from './export-args';
import { oneOf, parsed, UsageError, unknownWords } from './options';
import { type PagesCommand, readCheck, readFormat, readShow, readUnfinished } from './page-args';
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
  | PagesCommand
  | AccountsCommand
  | ExportCommand
  | PictureCommand
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
  | { readonly command: 'help'; readonly of: string | undefined }
  | { readonly command: 'version' };

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
  'format',
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
  'version',
] as const;
const TEXT_OR_JSON = ['text', 'json'] as const;

/** Throws a UsageError. `args` are what stands behind the program's name. */
export const readArgs = (args: readonly string[]): Command => {
  const [first, ...rest] = args;
  if (first === undefined || first === 'help' || first === '--help' || first === '-h')
    return { command: 'help', of: rest[0] };
  if (first === 'version' || first === '--version') return { command: 'version' };
  if (rest.includes('--help') || rest.includes('-h')) return { command: 'help', of: first };
  switch (first) {
    case 'check':
      return readCheck(rest);
    case 'show':
      return readShow(rest);
    case 'format':
      return readFormat(rest);
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

const PLAN_OPTIONS = { format: { type: 'string' } } as const;

const readPlan = (args: readonly string[]): Command => {
  const { values, positionals } = parsed(args, PLAN_OPTIONS);
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

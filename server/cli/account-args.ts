/** How the commands that tell accounts and histories are asked. */
import { GROUPINGS, type Grouping, PARTS, type Part } from '../reports/history/history';
import { dateOption, metalOption, numberOption, oneOf, parsed, periodOptions, UsageError } from './options';

export type AccountsCommand =
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
    };

const FORMATS = ['text', 'json', 'csv'] as const;
const STOCK_OPTIONS = { at: { type: 'string' }, owner: { type: 'string' }, format: { type: 'string' } } as const;
const TRACE_OPTIONS = { format: { type: 'string' } } as const;

export const readStock = (args: readonly string[]): AccountsCommand => {
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

export const readAccount = (args: readonly string[]): AccountsCommand => {
  const { values, positionals } = parsed(args, ACCOUNT_OPTIONS);
  return {
    command: 'account',
    paths: positionals.length > 0 ? positionals : ['.'],
    ...periodOptions(values),
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

export const readHistory = (args: readonly string[]): AccountsCommand => {
  const { values, positionals } = parsed(args, HISTORY_OPTIONS);
  const part = values.get('part');
  return {
    command: 'history',
    paths: positionals.length > 0 ? positionals : ['.'],
    by: oneOf('--by', values.get('by') ?? 'kind', GROUPINGS),
    part: part === undefined ? undefined : oneOf('--part', part, PARTS),
    ...periodOptions(values),
    metal: metalOption(values),
    cusumSlack: numberOption(values, 'cusum-slack', 0.1, 2),
    cusumLimit: numberOption(values, 'cusum-limit', 0.1, 20),
    ewmaWeight: numberOption(values, 'ewma-weight', 0.01, 1),
    format: oneOf('--format', values.get('format') ?? 'text', FORMATS),
  };
};

export const readTrace = (args: readonly string[]): AccountsCommand => {
  const { values, positionals } = parsed(args, TRACE_OPTIONS);
  const [lot, ...paths] = positionals;
  if (lot === undefined) throw new UsageError('`fineweight trace` wants a lot: `fineweight trace LOT [PATH…]`.');
  const format = oneOf('--format', values.get('format') ?? 'text', FORMATS);
  return { command: 'trace', lot, paths: paths.length > 0 ? paths : ['.'], format };
};

const RECONCILE_OPTIONS = { lot: { type: 'string' }, format: { type: 'string' } } as const;

export const readReconcile = (args: readonly string[]): AccountsCommand => {
  const { values, positionals } = parsed(args, RECONCILE_OPTIONS);
  const format = oneOf('--format', values.get('format') ?? 'text', FORMATS);
  return { command: 'reconcile', paths: positionals.length > 0 ? positionals : ['.'], lot: values.get('lot'), format };
};

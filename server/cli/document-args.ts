/** What `fineweight report` asks for. */
import type { Choice } from '../documents/choice';
import { FORMAT_NAMES, type FormatName } from '../documents/formats/formats';
import { KINDS } from '../documents/kinds';
import { isDate, lastDateOf } from '../text/calendar';
import { dateOption, metalOption, oneOf, parsed, periodOptions, UsageError, unknownWords } from './options';

export interface ReportCommand {
  readonly command: 'report';
  readonly kind: string;
  readonly paths: readonly string[];
  readonly choice: Choice;
  readonly format: FormatName;
  /** A new file; without one the document goes to standard output. */
  readonly out: string | undefined;
  /** A folder for one document of each month of the record. */
  readonly monthsIn: string | undefined;
  readonly overwrite: boolean;
  /** Named at the foot; `undefined` for the one that is checked out. */
  readonly revision: string | undefined;
}

const OPTIONS = {
  entry: { type: 'string' },
  lot: { type: 'string' },
  from: { type: 'string' },
  to: { type: 'string' },
  month: { type: 'string' },
  day: { type: 'string' },
  party: { type: 'string' },
  owner: { type: 'string' },
  metal: { type: 'string' },
  format: { type: 'string' },
  out: { type: 'string' },
  'all-months': { type: 'string' },
  overwrite: { type: 'boolean' },
  revision: { type: 'string' },
} as const;

/** The options that say what a document is of. */
const CHOICES = ['entry', 'lot', 'from', 'to', 'day', 'party', 'owner', 'metal'] as const;

/** Throws a UsageError. */
export const readReport = (args: readonly string[]): ReportCommand => {
  const { values, positionals } = parsed(args, OPTIONS);
  const [code, ...paths] = positionals;
  if (code === undefined) throw new UsageError(`\`fineweight report\` wants a kind of document: ${kindList}.`);
  const kind = KINDS.find((one) => one.code === code);
  if (!kind)
    throw new UsageError(
      unknownWords(
        'kind of document',
        code,
        KINDS.map((one) => one.code),
      ),
    );
  const choice: Choice = { ...choiceIn(values), ...monthIn(values) };
  const strange = CHOICES.find((option) => choice[option] !== undefined && !kind.takes.includes(option));
  if (strange) {
    const takes = kind.takes.map((one) => `--${one}`).join(', ');
    throw new UsageError(`${kind.code} takes no --${strange}${takes === '' ? '' : `; it takes ${takes}`}.`);
  }
  const monthsIn = values.get('all-months');
  if (monthsIn !== undefined) checkMonths(values, kind.takes);
  return {
    command: 'report',
    kind: kind.code,
    paths: paths.length > 0 ? paths : ['.'],
    choice,
    format: oneOf('--format', values.get('format') ?? formatOf(values.get('out')) ?? 'md', FORMAT_NAMES),
    out: values.get('out'),
    monthsIn,
    overwrite: values.has('overwrite'),
    revision: values.get('revision'),
  };
};

const kindList = KINDS.map(({ code }) => code).join(', ');

const choiceIn = (values: ReadonlyMap<string, string>): Choice => {
  metalOption(values);
  periodOptions(values);
  dateOption(values, 'day');
  const given = Object.fromEntries(CHOICES.flatMap((name) => (values.has(name) ? [[name, values.get(name)!]] : [])));
  return given;
};

/** `--month 2026-06` is from its first day to its last. */
const monthIn = (values: ReadonlyMap<string, string>): Choice => {
  const month = values.get('month');
  if (month === undefined) return {};
  if (!isDate(`${month}-01`)) throw new UsageError(`--month wants a year and a month, as 2026-06; "${month}" is none.`);
  if (values.has('from') || values.has('to')) throw new UsageError('Give either --month, or --from and --to.');
  return { from: `${month}-01`, to: lastDateOf(month) };
};

const checkMonths = (values: ReadonlyMap<string, string>, takes: readonly string[]): void => {
  if (!takes.includes('from')) throw new UsageError('--all-months is for documents of a period.');
  const other = ['out', 'month', 'from', 'to'].find((name) => values.has(name));
  if (other) throw new UsageError(`--all-months writes one file for each month: give no --${other} beside it.`);
};

/** By the end of the file's name. */
const formatOf = (out: string | undefined): FormatName | undefined =>
  FORMAT_NAMES.find((name) => out?.toLowerCase().endsWith(`.${name}`));

/** Options of the command line read one by one, or a plain sentence on what is wrong with them. */
import { parseArgs } from 'node:util';
import { isDate } from '../text/calendar';
import { nearest } from '../text/nearest';
import { element } from '../vocabulary/elements';

/** Wrong use; the message is for the reader. */
export class UsageError extends Error {}

type Options = Readonly<Record<string, { readonly type: 'string' | 'boolean' }>>;

/** Loosely parsed, so that what is wrong is said in our own words. */
export const parsed = (args: readonly string[], options: Options) => {
  const { tokens } = parseArgs({ args: [...args], options, strict: false, allowPositionals: true, tokens: true });
  const values = new Map<string, string>();
  const positionals: string[] = [];
  for (const token of tokens) {
    if (token.kind === 'positional') positionals.push(token.value);
    if (token.kind !== 'option') continue;
    if (!Object.hasOwn(options, token.name)) {
      throw new UsageError(
        unknownWords(
          'option',
          token.rawName,
          Object.keys(options).map((name) => `--${name}`),
        ),
      );
    }
    if (options[token.name]?.type === 'boolean') {
      if (token.value !== undefined) throw new UsageError(`${token.rawName} takes no value.`);
      values.set(token.name, '');
      continue;
    }
    if (token.value === undefined || (!token.inlineValue && token.value.startsWith('--'))) {
      throw new UsageError(`${token.rawName} wants a value behind it.`);
    }
    values.set(token.name, token.value);
  }
  return { values, positionals };
};

export const oneOf = <Value extends string>(option: string, found: string, known: readonly Value[]): Value => {
  const value = known.find((one) => one === found);
  if (value === undefined) throw new UsageError(`${option} is ${known.join(', ')}; "${found}" is none of them.`);
  return value;
};

export const dateOption = (values: ReadonlyMap<string, string>, name: string): string | undefined => {
  const date = values.get(name);
  if (date !== undefined && !isDate(date))
    throw new UsageError(`--${name} wants a date, year first; "${date}" is none.`);
  return date;
};

/** From the beginning of one day to the end of another, not before it: a period that runs backwards would be summed all the same. */
export const periodOptions = (
  values: ReadonlyMap<string, string>,
): { readonly from: string | undefined; readonly to: string | undefined } => {
  const [from, to] = [dateOption(values, 'from'), dateOption(values, 'to')];
  if (from !== undefined && to !== undefined && from > to) throw new UsageError(`--from ${from} is after --to ${to}.`);
  return { from, to };
};

export const unknownWords = (what: string, found: string, known: readonly string[]): string => {
  const near = known.find((one) => found.length > 2 && one.startsWith(found)) ?? nearest(found, known);
  const meant = near ? ` Did you mean ${near}?` : '';
  return `There is no ${what} ${found}.${meant} \`fineweight help\` lists what there is.`;
};

export const metalOption = (values: ReadonlyMap<string, string>): string | undefined => {
  const metal = values.get('metal');
  if (metal !== undefined && !element(metal))
    throw new UsageError(`--metal wants a symbol, as Au; "${metal}" is none.`);
  return metal;
};

export const numberOption = (
  values: ReadonlyMap<string, string>,
  name: string,
  low: number,
  high: number,
): number | undefined => {
  const text = values.get(name);
  if (text === undefined) return undefined;
  const number = /^[0-9]+(\.[0-9]+)?$/.test(text) ? Number(text) : Number.NaN;
  if (!(number >= low && number <= high))
    throw new UsageError(`--${name} wants a number from ${low} to ${high}; "${text}" is none.`);
  return number;
};

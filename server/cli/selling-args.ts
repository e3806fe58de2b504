/** What `fineweight settle` and `fineweight routes` ask for. */
import { oneOf, parsed, UsageError } from './options';

export interface SettleCommand {
  readonly command: 'settle';
  /** A shipment, a lot, or a party. */
  readonly name: string;
  readonly paths: readonly string[];
  readonly format: 'text' | 'json' | 'csv';
}

export interface RoutesCommand {
  readonly command: 'routes';
  readonly lot: string;
  readonly paths: readonly string[];
  readonly format: 'text' | 'json' | 'csv';
}

const OPTIONS = { format: { type: 'string' } } as const;
const FORMATS = ['text', 'json', 'csv'] as const;

/** A name, then paths. */
const read = (args: readonly string[], wants: string) => {
  const { values, positionals } = parsed(args, OPTIONS);
  const [name, ...paths] = positionals;
  if (name === undefined) throw new UsageError(wants);
  const format = oneOf('--format', values.get('format') ?? 'text', FORMATS);
  return { name, paths: paths.length > 0 ? paths : ['.'], format };
};

export const readSettle = (args: readonly string[]): SettleCommand => ({
  command: 'settle',
  ...read(args, '`fineweight settle` wants a shipment, a lot or a party: `fineweight settle NAME [PATH…]`.'),
});

export const readRoutes = (args: readonly string[]): RoutesCommand => {
  const { name, ...rest } = read(args, '`fineweight routes` wants a lot: `fineweight routes LOT [PATH…]`.');
  return { command: 'routes', lot: name, ...rest };
};

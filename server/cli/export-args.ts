/** What `fineweight export` asks for. */
import { parsed, UsageError } from './options';

export interface ExportCommand {
  readonly command: 'export';
  readonly folder: string;
  readonly paths: readonly string[];
  readonly shop: string | undefined;
}

/** Throws a UsageError. */
export const readExport = (args: readonly string[]): ExportCommand => {
  const { values, positionals } = parsed(args, { shop: { type: 'string' } });
  const [folder, ...paths] = positionals;
  if (folder === undefined)
    throw new UsageError('`fineweight export` wants a new folder: `fineweight export DIR [PATH…]`.');
  return { command: 'export', folder, paths: paths.length > 0 ? paths : ['.'], shop: values.get('shop') };
};

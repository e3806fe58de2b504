/**
 * Which files speak of a name: kept from version to version, so that neither the few names of an edit nor the many of a page that is read are
 * asked of every page.
 */
import type { JournalPage } from '../journal/page';
import { ShardedMap } from './sharded';

/** Of most names there is one file: it stands for itself, without a list around it. */
type Files = string | readonly string[];

export interface Mentions {
  /** By lot. */
  readonly lots: ShardedMap<Files>;
  /** By the name of a step. */
  readonly steps: ShardedMap<Files>;
}

export const NO_MENTIONS: Mentions = { lots: ShardedMap.empty(), steps: ShardedMap.empty() };

interface PageChange {
  readonly before: JournalPage | undefined;
  readonly after: JournalPage | undefined;
}

export const mentionsAfter = ({ lots, steps }: Mentions, changes: readonly PageChange[]): Mentions => ({
  lots: changed(lots, changes, ({ byLot }) => byLot),
  steps: changed(steps, changes, ({ byStep }) => byStep),
});

export const filesIn = (files: Files | undefined): readonly string[] =>
  files === undefined ? NONE : typeof files === 'string' ? [files] : files;

const NONE: readonly string[] = [];

const changed = (
  index: ShardedMap<Files>,
  changes: readonly PageChange[],
  namesOn: (page: JournalPage) => ReadonlyMap<string, unknown>,
): ShardedMap<Files> => {
  const now = new Map<string, Files | undefined>();
  const filesOf = (name: string): readonly string[] => filesIn(now.has(name) ? now.get(name) : index.get(name));
  for (const { before, after } of changes) {
    const [was, is] = [before && namesOn(before), after && namesOn(after)];
    if (was) for (const name of was.keys()) if (!is?.has(name)) now.set(name, without(filesOf(name), before!.file));
    if (is) for (const name of is.keys()) if (!was?.has(name)) now.set(name, withFile(filesOf(name), after!.file));
  }
  return index.with(now);
};

const without = (files: readonly string[], file: string): Files | undefined => {
  const rest = files.filter((one) => one !== file);
  return rest.length > 1 ? rest : rest[0];
};

const withFile = (files: readonly string[], file: string): Files =>
  files.length === 0 ? file : files.includes(file) ? files : [...files, file];

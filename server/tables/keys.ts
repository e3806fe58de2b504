/** Names for entries and lines that stay the same while other entries come and go: page, day, what is done, and a number where that repeats. */
import type { Entry, Flow } from '../engine/entry';
import type { Workspace } from '../workspace/workspace';

export interface Keys {
  readonly ofPage: (file: string) => string;
  /** `2026-05.melt/2026-05-05/melt M57`. */
  readonly ofEntry: (entry: Entry) => string;
  /** The entry in which a place stands; none outside of entries. */
  readonly ofAnchor: (anchor: object) => string | undefined;
}

export const keysOf = ({ root, pages }: Workspace): Keys => {
  const ofPage = (file: string): string => (file.startsWith(`${root}/`) ? file.slice(root.length + 1) : file);
  const keys = new Map<object, string>();
  const counter = counting();
  for (const { file, entries } of pages.values()) {
    for (const { anchor, date, prefix, verb, name } of entries) {
      const words = [prefix, verb, name?.name].filter((word) => word !== undefined && word !== '').join(' ');
      keys.set(anchor, counter(`${ofPage(file)}/${date ?? 'no day'}/${words}`));
    }
  }
  const ofAnchor = (anchor: object): string | undefined => keys.get(anchor);
  return { ofPage, ofEntry: ({ anchor }) => ofAnchor(anchor) ?? '', ofAnchor };
};

/** The second of a name is told apart by its number, and so on. */
export const counting = (): ((name: string) => string) => {
  const counts = new Map<string, number>();
  return (name) => {
    const count = (counts.get(name) ?? 0) + 1;
    counts.set(name, count);
    return count === 1 ? name : `${name}/${count}`;
  };
};

/** `in TE-31n`, `add borax-glass`, `out slag`. */
export const flowName = ({ word, lot, material, kind }: Flow): string =>
  [word, lot?.name ?? material?.name ?? kind].filter((one) => one !== undefined).join(' ');

/** Gaps in the numbers that steps are named by: a heat that nobody wrote down, or a page that is gone. */
import type { Entry } from '../engine/entry';
import { verb } from '../vocabulary/verbs';
import type { Workspace } from '../workspace/workspace';

export interface Gap {
  readonly verb: string;
  /** The names that are missing, `M58`; of many the first and the last. */
  readonly missing: readonly string[];
  readonly count: number;
  /** Between these two. */
  readonly before: Entry;
  readonly after: Entry;
}

/** Wider than that it is another series that begins, not a gap. */
const WIDEST = 20;
/** So many names make a series. */
const LEAST = 3;

/** Steps of one verb whose names are letters and a number, by number. */
export const gapsIn = ({ pages }: Workspace): readonly Gap[] => {
  const series = new Map<string, Map<number, Entry>>();
  const taken = new Set<string>();
  for (const { entries } of pages.values()) {
    for (const entry of entries) {
      const { name, verb: word, broken } = entry;
      if (!name || broken || verb(word)?.names !== 'step') continue;
      taken.add(name.name);
      const [, letters, digits = ''] = /^(\p{L}[\p{L}-]*)(\d{1,6})$/u.exec(name.name) ?? [];
      if (letters === undefined) continue;
      const key = `${word} ${letters}`;
      const numbers = series.get(key) ?? new Map<number, Entry>();
      series.set(key, numbers);
      if (!numbers.has(Number(digits))) numbers.set(Number(digits), entry);
    }
  }
  return [...series].sort(([a], [b]) => (a < b ? -1 : 1)).flatMap(([key, numbers]) => gapsOf(key, numbers, taken));
};

const gapsOf = (key: string, numbers: ReadonlyMap<number, Entry>, taken: ReadonlySet<string>): readonly Gap[] => {
  if (numbers.size < LEAST) return [];
  const [word = '', letters = ''] = key.split(' ');
  const sorted = [...numbers.keys()].sort((a, b) => a - b);
  return sorted.slice(1).flatMap((number, at) => {
    const before = sorted[at]!;
    if (number - before < 2 || number - before > WIDEST) return [];
    const all = Array.from({ length: number - before - 1 }, (_, step) => `${letters}${before + 1 + step}`);
    // The same series may be shared by several verbs.
    const missing = all.filter((name) => !taken.has(name));
    if (missing.length === 0) return [];
    const shown = missing.length > 2 ? [missing[0]!, missing.at(-1)!] : missing;
    return [
      { verb: word, missing: shown, count: missing.length, before: numbers.get(before)!, after: numbers.get(number)! },
    ];
  });
};

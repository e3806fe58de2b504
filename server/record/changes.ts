/** What sealed lines were and what stands in their place, in words. */
import { compareLists } from './lists';

/** The first line of an entry, as it was; of a day its text. */
export const headOf = (lines: readonly string[] | undefined): string | undefined => {
  const [head] = lines ?? [];
  return head === undefined ? undefined : head.startsWith(' ') ? `the text "${head.trim()}"` : `\`${written(head)}\``;
};

/** A canonical line as a hand writes it. */
export const written = (line: string): string => line.trim().replaceAll(' ,', ',').replaceAll('± ', '±');

const MOST_NAMED = 3;

/** The first few of them. */
export const named = (all: readonly string[]): string | undefined => {
  if (all.length === 0) return undefined;
  const more = all.length - MOST_NAMED;
  return `${all.slice(0, MOST_NAMED).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
};

/** Line by line, what came in the place of what. */
export const lineChanges = (was: readonly string[], now: readonly string[]): string | undefined =>
  named(
    compareLists(was, now).flatMap(({ was: old, now: is }) => {
      if (old === undefined) return is ? [`\`${written(is.value)}\` is new`] : [];
      return [is ? `\`${written(is.value)}\` was \`${written(old)}\`` : `\`${written(old)}\` is gone`];
    }),
  );

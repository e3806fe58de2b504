/** What is sealed is corrected, not changed. */
import type { Workspace } from '../workspace/workspace';

/** The last day that a seal of the record reaches to. */
export const lastSeal = ({ pages }: Workspace): string | undefined =>
  [...pages.values()]
    .flatMap(({ entries }) =>
      entries.flatMap(({ verb, ofDate, broken }) => (verb === 'seal' && ofDate && !broken ? [ofDate] : [])),
    )
    .sort()
    .at(-1);

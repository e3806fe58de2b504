/** Two hands who sealed apart: what one seal does not know, another one that stands does. */
import { markOf } from './canonical';
import type { SealEntry, Sealed } from './periods';
import { saidBy } from './seal';

/** Another seal that closes an entry under its day. */
export const otherSealOf = (
  { section, date }: Sealed,
  own: SealEntry,
  seals: readonly SealEntry[],
): SealEntry | undefined =>
  seals.find((seal) => seal !== own && saidBy(seal.section).marks.get(date)?.includes(markOf(section)) === true);

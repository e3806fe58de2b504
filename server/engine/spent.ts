/** Whether an assay used up the whole of a sample: nobody says so, for it is what a fire assay does. */
import type { LotEvent } from './book';
import type { Entry } from './entry';

/** They burn or dissolve what they take; the others look at it. */
const DESTROYING: ReadonlySet<string> = new Set(['fire', 'icp', 'titration']);

/**
 * A sample that a laboratory has assayed, or whose own bead was weighed, without a word of how much was taken. One that somebody else has than who
 * assayed it stays with them. `later` are the entries after it that speak of the sample: what they take, bring back or find was left.
 */
export const isUsedUp = (birth: LotEvent | undefined, assay: Entry, lot: string, later: readonly Entry[]): boolean => {
  if (birth?.entry.verb !== 'sample' || !DESTROYING.has(assay.method?.name ?? '')) return false;
  const said = (...words: readonly string[]): boolean => assay.others.some(({ word }) => words.includes(word));
  const holder = (birth.flow?.said.to ?? birth.entry.said.to)?.name;
  const isThere = holder === undefined || holder === assay.party?.name;
  return (
    isThere &&
    !said('took') &&
    (assay.party !== undefined || said('bead', 'cornet')) &&
    !later.some((entry) => handles(entry, lot))
  );
};

const handles = ({ verb, name, flows }: Entry, lot: string): boolean =>
  flows.some((flow) => flow.lot?.name === lot) || (name?.name === lot && verb !== 'assay');

/** Two assays of the same metal farther apart than their errors allow. */
import { assayed } from '../engine/accounts/assays';
import { type Inexact, spread } from '../engine/accounts/inexact';
import type { Known } from '../engine/accounts/known';
import { type Against, againstEachOther, seriesOf } from '../engine/accounts/pooled';
import type { Segment } from '../engine/accounts/segments';
import type { Entry } from '../engine/entry';
import { shareWords } from '../reports/fine';
import { stepWords, timesWords } from '../reports/words';
import { byMethod } from './fine-words';
import { type MetalSubject, rule } from './rule';

export const assaysDisagree = rule({
  code: 'assays-disagree',
  severity: 'warning',
  atOnce: false,
  title: 'assays that disagree',
  why: 'Two determinations of one lot differ by more than their errors allow. A skin that is richer than the core, a sample from one corner, lead left in the bead, or a figure of another lot is likelier than chance. Their mean is no answer: assay once more, and say which one holds with `umpire`.',
  wrong: '2026-05-04\nreceive A 50.00 g\nassay A by fire at north-lab\n  Au 81.30 ±0.05 %\nassay A by xrf\n  Au 84.0 %',
  right: '2026-05-04\nreceive A 50.00 g\nassay A by fire at north-lab\n  Au 81.30 ±0.05 %\nassay A by xrf\n  Au 81.9 %',
  source: 'JCGM 100 (GUM) 5.1.2 for the difference, k = 2; errors of methods as the reference says',
  metal: function* (subject) {
    const { entry } = subject;
    if (entry.verb !== 'assay' || !entry.name || entry.said.umpire) return;
    const { coverage } = subject.look.workshop.limits;
    const apart = farthestApart(subject, coverage);
    if (apart) {
      const { metal, here, there, other, times } = apart;
      const swapped = swappedIn(entry, other, coverage);
      if (swapped) {
        yield {
          place: entry.name.place,
          says: `Au and Ag look swapped: ${swapped.here} here, ${swapped.there} in ${stepWords(other)}${byMethod(other)}. Exchange them in the one that is wrong.`,
          related: [{ place: other.name?.place ?? other.head, says: swapped.there }],
        };
        return;
      }
      yield {
        place: entry.name.place,
        says: `${metal} ${shareOf(here)} ${hereWords(apart)} and ${shareOf(there)} in ${thereWords(apart)}: ${timesWords(times / coverage)} what their errors allow. Assay it once more.`,
        related: [{ place: other.name?.place ?? other.head, says: `${metal} ${shareOf(assayed(other).get(metal)!)}` }],
      };
    }
  },
});

/** Among assays of the same lot, its samples' among them; none where an umpire has decided. */
const farthestApart = ({ entry, accounts }: MetalSubject, coverage: number): Against | undefined => {
  const { metals } = accounts;
  const here = metals.lineage.segmentAt(entry.name!.name, entry);
  const all = here ? metals.assays(parentOf(here, metals.lineage)) : [];
  if (all.some(({ said }) => said.umpire)) return undefined;
  return againstEachOther(all)
    .filter((one) => one.entry === entry && one.times > coverage)
    .reduce<Against | undefined>((so, one) => (so && so.times >= one.times ? so : one), undefined);
};

const shareOf = ({ share, ground }: Known): string => shareWords(share!, ground);

/** Several entries of one way speak as one. */
const hereWords = ({ here: { by }, entry }: Against): string =>
  by.length === 1 ? 'here' : `in ${by.length} assays${byMethod(entry)}`;

const thereWords = ({ here, there: { by }, other }: Against): string =>
  by.length === 1
    ? `${stepWords(other)}${byMethod(other)}`
    : `${by.length} ${here.by.length === 1 && isOneWay(here, other) ? 'other ' : ''}assays${byMethod(other)}`;

const isOneWay = ({ by }: Known, other: Entry): boolean => seriesOf([...by, other]).length === 1;

/** A sample speaks for its lot. */
const parentOf = (segment: Segment, { origin }: MetalSubject['accounts']['metals']['lineage']): Segment =>
  (segment.start.entry.verb === 'sample' ? origin(segment).was : undefined) ?? segment;

/** Gold of one is silver of the other, and the other way round, as far as their errors tell. */
const swappedIn = (here: Entry, there: Entry, coverage: number) => {
  const [goldHere, silverHere] = goldAndSilver(here);
  const [goldThere, silverThere] = goldAndSilver(there);
  if (!goldHere || !silverHere || !goldThere || !silverThere) return undefined;
  const agree = (a: Inexact, b: Inexact): boolean =>
    Math.abs(a.value - b.value) <= coverage * Math.hypot(spread(a), spread(b));
  if (!agree(goldHere, silverThere) || !agree(silverHere, goldThere) || agree(goldHere, goldThere)) return undefined;
  const words = (gold: Inexact, silver: Inexact): string =>
    `Au ${shareWords(gold, 'assayed')} and Ag ${shareWords(silver, 'assayed')}`;
  return { here: words(goldHere, silverHere), there: words(goldThere, silverThere) };
};

const goldAndSilver = (entry: Entry): readonly [Inexact | undefined, Inexact | undefined] => {
  const shareIn = (metal: string): Inexact | undefined => {
    const one = assayed(entry).get(metal);
    return one?.ground === 'guessed' ? undefined : one?.share;
  };
  return [shareIn('Au'), shareIn('Ag')];
};

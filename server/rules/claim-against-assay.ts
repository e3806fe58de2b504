/** An assay far from what a stamp, a claim or an expectation said. */

import { assayed } from '../engine/accounts/assays';
import { declared } from '../engine/accounts/declared';
import { spread } from '../engine/accounts/inexact';
import { shareWords } from '../reports/fine';
import { stepWords } from '../reports/words';
import { rule } from './rule';

/** Beyond so many standard uncertainties of both: a claim is a loose thing. */
const FAR = 3;

export const claimAgainstAssay = rule({
  code: 'claim-against-assay',
  severity: 'hint',
  atOnce: false,
  title: 'an assay far from the claim',
  why: 'A lot that holds much more or less than its stamp or its owner said may be another lot, a plated piece, or an assay of the wrong sample. Look at the metal again before it goes into a melt; afterwards nothing tells them apart.',
  wrong: '2026-05-04\nreceive A 20.00 g\n  stamp Au 14 k\nassay A by fire\n  Au 91.6 %',
  right: '2026-05-04\nreceive A 20.00 g\n  stamp Au 14 k\nassay A by fire\n  Au 56.9 %',
  source:
    'lots melt about two points under their stamp, standard uncertainty one point: refiners on a public forum, and an estimate',
  metal: function* ({ entry, accounts, look }) {
    if (entry.verb !== 'assay' || !entry.name) return;
    const segment = accounts.metals.lineage.segmentAt(entry.name.name, entry);
    if (segment?.start.kind !== 'received') return;
    const declaration = declared(segment.start.entry, look.workshop);
    const word = segment.start.entry.others.find(({ word: of, reading }) => reading && WORDS.has(of))?.word;
    for (const [metal, one] of assayed(entry)) {
      const other = declaration.get(metal);
      if (!word || !other?.share || other.ground !== 'guessed') continue;
      const { share: said } = other;
      // Of a density only bounds are known: what lies between them contradicts nothing.
      const nearest = one.share?.value ?? Math.min(one.high, Math.max(one.low, said.value));
      const u = one.share ? spread(one.share) : 0;
      if (Math.abs(nearest - said.value) <= FAR * Math.hypot(u, spread(said))) continue;
      const found = one.share ? shareWords(one.share, one.ground) : `${percent(one.low)} to ${percent(one.high)} %`;
      yield {
        place: entry.name.place,
        says: `${metal} ${found}, far from the ${word} in ${stepWords(segment.start.entry)}. Is it the same lot, and the whole of it?`,
        related: [{ place: segment.start.place, says: `the ${word} stands here` }],
      };
      return;
    }
  },
});

const percent = (share: number): string => (100 * share).toFixed(1);

const WORDS: ReadonlySet<string> = new Set(['stamp', 'claim', 'expect']);

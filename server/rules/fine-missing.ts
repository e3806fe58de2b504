/** Less of a metal out of a step than went in, beyond what it usually loses, by assays and weights. */

import { metalWords, stepWords } from '../reports/words';
import { wrongsOf } from './bench';
import {
  assayPlaces,
  assaysBehind,
  type Exchange,
  exchangeIn,
  gramsWords,
  shortfallIn,
  spreadGrams,
  tellingBalances,
} from './fine-words';
import { type MetalSubject, rule } from './rule';
import { metalPlace } from './steps';

export const fineMissing = rule({
  code: 'fine-missing',
  severity: 'warning',
  atOnce: false,
  title: 'fine metal missing',
  why: 'The weights may close and the metal still be short: base metal burnt off weighs nothing of gold, but a wrong assay, a sample that was not like its metal, or metal left in slag, cupel or crucible does. The figure is beyond what assays, weights and the usual loss of the step explain.',
  wrong:
    '2026-05-04\nreceive A 100.00 g\nassay A by fire\n  Au 90.00 ±0.05 %\ncast T1\n  in A 100.00 g\n  out B 99.90 g bar\nassay B by fire\n  Au 88.50 ±0.05 %',
  right:
    '2026-05-04\nreceive A 100.00 g\nassay A by fire\n  Au 90.00 ±0.05 %\ncast T1\n  in A 100.00 g\n  out B 99.90 g bar\nassay B by fire\n  Au 89.95 ±0.05 %',
  source:
    'JCGM 100 (GUM) 5.1.2 for the difference, beyond k = 3; ILAC-G8 for the guard band; usual losses: common practice, no source',
  metal: function* (subject) {
    const { step, entry } = subject.account;
    const short = shortfallIn(subject);
    if (short && isLeftInSolution(subject, short.metal)) return;
    if (short) {
      yield {
        place: metalPlace(step!) ?? entry.name?.place ?? entry.head,
        says: `${spreadGrams(short.in)} of ${metalWords(short.metal)} went into ${stepWords(entry)}, and what came out weighs only ${gramsWords(short.products)}. ${lookWords(entry.verb)}`,
        related: assayPlaces(short.by),
      };
      return;
    }
    const balances = tellingBalances(subject);
    const exchange = exchangeIn(balances, subject.look.workshop.limits.coverage);
    if (exchange) {
      yield {
        place: metalPlace(step!) ?? entry.name?.place ?? entry.head,
        says: exchangeWords(exchange, stepWords(entry)),
        related: assaysBehind(exchange.missing),
      };
    }
    for (const balance of balances) {
      if (balance === exchange?.missing) continue;
      if (balance.verdict !== 'missing' || isLeftInSolution(subject, balance.metal)) continue;
      const metal = metalWords(balance.metal);
      yield {
        place: metalPlace(step!) ?? entry.name?.place ?? entry.head,
        says: `${gramsWords(balance.unaccounted)} of ${metal} is missing in ${stepWords(entry)}: ${spreadGrams(balance.in)} went in, ${spreadGrams(balance.out)} came out. ${lookWords(entry.verb)}`,
        related: assaysBehind(balance),
      };
    }
  },
});

/** Copper or salt that cannot bring all of the silver down is the cause, and told of itself. */
const isLeftInSolution = ({ workspace, entry }: MetalSubject, metal: string): boolean =>
  metal !== 'Au' && wrongsOf(workspace, entry).some(({ code }) => code === 'precipitant-short');

const exchangeWords = ({ missing, gained, swapped }: Exchange, step: string): string => {
  const [less, more] = [metalWords(missing.metal), metalWords(gained.metal)];
  const both = `${gramsWords(missing.unaccounted)} of ${less} is missing in ${step}, and as much ${more} is too much`;
  return swapped
    ? `${both}: Au and Ag look swapped in one of the assays. See which lot it is that holds more ${less}.`
    : `${both}: one of the assays looks wrong, or of another lot. Assay again.`;
};

/** Where metal can hide in a step of this kind. */
const PLACES: ReadonlyMap<string, string> = new Map([
  ['melt', 'slag and crucible'],
  ['cast', 'slag and crucible'],
  ['cupel', 'the cupel'],
  ['part', 'the solution'],
  ['drop', 'the solution'],
]);

const lookWords = (verb: string): string => {
  const where = PLACES.get(verb);
  return where ? `Look in ${where}, and assay again.` : 'Weigh and assay again.';
};

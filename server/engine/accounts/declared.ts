/** What is said of a lot as it comes in, before anybody has assayed it: all of it guesses. */
import type { Entry, Flow } from '../entry';
import { findMaterial } from '../shelf';
import { targetOf } from '../target';
import type { Workshop } from '../workshop';
import { between, shareOf } from './assays';
import { FOLLOWED } from './destiny';
import { inexact } from './inexact';
import { absent, type Knowledge, type Known, known, NOTHING_KNOWN } from './known';

/**
 * A karat stamp on scrap: lots melt about two percentage points under it, standard uncertainty one point (the mean by refiners on a public
 * forum, the spread an estimate).
 */
export const UNDER_STAMP = 0.02;
export const UNDER_STAMP_SOURCE = 'mean by refiners on a public forum; the spread an estimate';
const STAMP_ERROR = 0.01;
/** Of another's word, and of our own expectation, where no range is given: common practice, no source. */
const WORD_ERROR = 0.05;
/** Fine metal of the trade is 999 or 999.9: a thousandth, give or take. */
const LEAST_ERROR = 0.0005;

/** `stamp` before `claim` before `expect` before the material's own composition. */
export const declared = (entry: Entry, workshop: Workshop): Knowledge => {
  if (entry.verb !== 'receive') return NOTHING_KNOWN;
  const knowledge = new Map<string, Known>(ofMaterial(entry, workshop));
  for (const word of ['expect', 'claim', 'stamp'] as const) {
    for (const other of entry.others) {
      if (other.word !== word || !other.reading) continue;
      for (const { symbol, amount } of other.reading.metals) {
        const [first] = shareOf(amount);
        if (first && first.value <= 1) knowledge.set(symbol.name, said(word, entry, first));
      }
    }
  }
  return knowledge;
};

/** What a product is to hold: a guess, until it is known what went in or it is assayed. */
export const intended = (entry: Entry, product: Flow): Knowledge => {
  const reading = targetOf(entry, product)?.reading;
  if (!reading) return NOTHING_KNOWN;
  return new Map(
    reading.metals.flatMap(({ symbol, amount }): [string, Known][] => {
      const [first] = shareOf(amount);
      return first && first.value <= 1 ? [[symbol.name, said('expect', entry, first)]] : [];
    }),
  );
};

const said = (
  word: 'expect' | 'claim' | 'stamp',
  entry: Entry,
  { value, u, stated }: { readonly value: number; readonly u: number; readonly stated: boolean },
): Known => {
  const source = { label: word };
  if (word === 'stamp')
    return known(inexact(Math.max(0, value - UNDER_STAMP), STAMP_ERROR, source), 'guessed', [entry]);
  return known(inexact(value, stated ? u : Math.hypot(u, WORD_ERROR * value), source), 'guessed', [entry]);
};

/** Metals that a material holds as such, not in a compound. Metal that is bought by its name, such as sterling, holds no gold beside. */
const ofMaterial = (entry: Entry, workshop: Workshop): Knowledge => {
  const name = entry.others.find(({ word }) => word === 'material')?.names[0]?.name;
  const material = name === undefined ? undefined : findMaterial(workshop, name);
  if (!material) return NOTHING_KNOWN;
  const isNamed = material.group === 'metal' && isWhole(material.composition.map(({ fraction }) => fraction));
  const ground = isNamed ? 'carried' : 'guessed';
  const told = new Map<string, Known>(isNamed ? ['Au', 'Ag'].map((metal) => [metal, absent(ground, [entry])]) : []);
  for (const { what, fraction, low, high } of material.composition) {
    if (!FOLLOWED.has(what)) continue;
    const u = Math.max(LEAST_ERROR, isNamed ? 0 : WORD_ERROR * (1 - fraction));
    const share =
      low === undefined || high === undefined
        ? inexact(fraction, u, { label: what })
        : { ...between(low, high, what), value: fraction };
    told.set(what, known(share, ground, [entry]));
  }
  return told;
};

const isWhole = (fractions: readonly number[]): boolean =>
  Math.abs(fractions.reduce((so, one) => so + one, 0) - 1) < 0.005;

/** Samples: what was taken, what metal it held, and whether larger ones would serve better. */
import { assayed } from '../engine/accounts/assays';
import { fromMeasured } from '../engine/accounts/inexact';
import { segmentsOf } from '../engine/accounts/segments';
import { fineOf } from '../engine/accounts/stock';
import type { LotStory } from '../engine/book';
import type { Entry } from '../engine/entry';
import { duplicateDeviation, samplingDeviation } from '../engine/statistics/sampling';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { whoseAssay } from './assay-rows';
import { goldAndSilver, mass } from './cells';
import { type Choice, isWithin } from './choice';
import {
  type Column,
  NOTHING,
  type Row,
  type Section,
  type Sentence,
  says,
  section,
  sentences,
  table,
  words,
} from './model';
import { fewWords } from './trading/few';
import { worth } from './worth';

interface Sample {
  readonly lot: string;
  readonly of: string;
  readonly entry: Entry;
  readonly story: LotStory;
}

/** Each under the name that it was taken by. */
const samplesIn = ({ book }: Workspace, choice: Choice): readonly Sample[] =>
  [...book.lotNames()]
    .flatMap((lot): readonly Sample[] => {
      const story = book.lot(lot)!;
      const [birth] = story.births;
      const of = birth?.entry.name?.name;
      if (birth?.entry.verb !== 'sample' || of === undefined || of === lot) return [];
      const isOne = isWithin(choice, birth.entry.date) && (choice.lot === undefined || of === choice.lot);
      return isOne ? [{ lot, of, entry: birth.entry, story }] : [];
    })
    .sort((a, b) =>
      (a.entry.date ?? '') < (b.entry.date ?? '') ? -1 : (a.entry.date ?? '') > (b.entry.date ?? '') ? 1 : 0,
    );

const COLUMNS: readonly Column[] = [
  { head: 'sample' },
  { head: 'of' },
  { head: 'day' },
  { head: 'with' },
  { head: 'taken', right: true },
  { head: 'gold in it', right: true },
  { head: 'silver in it', right: true },
  { head: 'worth in full', right: true },
];

export const samplesSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const all = samplesIn(workspace, choice);
  return section(
    'What samples took',
    table(
      COLUMNS,
      all.map((one) => rowOf(workspace, one)),
    ),
    sentences(all.length === 0 ? [] : [...scatterWords(all), says('What comes back of a sample is not lost.')]),
  );
};

const rowOf = (workspace: Workspace, { lot, of, entry, story }: Sample): Row => {
  const [birth] = story.births;
  const taken = birth?.weight.mass;
  const segment = segmentsOf(story).all[0];
  const fine = taken && segment ? fineOf(accountsOf(workspace).metals.best(segment), fromMeasured(taken)) : [];
  return {
    cells: [
      words(lot),
      words(of),
      words(entry.date),
      words(birth?.flow?.said.to?.name ?? 'here'),
      taken ? mass(taken) : NOTHING,
      ...goldAndSilver(fine),
      worth(workspace, entry.date ?? '', fine),
    ],
    place: birth?.place ?? entry.head,
  };
};

type Pair = readonly [number, number];

/** Gold that one assayer found in each sample of a lot, in shares of their mean: as pairs, none of them used twice. */
const pairsOf = (all: readonly Sample[]): { readonly apart: readonly Pair[]; readonly again: readonly Pair[] } => {
  const lots = new Map<string, number[][]>();
  for (const { of, entry, story } of all) {
    const found = new Map<string, number[]>();
    for (const { kind, entry: assay } of story.events) {
      const share = kind === 'assayed' ? assayed(assay).get('Au')?.share?.value : undefined;
      if (share === undefined) continue;
      const key = `${whoseAssay(assay)} ${assay.method?.name ?? ''}`;
      found.set(key, [...(found.get(key) ?? []), share]);
    }
    for (const [key, shares] of found) {
      const lot = `${of} ${entry.date ?? ''} ${key}`;
      lots.set(lot, [...(lots.get(lot) ?? []), shares]);
    }
  }
  const samples = [...lots.values()];
  const mean = (shares: readonly number[]): number => shares.reduce((a, b) => a + b, 0) / shares.length;
  return {
    apart: samples.flatMap((own) => paired(own.map(mean))),
    again: samples.flatMap((own) => own.flatMap(paired)),
  };
};

const paired = (values: readonly number[]): readonly Pair[] =>
  values.flatMap((first, at): readonly Pair[] => {
    const second = values[at + 1];
    const middle = (first + (second ?? 0)) / 2;
    return at % 2 === 0 && second !== undefined && middle > 0 ? [[first / middle, second / middle]] : [];
  });

/**
 * How far samples of one lot lie apart, and what a larger one would help. That the error of sampling goes with one over the root of the mass is
 * the fundamental sampling error of particles, from memory; a well stirred melt has less of it.
 */
const scatterWords = (all: readonly Sample[]): readonly Sentence[] => {
  const { apart, again } = pairsOf(all);
  if (apart.length === 0)
    return [
      says(
        'How large a sample must be shows by two of one lot, taken apart and assayed by the same hand: no such pair is written in this period.',
      ),
    ];
  const together = duplicateDeviation(apart);
  const alone = again.length > 0 ? duplicateDeviation(again) : undefined;
  const sampling = samplingDeviation(together, alone ?? 0);
  const pairs = (count: number): string => `${count} ${count === 1 ? 'pair' : 'pairs'}`;
  const thousandths = (of: number): string => `${showDigits(decimal(1000 * of), 2)} ‰`;
  return [
    says(
      `Two samples of one lot scatter by ${thousandths(together)} of the gold in them (√(Σ d²/2n), ${pairs(apart.length)}), ${
        alone === undefined
          ? 'the assay with it: no sample was assayed twice'
          : `the assay alone by ${thousandths(alone)} (${pairs(again.length)}), so the sampling by ${thousandths(sampling)}`
      }.`,
    ),
    ...(sampling > 0
      ? [
          says(
            `Of grains and filings a sample four times as heavy would halve what is of the sampling (1/√m, from memory) and take four times the metal; of a stirred melt a larger one helps little.`,
          ),
        ]
      : [says('Larger samples would not help: the assay explains all of it.')]),
    ...fewWords(apart.length, 'pair'),
  ];
};

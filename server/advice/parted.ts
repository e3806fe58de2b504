/** What comes out of a parting: gold, silver in solution, and what brings that back. */
import type { AcidWanted } from '../engine/bench/acid';
import { type Answer, BERINGER, type Estimate, exactly, type Result } from '../engine/bench/result';
import { mostLeftByAcid, parted, silverBack } from '../engine/bench/wet';
import type { AcidWritten, Bottle } from './acid-of';
import type { Advice, Working, Writing } from './advice';
import { baseOf } from './base';
import { isBoiledAgain } from './inquart';
import type { Contents, Job } from './job';
import { COPPER_PER_SILVER, SALT_PER_SILVER } from './silver-back';
import { estimateWords, guessWords, rangeWords, termWords } from './words';

/** A parting whose silver is known. */
export interface Case {
  readonly job: Job;
  readonly charged: Contents;
  readonly metals: ReadonlyMap<string, Estimate>;
  readonly written: AcidWritten;
  readonly bottle: Bottle;
  readonly wanted: Answer<AcidWanted>;
}

const PRODUCTS = 'parted';

/** What comes out, once acid and water have their amounts. */
export const productAdvice = ({ job, charged, metals, written, wanted }: Case): readonly Advice[] => {
  if (written.lines.length === 0 || written.millilitres === undefined) return [];
  const outs = job.entry.flows.filter(({ word, none }) => word === 'out' && !none);
  const gold = charged.metals.get('Au');
  const of = isBoiledAgain(job) ? boiledAgain : partedWithin;
  const products =
    gold && job.entry.verb === 'part' ? withPlatinum(of(gold, metals.get('Ag')!), baseOf(charged).platinum) : undefined;
  const writes: Writing[] = [];
  const put = (kinds: readonly (string | undefined)[], words: string, amount: string, range: string): void => {
    const line = outs.find(({ kind }) => kinds.includes(kind));
    if (line?.amount?.figure) return;
    writes.push(line ? { flow: line, amount, range } : { part: 'out', line: `out ${amount} ${words}`, range });
  };
  if (products?.value) {
    const { goldGrams } = products.value;
    const what = products.value.platinumGrams ? 'sponge' : 'gold';
    put(GOLD_KINDS, 'sponge annealed', guessWords(goldGrams, 'g'), `${what} ${rangeWords(goldGrams, 'g')}`);
  }
  const isNameless = job.entry.verb === 'dissolve' && outs.some(({ kind }) => kind === undefined);
  const volume = exactly(written.millilitres);
  if (!isNameless)
    put(['solution'], 'solution', guessWords(volume, 'mL'), `solution ${guessWords(volume, 'mL')} and wash water`);
  const dissolved = products?.value?.silverDissolvedGrams ?? metals.get('Ag')!;
  const sponge = outs.find(({ kind }) => GOLD_KINDS.includes(kind));
  const at = sponge?.place ?? job.entry.head;
  const working = (): Working => productWorking(products, dissolved, volume, wanted);
  const label =
    products?.value && writes.length === 0 ? `gold expected ${rangeWords(products.value.goldGrams, 'g')}` : undefined;
  return [
    { topic: PRODUCTS, at, rank: writes.length > 0 ? 'result' : 'extra', working, writes, ...(label ? { label } : {}) },
  ];
};

const GOLD_KINDS: readonly (string | undefined)[] = ['sponge', 'cornet', 'residue', undefined];

interface PartedWithin {
  /** With what stays in it, and as much of the platinum metals as may. */
  readonly goldGrams: Estimate;
  readonly platinumGrams?: Estimate;
  readonly silverDissolvedGrams: Estimate;
}

/** How much of the platinum metals the silver takes along nobody can tell: from none to all of them stays with the gold. */
const withPlatinum = (found: Result<PartedWithin>, platinum: Estimate): Result<PartedWithin> => {
  if (found.value === undefined || !(platinum.high > 0)) return found;
  const { goldGrams: gold } = found.value;
  return {
    value: {
      ...found.value,
      goldGrams: { low: gold.low, best: gold.best + platinum.best / 2, high: gold.high + platinum.high },
      platinumGrams: platinum,
    },
    assumed: [
      ...found.assumed,
      {
        says: 'platinum metals go partly with the silver: from none to all of them stay with the gold',
        source: BERINGER,
      },
    ],
  };
};

/** What a second acid leaves of parted gold: all that one can have left at the most. */
const boiledAgain = (gold: Estimate, silver: Estimate): Result<PartedWithin> => ({
  value: {
    goldGrams: { low: gold.low, best: gold.best, high: Math.min(mostLeftByAcid(gold.high), gold.high + silver.high) },
    silverDissolvedGrams: { ...silver, low: 0 },
  },
  assumed: [{ says: 'a second acid takes most of what the first left, and next to no gold', source: BERINGER }],
});

/** From the least after two acids to the most after one. */
const partedWithin = (gold: Estimate, silver: Estimate): Result<PartedWithin> => {
  const two = parted(gold.best, silver.best, 2);
  const least = parted(gold.low, Math.max(silver.low, 2 * gold.low), 2);
  const most = parted(gold.high, Math.max(silver.high, 2 * gold.high), 1);
  if (two.value === undefined) return two;
  if (least.value === undefined) return least;
  if (most.value === undefined) return most;
  const goldGrams = {
    low: Math.min(two.value.goldGrams.low, least.value.goldGrams.low),
    best: two.value.goldGrams.best,
    high: Math.max(two.value.goldGrams.high, most.value.goldGrams.high),
  };
  const kept = most.value.silverKeptGrams.high;
  const silverDissolvedGrams = {
    low: Math.max(0, silver.low - kept),
    best: two.value.silverDissolvedGrams.best,
    high: Math.max(two.value.silverDissolvedGrams.best, silver.high - two.value.silverKeptGrams.low),
  };
  return { value: { goldGrams, silverDissolvedGrams }, assumed: two.assumed };
};

const productWorking = (
  products: Result<PartedWithin> | undefined,
  dissolved: Estimate,
  volume: Estimate,
  { assumed }: Answer<AcidWanted>,
): Working => {
  const back = silverBack(dissolved.best);
  const platinum = products?.value?.platinumGrams;
  const rows = products?.value
    ? [
        `gold, annealed    ${estimateWords(products.value.goldGrams, 'g')}${platinum ? `, with none to all of ${estimateWords(platinum, 'g')} of platinum metals` : ''}`,
      ]
    : [];
  rows.push(
    `silver dissolved  ${products && products.value === undefined ? 'at most ' : ''}${estimateWords(dissolved, 'g')}`,
    `solution          ${guessWords(volume, 'mL')} and wash water`,
  );
  if (back.value) {
    const by = (each: string): string => `${termWords(dissolved.best, '')} × ${each} × 1..1.2 = `;
    rows.push('to bring it back, one of');
    rows.push(`  salt            ${by(SALT_PER_SILVER)}${estimateWords(back.value.saltGrams, 'g')}`);
    rows.push(`  copper          ${by(COPPER_PER_SILVER)}${estimateWords(back.value.copperGrams, 'g')}`);
  }
  const gold = products?.value
    ? `${rangeWords(products.value.goldGrams, 'g')} of gold${platinum ? ' and platinum metals' : ''} stays, and `
    : '';
  const hardly = products && products.value === undefined;
  const solution = hardly
    ? `Of ${rangeWords(dissolved, 'g')} of silver much stays in the gold; at most all of it goes into solution`
    : `${rangeWords(dissolved, 'g')} of silver goes into solution`;
  return {
    says: `${gold}${solution}.`,
    rows,
    assumed: [...(products?.value ? products.assumed : assumed), ...(back.value ? back.assumed : [])],
    ...(products && products.value === undefined ? { todo: `It will not part: ${products.reason}.` } : {}),
  };
};

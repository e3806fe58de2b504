/** The bead of a cupellation: what to expect, what it tells of the button, what the cupel keeps of gold and silver. */
import { type BeadWithin, beadWithin } from '../engine/bench/bead';
import { beforeCupelling, KEPT, lossOfMix } from '../engine/bench/cupel-loss';
import {
  type Answer,
  type Assumption,
  assume,
  COMMON_PRACTICE,
  type Estimate,
  exactly,
  type Result,
} from '../engine/bench/result';
import { isMetalKind } from '../engine/charge';
import type { Flow } from '../engine/entry';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { stepWords } from '../reports/words';
import type { Advice, Topic, Working, Wrong } from './advice';
import { type Bead, beadOf, type Cupelled, cupelledOf } from './cupelled';
import { addedMetals, isAllWeighed, type Job } from './job';
import { estimateWords, guessWords, preciseWords, rangeWords, termWords } from './words';

export const cupelBead: Topic = (job) => {
  const cupelled = cupelledOf(job);
  if (!cupelled || !isAllWeighed(job)) return [];
  if (!job.planned) return done(job, cupelled);
  const expected = expectedOf(cupelled);
  return expected.value === undefined ? [] : planned(job, cupelled, expected);
};

export const BEAD_TOPIC = 'bead';

export const UNFINISHED = 'bead-unfinished';

const expectedOf = ({ gold, silver, precious, base, leadAdded }: Cupelled): Result<BeadWithin> => {
  if (!precious) return { value: undefined, reason: 'gold and silver of the charge are not known' };
  const leadGrams = base.lead.best + leadAdded;
  return beadWithin({ gold, silver, precious, platinum: base.platinum, leadGrams });
};

/** Share of the silver that the cupel keeps, 0 to 1, best value; 0 where it is not known. */
export const silverKept = (job: Job): number => {
  const cupelled = cupelledOf(job);
  const kept = cupelled && expectedOf(cupelled).value?.silverInCupelGrams;
  return kept && cupelled.silver && cupelled.silver.best > 0 ? kept.best / cupelled.silver.best : 0;
};

const planned = (job: Job, cupelled: Cupelled, expected: Answer<BeadWithin>): readonly Advice[] => {
  const { beadGrams } = expected.value;
  const beads = job.entry.flows.filter(({ word, kind, none }) => word === 'out' && !none && isMetalKind(kind));
  const [bead] = beads;
  const working = (): Working => expectedWorking(cupelled, expected);
  const label = `bead expected ${rangeWords(beadGrams, 'g')}`;
  if (beads.length > 1 || bead?.amount?.figure)
    return [{ topic: BEAD_TOPIC, at: bead?.place ?? job.entry.head, label, rank: 'extra', working }];
  const [amount, range] = [guessWords(beadGrams, 'g'), `bead ${rangeWords(beadGrams, 'g')}`];
  const write = bead ? { flow: bead, amount, range } : { part: 'out' as const, line: `out ${amount} bead`, range };
  return [{ topic: BEAD_TOPIC, at: bead?.place ?? job.entry.head, rank: 'result', working, writes: [write] }];
};

const expectedWorking = (cupelled: Cupelled, { value, assumed }: Answer<BeadWithin>): Working => {
  const { gold, silver, precious } = cupelled;
  const rows: string[] = [];
  if (gold) rows.push(`gold              ${estimateWords(gold, 'g')}`);
  if (silver) rows.push(`silver            ${estimateWords(silver, 'g')}`);
  if (precious && !(gold && silver)) rows.push(`gold and silver   ${estimateWords(precious, 'g')}`);
  rows.push(
    ...keptRows(value, cupelled),
    `bead expected     gold + silver − both in cupel = ${estimateWords(value.beadGrams, 'g')}`,
  );
  return { says: `A finished bead weighs ${rangeWords(value.beadGrams, 'g')}.`, rows, assumed };
};

/** `42.7 g × 0.25 % (0.1..0.5) = `. */
const ofWhole = ({ low, best, high }: Estimate, whole: Estimate | undefined): string => {
  if (!whole || !(whole.low > 0)) return '';
  const percent = (part: number, of: number): number => Number(((100 * part) / of).toPrecision(3));
  return `${termWords(whole.best, 'g')} × ${percent(best, whole.best)} % (${percent(low, whole.low)}..${percent(high, whole.high)}) = `;
};

const keptRows = (
  { goldInCupelGrams: gold, silverInCupelGrams: silver }: BeadWithin,
  whole: Pick<Cupelled, 'gold' | 'silver'>,
): string[] => [
  ...(gold ? [`gold in cupel     ${ofWhole(gold, whole.gold)}${estimateWords(gold, 'g')}`] : []),
  ...(silver ? [`silver in cupel   ${ofWhole(silver, whole.silver)}${estimateWords(silver, 'g')}`] : []),
];

/** What the bead tells, once it is weighed. */
const done = (job: Job, cupelled: Cupelled): readonly Advice[] => {
  const bead = beadOf(job);
  if (!bead) return [];
  const shelf = addedMetals(job);
  const noble = (shelf.get('Au') ?? 0) + (shelf.get('Ag') ?? 0);
  const { lots, base, gold, leadAdded } = cupelled;
  const goldOfBead = gold && gold.best <= bead.precious ? gold.best / bead.precious : undefined;
  const lead = base.lead.best + leadAdded;
  const before = beforeCupelling(lots.grams.best + noble, bead.precious, lead, goldOfBead);
  if (before.value === undefined) return [];
  const { goldSilverGrams } = before.value;
  const own = shifted(goldSilverGrams, -noble);
  const kept = expectedOf(cupelled);
  const rows = [`bead              ${preciseWords(exactly(bead.grams), 'g')}`];
  if (bead.precious < bead.grams) rows.push(`  Au+Ag of it     ${preciseWords(exactly(bead.precious), 'g')}`);
  if (noble > 0) rows.push(`gold, silver added ${preciseWords(exactly(noble), 'g')}`);
  const loss = lossOfMix(bead.precious, lead, goldOfBead);
  const shelfWords = noble > 0 ? ' − added' : '';
  rows.push(
    `lost in the cupel ${Number((100 * loss.best).toPrecision(3))} % (${Number((100 * loss.low).toPrecision(2))}..${Number((100 * loss.high).toPrecision(2))})`,
    `Au+Ag before      ${preciseWords(exactly(bead.precious), 'g')} × ${1 - KEPT.best}/(1 − ${Number(loss.best.toPrecision(3))})${shelfWords} = ${preciseWords(exactly(own.best), 'g')}, ${preciseWords(own, 'g')}`,
    ...(kept.value ? keptRows(kept.value, cupelled) : []),
  );
  const working = (): Working => ({
    says: `With what the cupel drank of them, gold and silver before were ${preciseWords(own, 'g')}. What the cupel keeps is a stock: put it by, weighed, for the next smelt.`,
    rows,
    assumed: distinct([
      ...(bead.precious < bead.grams ? [OF_BEAD] : []),
      ...before.assumed,
      ...(kept.value ? kept.assumed : []),
    ]),
  });
  return [{ topic: BEAD_TOPIC, at: bead.flows[0]!.place, rank: 'extra', working, wrong: unfinishedOf(job, bead) }];
};

const OF_BEAD = assume('gold and silver of the bead as its own assay has them, else 98.5 to 100 %', COMMON_PRACTICE);

const shifted = ({ low, best, high }: Estimate, by: number): Estimate => ({
  low: Math.max(0, low + by),
  best: Math.max(0, best + by),
  high: Math.max(0, high + by),
});

const distinct = (assumed: readonly Assumption[]): readonly Assumption[] => [
  ...new Map(assumed.map((one) => [one.says + one.source, one])).values(),
];

/** A bead above what assays of the charge allow. A claim or a usual make tells nothing against a bead. */
const unfinishedOf = (job: Job, bead: Bead): readonly Wrong[] => {
  const before = cupelledOf(job, 'before');
  if (!before || before.lots.guessed) return [];
  const expected = expectedOf(before);
  // What is not known of gold and silver is at most all that the assays leave.
  if (expected.value === undefined) return [];
  const { beadGrams } = expected.value;
  const over = bead.grams - bead.reach - beadGrams.high;
  // More than went in is another finding's.
  if (over <= 0 || bead.grams > before.lots.grams.best) return [];
  const lead = `${showDigits(decimal(bead.grams - beadGrams.high), 2)} g`;
  return [
    {
      code: UNFINISHED,
      place: placeOf(bead.flows[0]!),
      says: `The bead weighs ${preciseWords(exactly(bead.grams), 'g')}; gold and silver by the assays come to ${preciseWords(exactly(beadGrams.high), 'g')} at most. About ${lead} of lead or base metal is left in it: cupel it again with fresh lead and weigh it once more.`,
      related: before.lots.by.map((entry) => ({ place: entry.head, says: `${stepWords(entry)} tells of the charge` })),
    },
  ];
};

const placeOf = ({ amount, place }: Flow) => amount?.place ?? place;

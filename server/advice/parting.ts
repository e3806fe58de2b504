/** Parting and dissolving in nitric acid: the ratio, the acid that silver and base metal want, what comes out. */
import { type AcidWanted, acidFor, acidInNitrates } from '../engine/bench/acid';
import { ratioBand } from '../engine/bench/inquart';
import { type Answer, COMMON_PRACTICE, type Estimate, less, sumOf } from '../engine/bench/result';
import { STRONG_FROM } from '../engine/bench/wet';
import type { Flow } from '../engine/entry';
import { acidAtLeast } from './acid-at-least';
import { type AcidWritten, acidUsed, acidWritten, type Bottle, bottleOf, perGramWords, pureBy } from './acid-of';
import type { Advice, Topic, Working, Writing, Wrong } from './advice';
import { acidGround, type Base, baseOf, copperForAcid } from './base';
import { isBoiledAgain, LEAST_RATIO, silverToGold } from './inquart';
import { type Contents, chargedOf, type Job } from './job';
import { type Case, productAdvice } from './parted';
import { cameWords, goldTooHeavy, mostWords } from './too-heavy';
import { bestWords, estimateWords, guessWords, rangeWords, termWords } from './words';

export const parting: Topic = (job) => {
  const { verb } = job.entry;
  if (verb !== 'part' && verb !== 'dissolve') return [];
  // Back from what came out, silver that stayed in the gold would be taken for gold.
  const charged = chargedOf(job, 'before');
  if (!charged || !(charged.grams.best > 0)) return [];
  const written = acidWritten(job);
  if (written.isMixed || (written.lines.length === 0 && verb === 'dissolve' && !isWithoutGold(charged))) return [];
  const metals = dissolvedOf(charged, verb);
  const ratio = verb === 'part' && !isBoiledAgain(job) ? ratioAdvice(job, charged) : [];
  if (!metals) return [...ratio, ...acidAtLeast(job, written)];
  const bottle = bottleOf(job, written);
  const wanted = acidFor(metals, bottle, acidUsed(written, bottle));
  if (wanted.value === undefined) return ratio;
  const case_: Case = { job, charged, metals, written, bottle, wanted };
  const acid = acidAdvice(case_);
  // Of what was done only what is amiss is worth a word.
  if (!job.planned) return [...ratio, ...(acid.wrong?.length ? [acid] : [])];
  return [...ratio, acid, ...productAdvice(case_)];
};

/** What the metals of a parting take of nitric acid, and the gas that this gives; none where their silver or the acid is not known. */
export const acidTaken = (job: Job): AcidWanted | undefined => {
  const charged = chargedOf(job, 'before');
  const written = acidWritten(job);
  const metals = charged && !written.isMixed ? dissolvedOf(charged, job.entry.verb) : undefined;
  if (!metals || written.lines.length === 0) return undefined;
  const bottle = bottleOf(job, written);
  return acidFor(metals, bottle, acidUsed(written, bottle)).value;
};

/** Gold known to be next to nothing: nitric acid takes all of it. */
const isWithoutGold = ({ metals, grams }: Contents): boolean => {
  const gold = metals.get('Au');
  return gold !== undefined && gold.best <= 0.01 * grams.best;
};

/** Silver, lead, and base metal as the copper that takes as much acid, g; none where the silver is not known. */
const dissolvedOf = (charged: Contents, verb: string): ReadonlyMap<string, Estimate> | undefined => {
  const silver = charged.metals.get('Ag');
  if (!silver) return undefined;
  const base = baseOf(charged);
  return new Map([
    ['Ag', silver],
    ['Cu', base.grams ? copperForAcid(base) : unassayed(charged, silver, verb)],
    ['Pb', base.lead],
  ]);
};

/** What nobody assayed may be base metal; of what is dissolved whole it is, where gold is not known to be there. */
const unassayed = ({ grams, metals }: Contents, silver: Estimate, verb: string): Estimate => {
  const others = sumOf([...metals].flatMap(([metal, of]) => (metal === 'Ag' ? [] : [of])));
  const { best, high } = less(less(grams, silver), others);
  return { low: 0, best: verb === 'dissolve' ? best : 0, high };
};

const RATIO = 'ratio';

const ratioAdvice = (job: Job, charged: Contents): readonly Advice[] => {
  const { guessed, by } = charged;
  const found = silverToGold(charged);
  if (!found || (found.isAtMost && !found.isLow)) return [];
  const { silver, gold, ratio, isAtMost, isLow } = found;
  const [first] = job.entry.flows.filter(({ word }) => word === 'in');
  const at = first?.place ?? job.entry.head;
  const band = ratioBand(ratio.best);
  const figure = isAtMost ? `at most ${bestWords(ratio, ': 1')}` : rangeWords(ratio, ': 1');
  const heavy = goldTooHeavy(job);
  const stayed = heavy
    ? ` What came out weighs ${cameWords(heavy.came)}, and gold with what one acid leaves in it comes to ${mostWords(heavy.came, heavy.most)}.`
    : '';
  const wrong: Wrong = {
    code: 'ratio-too-low',
    place: at,
    says: `${guessed ? 'By what was said of it silver' : 'Silver'} to gold is ${figure}: under ${LEAST_RATIO} to 1 the acid hardly gets in, and much of the silver stays.${stayed} Melt it with ${rangeWords(more(gold, silver), 'g')} of silver more, to 2.5 to 1, and part it ${job.planned ? 'then' : 'again'}.`,
    related: by.map((entry) => ({ place: entry.head, says: 'this tells of its metals' })),
  };
  const working = (): Working => ({
    says: `Silver to gold is ${figure}: ${band.does}.`,
    rows: [
      `silver            ${isAtMost ? `not known: ${bestWords(silver, 'g')} at most, all that is not gold` : estimateWords(silver, 'g')}`,
      `gold              ${estimateWords(gold, 'g')}`,
    ],
    assumed: [{ says: band.does, source: band.source }],
  });
  const label = `silver to gold ${figure}`;
  const rank = isLow ? 'doubt' : 'extra';
  return [{ topic: RATIO, at, label, short: `Ag:Au ${figure}`, rank, working, wrong: isLow ? [wrong] : [] }];
};

const more = (gold: Estimate, silver: Estimate): Estimate =>
  less({ low: 2.5 * gold.low, best: 2.5 * gold.best, high: 2.5 * gold.high }, silver);

/** How the gas goes with the acid of the equation. */
const GAS_SUMS = {
  NO: 'HNO3 dilute / 63.01 / 4 × 24.1 L',
  NO2: 'HNO3 strong / 63.01 / 2 × 24.1 L',
} as const;

const ACID = 'acid';

const acidAdvice = ({ job, charged, metals, written, bottle, wanted }: Case): Advice => {
  const { acidMillilitres, waterMillilitres } = wanted.value;
  const at = written.lines[0]?.flow.place ?? job.entry.head;
  const working = (): Working => acidWorking(baseOf(charged), metals, bottle, wanted);
  const acid = `${bottle.name} ${rangeWords(acidMillilitres, 'mL')}`;
  const wrong = shortOf(job, charged, metals, written);
  const same = { topic: ACID, at, working, wrong } as const;
  if (!job.planned) return { ...same, rank: 'doubt' };
  const writes: Writing[] = [];
  const put = (line: Flow | undefined, name: string, amount: Estimate): void => {
    if (line?.amount?.figure) return;
    const [said, range] = [guessWords(amount, 'mL'), `${name} ${rangeWords(amount, 'mL')}`];
    writes.push(line ? { flow: line, amount: said, range } : { part: 'add', line: `add ${name} ${said}`, range });
  };
  const isAcidWritten = written.lines.length > 0 && written.pureGrams !== undefined;
  if (!isAcidWritten) put(written.lines.find(({ flow }) => !flow.amount?.figure)?.flow, bottle.name, acidMillilitres);
  const water = written.water.find(({ flow }) => !flow.amount?.figure)?.flow;
  // Water that nobody asked for goes only with acid that nobody measured.
  if (water || (written.water.length === 0 && !isAcidWritten && waterMillilitres.best > 0))
    put(water, 'water', waterMillilitres);
  return writes.length > 0
    ? { ...same, rank: 'result', writes }
    : { ...same, label: `acid wanted ${rangeWords(acidMillilitres, 'mL')}`, short: acid, rank: 'extra' };
};

const acidWorking = (
  base: Base,
  metals: ReadonlyMap<string, Estimate>,
  { name, fraction, gramsPerMillilitre }: Bottle,
  { value, assumed }: Answer<AcidWanted>,
): Working => {
  const { acidMillilitres, waterMillilitres, usedFraction, gas, gasLitres, airCubicMetres } = value;
  const rows = [...metals]
    .filter(([, grams]) => grams.high > 0)
    .map(([metal, grams]) => `${metal.padEnd(18)}${estimateWords(grams, 'g')} ${perGramWords(metal)}`);
  rows.push(
    `HNO3 by equation  ${termWords(pureBy(metals, 'dilute'), 'g')} dilute, ${termWords(pureBy(metals, 'strong'), 'g')} strong`,
    `${name} of ${Math.round(100 * fraction)} %: ${(fraction * gramsPerMillilitre).toFixed(2)} g of HNO3 a mL`,
    `  acid            ${estimateWords(acidMillilitres, 'mL')}: from the least dilute to 1.5 × the most strong, 1.28 × ${usedFraction >= STRONG_FROM ? 'strong' : 'dilute'} at best`,
  );
  if (waterMillilitres.best > 0)
    rows.push(`  water           ${estimateWords(waterMillilitres, 'mL')}, to ${Math.round(100 * usedFraction)} %`);
  const thin = usedFraction >= STRONG_FROM ? acidFor(metals, { fraction, gramsPerMillilitre }).value : undefined;
  rows.push(`${`${gas} given off`.padEnd(18)}${GAS_SUMS[gas]} = ${estimateWords(gasLitres, 'L')} at 20 °C`);
  rows.push(`air to thin it    ${estimateWords(airCubicMetres, 'm³')}, to 5 ppm of NO2`);
  if (thin)
    rows.push(
      `with as much water ${estimateWords(thin.acidMillilitres, 'mL')} do, and give ${estimateWords(thin.gasLitres, 'L')} of ${thin.gas}`,
    );
  return {
    says: `Silver and base metal want ${rangeWords(acidMillilitres, 'mL')} of ${name}: begin with the least, and add when it is quiet. ${gas === 'NO' ? 'The gas turns to red fume in air.' : 'Acid as strong as this works fast, and all of its gas is red fume: thinned with as much water it wants less, and gives a third of the gas.'}`,
    rows,
    assumed: [
      ...assumed,
      ...(base.grams ? acidGround(base) : [{ says: 'what is not assayed counts as copper', source: 'from memory' }]),
    ],
  };
};

/** Less acid than the nitrates alone hold: no care can make it enough. */
const shortOf = (
  job: Job,
  charged: Contents,
  metals: ReadonlyMap<string, Estimate>,
  { lines, pureGrams }: AcidWritten,
): readonly Wrong[] => {
  if (lines.length === 0 || pureGrams === undefined) return [];
  const { guessed } = charged;
  // Base metal that nobody named may be tin, which no nitrate holds.
  const sure = new Map([...metals, ['Cu', baseOf(charged).named] as const]);
  const least = acidInNitrates(new Map([...sure].map(([metal, { low }]) => [metal, low]))).value;
  if (pureGrams >= least) return [];
  const line = lines[0]!.flow;
  const times = least / pureGrams;
  const [silver, copper] = [metals.get('Ag')!, metals.get('Cu')!];
  const base = copper.best > 0.01 * silver.best ? ` and ${bestWords(copper, 'g')} of base metal` : '';
  return [
    {
      code: 'acid-short',
      place: line.amount?.place ?? line.place,
      says: `${guessed ? 'By what was said of it too' : 'Too'} little acid for ${bestWords(silver, 'g')} of silver${base}: their nitrates alone hold ${times.toFixed(1)} times as much. ${job.planned ? 'Take' : 'Add'} more, or silver stays in the metal.`,
    },
  ];
};

/** Where the limits of `ratio-too-low` and `acid-short` are from. */
export const RATIO_SOURCE = `1.7 of silver to 1 of gold still parts: Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904; silver to 2.5 to 1: the same`;
export const ACID_SOURCE = `acid that is bound in the nitrates of silver, copper and lead: IUPAC atomic weights, formulas from memory; what is really used is more (${COMMON_PRACTICE})`;

/** What an assay entry says of each metal: the mean of its determinations, with what the method and their scatter leave open. */

import type { ErrorSource } from '../../quantity/measured';
import { toBase } from '../../quantity/units';
import { goldByDensity, goldInQuartz, type Hydrostatic, hydrostaticDensity } from '../bench/density';
import type { Estimate } from '../bench/result';
import type { Amount, Digits, Entry, Reading } from '../entry';
import { standardDeviation } from '../statistics/robust';
import { divisionOf } from '../weigh';
import { type Inexact, inexact, plus } from './inexact';
import { absent, type Knowledge, type Known, known, NOTHING_KNOWN } from './known';

/**
 * Standard uncertainty of one determination, as a mass fraction, where none is written. Fire corrected by proofs: mints reach 0.1 part per
 * thousand, doubled for a small bench. Fire uncorrected: the surcharge of the assay texts, 1 part per thousand. XRF: fifteen karat samples
 * against fire assay. Touch: 10 to 20 parts per thousand. The others from memory.
 */
const METHOD_ERROR: ReadonlyMap<string, number> = new Map([
  ['fire', 0.001],
  ['xrf', 0.004],
  ['touch', 0.015],
  ['spectro', 0.001],
  ['icp', 0.005],
  ['titration', 0.001],
  ['salt', 0.01],
  ['stannous', 0.01],
]);
const FIRE_CORRECTED = 0.0002;
/** Silver of a fire assay is found by difference and leaves some in the cupel: from memory. */
const FIRE_SILVER = 0.002;
/** Of a small share, such as gold in ore, a method errs by a part of it rather than by so many thousandths: from memory. */
const MOST_OF_SHARE = 0.1;

/**
 * Of what a method errs by, so much is the same for every lot that is assayed so in one house, and adds up in a sum of lots; the rest is each lot's
 * own. Of XRF against fire on the fifteen samples: 1.6 parts per thousand in the mean, of 4; the others are taken to be alike, from memory.
 */
const IN_COMMON = 0.4;

const commons = new Map<string, ErrorSource>();

/** What all assays of a metal in one way share. */
const commonOf = (entry: Entry, symbol: string): ErrorSource => {
  const way = `${wayOf(entry)} ${symbol}`;
  const known = commons.get(way) ?? { label: `what assays of ${symbol} by ${entry.method?.name ?? 'no method'} share` };
  commons.set(way, known);
  return known;
};

/** Assays that are done alike. */
export const wayOf = ({ method, party, said }: Entry): string =>
  JSON.stringify([method?.name, party?.name, said.corrected ?? false]);

/** A share by a method that errs by `u`, with what else leaves it open. */
const shareBy = (entry: Entry, symbol: string, value: number, u: number, beside = 0): Inexact =>
  plus(
    inexact(value, Math.hypot(u * Math.sqrt(1 - IN_COMMON ** 2), beside), { label: `assay of ${symbol}` }),
    inexact(0, u * IN_COMMON, commonOf(entry, symbol)),
  );

const kept = new WeakMap<Entry, Knowledge>();

/** By metal. Empty for an entry that gives no figure. */
export const assayed = (entry: Entry): Knowledge => {
  const before = kept.get(entry);
  if (before) return before;
  const told = entry.prefix || entry.broken ? NOTHING_KNOWN : readAssay(entry);
  kept.set(entry, told);
  return told;
};

const readAssay = (entry: Entry): Knowledge => {
  if (entry.readings.length > 0)
    return fromReadings(
      entry,
      entry.readings.map(({ reading }) => reading),
    );
  const byBead = fromBead(entry);
  return byBead.size > 0 ? byBead : fromDensity(entry);
};

/** More than the whole is a slip, which is found as one: nothing is known by it. */
const MOST_OF_WHOLE = 1.01;

const isPossible = ({ metals }: Reading): boolean =>
  metals.reduce((so, { amount }) => so + (shareOf(amount)[0]?.value ?? 0), 0) <= MOST_OF_WHOLE;

/** The mean of determinations in one way: what the way errs by is in all of them, only their scatter averages out. */
export const meanOf = (way: Entry, symbol: string, values: readonly Value[]): Inexact => {
  const mean = values.reduce((so, { value }) => so + value, 0) / values.length;
  const digits = Math.max(...values.map(({ u }) => u));
  const beside = Math.hypot(digits, scatter(values.map(({ value }) => value)));
  // What is stated is all.
  const u = values.every(({ stated }) => stated) ? 0 : Math.min(ofMethod(way, symbol), MOST_OF_SHARE * mean);
  return shareBy(way, symbol, mean, u, beside);
};

/** Each determination of a metal that an entry gives, by readings or by the weights of a bead. */
export const valuesOf = (entry: Entry, symbol: string): readonly Value[] => {
  const amounts = entry.readings
    .map(({ reading }) => reading)
    .filter(isPossible)
    .flatMap(({ metals }) => metals.flatMap((one) => (one.symbol.name === symbol ? [one.amount] : [])));
  if (entry.readings.length > 0) return amounts.flatMap(shareOf);
  const share = fromBead(entry).get(symbol)?.share;
  return share ? [{ value: share.value, u: 0, stated: false }] : [];
};

const fromReadings = (entry: Entry, readings: readonly Reading[]): Knowledge => {
  const bySymbol = new Map<string, Amount[]>();
  for (const { metals } of readings.filter(isPossible)) {
    for (const { symbol, amount } of metals) {
      const so = bySymbol.get(symbol.name);
      if (so) so.push(amount);
      else bySymbol.set(symbol.name, [amount]);
    }
  }
  const knowledge = new Map<string, Known>();
  for (const [symbol, amounts] of bySymbol) {
    const told = fromAmounts(entry, symbol, amounts);
    if (told) knowledge.set(symbol, told);
  }
  return knowledge;
};

const fromAmounts = (entry: Entry, symbol: string, amounts: readonly Amount[]): Known | undefined => {
  const values = amounts.flatMap(shareOf);
  if (values.length > 0) {
    const ground = amounts.some(({ guessed }) => guessed) ? 'guessed' : 'assayed';
    return known(meanOf(entry, symbol, values), ground, [entry], 0, 1);
  }
  if (amounts.some(({ absent: none }) => none === 'none')) return absent('assayed', [entry]);
  return limited(entry, amounts);
};

/** `<0.01 %`: between nothing and that. Half of it, give or take the half of a rectangle. */
const limited = (entry: Entry, amounts: readonly Amount[]): Known | undefined => {
  for (const { figure } of amounts) {
    if (figure?.form !== 'limit' || figure.digits.unit?.kind !== 'proportion') continue;
    const limit = toBase(figure.digits.value, figure.digits.unit).toNumber();
    const [low, high] = figure.side === 'below' ? [0, limit] : [limit, 1];
    return known(between(low, high, 'limit of an assay'), 'assayed', [entry], low, high);
  }
  return undefined;
};

/** A rectangle from `low` to `high`. */
export const between = (low: number, high: number, label: string): Inexact =>
  inexact((low + high) / 2, (high - low) / Math.sqrt(12), { label });

export interface Value {
  readonly value: number;
  /** Of the last digit that was typed, or as stated. */
  readonly u: number;
  readonly stated: boolean;
}

/** Mass fractions that an amount states. */
export const shareOf = (amount: Amount): Value[] => {
  const { figure, spread: stated } = amount;
  if (!figure) return [];
  if (figure.form === 'range') return range(figure.low, figure.high);
  if (figure.form === 'limit') return [];
  const digits = figure.form === 'reading' ? [figure.digits] : figure.parts;
  return digits.flatMap((one): Value[] => {
    if (one.unit?.kind !== 'proportion') return [];
    const value = toBase(one.value, one.unit).toNumber();
    const half = stated?.half.unit?.kind === 'proportion' || !stated?.half.unit ? stated : undefined;
    if (!half) return [{ value, u: divisionOf(one.text, one.unit) / Math.sqrt(12), stated: false }];
    const size = toBase(half.half.value, half.half.unit ?? one.unit).toNumber();
    const divisor = half.meaning === 'expanded' ? 2 : half.meaning === 'standard' ? 1 : Math.sqrt(3);
    return [{ value, u: size / divisor, stated: true }];
  });
};

const range = (low: Digits, high: Digits): Value[] => {
  if (low.unit?.kind !== 'proportion' || high.unit?.kind !== 'proportion') return [];
  const [from, to] = [low, high].map(({ value, unit }) => toBase(value, unit!).toNumber()) as [number, number];
  return [{ value: (from + to) / 2, u: (to - from) / Math.sqrt(12), stated: true }];
};

const ofMethod = (entry: Entry, symbol: string): number => {
  const method = entry.method?.name ?? '';
  if (method === 'fire' && symbol === 'Ag') return FIRE_SILVER;
  if (method === 'fire' && entry.said.corrected) return FIRE_CORRECTED;
  return METHOD_ERROR.get(method) ?? 0.01;
};

/** Standard deviation of the mean; none of a single one. */
const scatter = (values: readonly number[]): number =>
  values.length < 2 ? 0 : standardDeviation(values) / Math.sqrt(values.length);

/** `took`, `bead`, `cornet` of a fire assay: gold is the cornet, silver what parting took from the bead. */
export const fromBead = (entry: Entry): Knowledge => {
  const [took, bead, cornet] = ['took', 'bead', 'cornet'].map((word) => grams(entry, word));
  if (!took || took <= 0) return NOTHING_KNOWN;
  const knowledge = new Map<string, Known>();
  const tell = (metal: string, share: number): void => {
    const u = Math.min(ofMethod(entry, metal), MOST_OF_SHARE * share);
    knowledge.set(metal, known(shareBy(entry, metal, share, u), 'assayed', [entry], 0, 1));
  };
  if (cornet !== undefined) tell('Au', cornet / took);
  // Silver added for parting would be in the bead: then its silver says nothing.
  const added = entry.others.some(({ word }) => word === 'add') || entry.flows.some(({ word }) => word === 'add');
  if (cornet !== undefined && bead !== undefined && bead >= cornet && !added) tell('Ag', (bead - cornet) / took);
  return knowledge;
};

const typedMass = (entry: Entry, word: string): Digits | undefined => {
  const figure = entry.others.find((other) => other.word === word)?.amounts[0]?.figure;
  return figure?.form === 'reading' && figure.digits.unit?.kind === 'mass' ? figure.digits : undefined;
};

const grams = (entry: Entry, word: string): number | undefined => {
  const digits = typedMass(entry, word);
  return digits?.unit && toBase(digits.value, digits.unit).toNumber();
};

/** Half of the last digit as typed, for the load and again for the zero (GUM), and what the water does on the thread, g. */
const readingU = (entry: Entry): number => {
  const steps = ['air', 'water'].map((word) => {
    const digits = typedMass(entry, word);
    return digits?.unit ? divisionOf(digits.text, digits.unit) : 0;
  });
  return Math.hypot(Math.max(...steps) / Math.sqrt(6), ON_THREAD);
};

/** Water that climbs the thread and pulls on it, g. From memory. */
const ON_THREAD = 0.002;

const celsius = (entry: Entry): number | undefined => {
  const amounts = entry.others.find(({ word }) => word === 'water')?.amounts ?? [];
  for (const { figure } of amounts) {
    if (figure?.form !== 'reading' || figure.digits.unit?.kind !== 'temperature') continue;
    return figure.digits.unit.symbol.endsWith('F')
      ? ((figure.digits.value.toNumber() - 32) * 5) / 9
      : figure.digits.value.toNumber();
  }
  return undefined;
};

/** Of water whose temperature is not written. */
const UNWRITTEN_CELSIUS = 20;

/** The weighings in air and water; none for an entry without them, or where they cannot be. */
export const hydrostaticOf = (entry: Entry): (Hydrostatic & { readonly celsiusWritten: boolean }) | undefined => {
  const [air, water] = [grams(entry, 'air'), grams(entry, 'water')];
  if (air === undefined || water === undefined || !(air > water) || !(water > 0)) return undefined;
  const written = celsius(entry);
  const at = { celsius: written ?? UNWRITTEN_CELSIUS, celsiusWritten: written !== undefined };
  return { airGrams: air, waterGrams: water, readingU: readingU(entry), ...at };
};

/** Density by the weights in air and water, g/cm³; none for an entry without them, or of a piece too small for its scale. */
export const weighedDensity = (entry: Entry): Estimate | undefined => {
  const weighed = hydrostaticOf(entry);
  return weighed && hydrostaticDensity(weighed).value;
};

/** What the metal sits in, as the assay says. */
export const matrixOf = ({ others }: Entry): string | undefined =>
  others.find(({ word }) => word === 'material')?.names[0]?.name;

/** The one matrix that a density is reckoned with. */
export const QUARTZ = 'quartz';

/** A density gives gold between the rest all silver and the rest all copper, or with quartz for the rest: bounds, not a figure. */
const fromDensity = (entry: Entry): Knowledge => {
  const density = weighedDensity(entry);
  const gold = density && (matrixOf(entry) === QUARTZ ? goldInQuartz(density) : goldByDensity(density));
  if (!gold?.value) return NOTHING_KNOWN;
  const { low, high } = gold.value.goldFraction;
  return new Map([['Au', { share: undefined, low, high, ground: 'assayed', by: [entry] }]]);
};

/** Gas that a charge gives off in the heat, part by part, and what to do against foaming. */
import { type ChargeGas, chargeGas } from '../engine/bench/charge';
import { type Assumption, ATOMIC_WEIGHTS, assume, BERINGER, FROM_MEMORY } from '../engine/bench/result';
import type { Step } from '../engine/book';
import { addedParts, feedParts } from '../engine/charge';
import { ANY_METAL, roomOfCharge } from '../engine/crucible';
import { type GasPart, gasLitres, molesOfGas } from '../engine/gas';
import { balanceRow } from '../engine/usual';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { toCelsius } from '../quantity/units';
import type { Workspace } from '../workspace/workspace';
import type { Topic, Working } from './advice';
import { rangeWords, termWords } from './words';

const TOPIC = 'gas';

/** A part below this share of the gas is not worth a line. */
const LEAST_PART = 0.02;
/** Less is not worth a word, L. */
const LEAST_LITRES = 0.1;

export const gas: Topic = (job) => {
  const { step, entry, workspace, inFull } = job;
  if (!inFull || !step || balanceRow(entry.verb)?.kind !== 'melt') return [];
  const found = foamingOf(step, workspace);
  if (!found) return [];
  return [{ topic: TOPIC, at: entry.head, rank: 'extra', working: () => workingOf(found) }];
};

export interface Foaming extends ChargeGas {
  readonly celsius: number;
}

/** The gas of all that is charged; none where it is next to nothing, or the room of the charge is not known. */
export const foamingOf = (step: Step, { workshop, book }: Workspace): Foaming | undefined => {
  const { low, high } = roomOfCharge(step, workshop, book.make, ANY_METAL).millilitres;
  const items = [...feedParts(step.inputs, workshop, book.make), ...addedParts(step.added, workshop)];
  const celsius = pourCelsius(step);
  const found = chargeGas(
    items.map(({ item }) => item),
    celsius,
    (low + high) / 2,
  );
  return found.litres > LEAST_LITRES && found.timesItsRoom !== undefined ? { ...found, celsius } : undefined;
};

/** The heat of the pour, where it was read; else that of a slag that runs, from memory. */
export const pourCelsius = ({ entry }: Step): number => {
  const read = entry.clocks.find(
    ({ events, temperature }) => temperature?.unit && events.includes('poured'),
  )?.temperature;
  return read?.unit ? Math.round(toCelsius(read.value, read.unit).toNumber()) : 1150;
};

/** `Its gas takes 140 L at 1150 °C, about 500 times its room cold.`, and what to do about it. */
export const foamingWords = ({ litres, celsius, timesItsRoom, advice }: Foaming): string =>
  `Its gas takes ${digits(litres)} L at ${celsius} °C, about ${digits(timesItsRoom!)} times its room cold. ${advice}`;

/** What burns, and not the gas that it burns to. */
const NAMES: ReadonlyMap<string, string> = new Map([
  ['O', 'oxygen drawn from the charge'],
  ['C', 'carbon burnt'],
  ['C6H10O5', 'starch burnt'],
  ['C12H22O11', 'sugar burnt'],
  ['C7H10O9', 'tartar burnt'],
]);

/** `soda-ash          128 g × 0.4152 CO2 × 0.74 taken by acid = 39 g, 0.89 mol, 100 L at 1150 °C`. */
export const gasPartWords = ({ material, what, grams, of, whole, when }: GasShown, celsius: number): string => {
  const moles = molesOfGas(what, grams);
  const share = whole > 0 ? ` × ${showDigits(decimal(whole / of), 4)}` : '';
  const leaves = grams / whole;
  const part = whole > 0 && Math.abs(leaves - 1) > 0.005 ? ` × ${digits(leaves)} ${WHY.get(when) ?? 'of it'}` : '';
  const room = moles > 0 ? `, ${digits(moles)} mol, ${digits(gasLitres(moles, celsius))} L at ${celsius} °C` : '';
  return `${material.padEnd(17)} ${termWords(of, 'g')}${share} ${NAMES.get(what) ?? what}${part} = ${digits(grams)} g${room}`;
};

export type GasShown = Pick<GasPart, 'material' | 'what' | 'grams' | 'of' | 'whole' | 'when'>;

/** Why not all of it leaves. */
const WHY: ReadonlyMap<GasPart['when'], string> = new Map([
  ['acid', 'taken by acid'],
  ['untaken', 'of it free'],
]);

const GAS_ASSUMED: readonly Assumption[] = [
  assume('shares of the weight by formula; what burns by its make', ATOMIC_WEIGHTS),
  assume(
    'soda and potash give their CO2 to silica, borate and phosphate: up to the bisilicate at best, to the monosilicate at the most',
    FROM_MEMORY,
  ),
  assume(
    'oxygen of niter goes to carbon first, then four fifths of it to metal and sulphide; half of what nothing takes leaves',
    `4 g lead a gram of 5.12: ${BERINGER}; the half ${FROM_MEMORY}`,
  ),
];

/** Of these what a charge's gas rests on. */
export const gasGround = (parts: readonly Pick<GasPart, 'when'>[]): readonly Assumption[] => {
  const [shares, acid, free] = GAS_ASSUMED;
  const has = (what: GasPart['when']): boolean => parts.some(({ when }) => when === what);
  return [shares!, ...(has('acid') ? [acid!] : []), ...(has('untaken') ? [free!] : [])];
};

const digits = (value: number): string => showDigits(decimal(value), 2);

/** What is not worth a line each, together: else the lines do not come to the sum. */
const otherRows = (parts: ChargeGas['parts'], celsius: number): readonly string[] => {
  const moles = parts.reduce((so, { what, grams }) => so + Math.max(0, molesOfGas(what, grams)), 0);
  return moles > 0
    ? [`others            ${digits(moles)} mol, ${digits(gasLitres(moles, celsius))} L at ${celsius} °C`]
    : [];
};

const isWorthALine =
  ({ grams }: ChargeGas) =>
  (part: ChargeGas['parts'][number]): boolean =>
    part.grams >= LEAST_PART * grams.best;

const workingOf = (found: Foaming): Working => ({
  says: `The charge gives off ${rangeWords(found.grams, 'g')} of gas. ${foamingWords(found)}`,
  rows: [
    ...found.parts.filter(isWorthALine(found)).map((part) => gasPartWords(part, found.celsius)),
    ...otherRows(
      found.parts.filter((part) => !isWorthALine(found)(part)),
      found.celsius,
    ),
    `in all            ${showDigits(decimal(found.moles), 3)} mol × 8.314 × ${found.celsius + 273} K / 101325 Pa = ${digits(found.litres)} L`,
  ],
  assumed: [
    ...gasGround(found.parts),
    assume('volume of a gas: V = nRT/P, one atmosphere', 'ideal gas law'),
    assume('lively from 50, fierce from 300 times its own room', 'a guess: no source measured it'),
  ],
});

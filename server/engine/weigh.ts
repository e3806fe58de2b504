/**
 * An amount read on its scale, with its vessel taken off: the net mass in grams, with what it may be wrong by.
 * The same amount weighed again for another purpose is the same value, so that a lot's story and a step's balance share its errors.
 */
import { type Decimal, decimal, decimalsOf } from '../quantity/decimal';
import {
  add,
  exact,
  guess,
  type Measured,
  measured,
  scale as multiply,
  negate,
  subtract,
  uncertainty,
  withError,
} from '../quantity/measured';
import { toBase, type UnitRow, unit as unitOf } from '../quantity/units';
import { rectangular, repeated, type Scale, statedUncertainty, weighed } from '../quantity/weighing';
import type { Ground, Weight } from './book';
import type { Amount, Digits, Figure, Named, Said } from './entry';
import type { Container, Workshop } from './workshop';

/** Relative standard uncertainty of a guess (`~60 g`, `2 spoon`): common practice, no source. */
export const GUESS_UNCERTAINTY = 0.1;

/**
 * The weight that an amount states. Masses in grams, volumes in millilitres.
 *
 * `said` is what holds for its line, the entry's words included: the scale (one named by the amount itself comes first), the tare, and
 * weighings `before` and `after`, whose difference is the weight where no amount is written. A tare is taken off whether or not the
 * amount says `gross`; an amount that says `gross` and has no known tare has no net weight, nor
 * has one whose tare is above it, nor a pair that grew: what was written the wrong way round tells no weight. `none` is exactly nothing; `?`, `nd` and
 * no amount are unknown. `label` names the reading among the sources of error.
 */
export function weighAmount(amount: Amount | undefined, said: Said, workshop: Workshop, label: string): Weight {
  if (!amount) return difference(said, workshop, label);
  const known = kept.get(amount);
  if (known && known.said === said && known.workshop === workshop) return known.weight;
  const weight = net(amount, said, workshop, label);
  kept.set(amount, { said, workshop, weight });
  return weight;
}

/** Nothing is known of it. */
export const UNKNOWN: Weight = {
  ground: 'unknown',
  mass: undefined,
  gross: undefined,
  tare: undefined,
  volume: undefined,
  amount: undefined,
  divisionGrams: 0,
  states: [],
};

/** A mass from the record rather than from a scale: carried from before, or solved for. */
export const recorded = (mass: Measured | undefined, ground: Ground, like: Weight = UNKNOWN): Weight =>
  mass ? { ...like, ground: worst(ground, mass.guessed ? 'guessed' : ground), mass } : UNKNOWN;

/** A weight that something else disputes by so many grams: good to no better than that, and marked in all that follows. */
export const disputed = (mass: Measured, grams: number): Measured =>
  guess(withError(mass, { label: DISPUTED }, rectangular(grams)));

export const isDisputed = (mass: Measured): boolean => mass.errors.some(({ source }) => source.label === DISPUTED);

const DISPUTED = 'a weight in doubt';

const ORDER: readonly Ground[] = ['weighed', 'carried', 'solved', 'guessed', 'unknown'];

/** The ground of a figure that rests on both. */
export const worst = (a: Ground, b: Ground): Ground => (ORDER.indexOf(a) >= ORDER.indexOf(b) ? a : b);

/** Grams, and the division in grams, of digits as typed; none without a unit of mass. */
export function gramsOf(digits: Digits): { readonly grams: Decimal; readonly division: number } | undefined {
  if (digits.unit?.kind !== 'mass') return undefined;
  return { grams: toBase(digits.value, digits.unit), division: divisionOf(digits.text, digits.unit) };
}

/** One step of the last typed digit, in the base unit. */
export function divisionOf(text: string, unit: UnitRow): number {
  const places = decimalsOf(text);
  const known = divisions.get(unit) ?? [];
  if (known.length === 0) divisions.set(unit, known);
  known[places] ??= unit.factor.times(decimal(10).pow(-places)).toNumber();
  return known[places];
}

/** By unit and places after the point: asked for with every reading. */
const divisions = new Map<UnitRow, number[]>();

/** The scale that a reading was made on, as the workshop declares it. */
export function scaleOf(amount: Amount, said: Said, workshop: Workshop): Scale | undefined {
  const name = amount.scale ?? said.scale;
  return name && workshop.scales.get(name.name);
}

interface Kept {
  readonly said: Said;
  readonly workshop: Workshop;
  readonly weight: Weight;
}

const kept = new WeakMap<Amount, Kept>();

function net(amount: Amount, said: Said, workshop: Workshop, label: string): Weight {
  const reading = readAmount(amount, said, workshop, label);
  if (!reading.mass || amount.absent === 'none') return reading;
  if (said.tare) return lessTare(reading, tareOf(said.tare, said, workshop, label));
  return amount.gross ? { ...reading, ground: 'unknown', mass: undefined, gross: reading.mass } : reading;
}

function lessTare(gross: Weight, tare: Weight): Weight {
  const net = gross.mass && tare.mass ? subtract(gross.mass, tare.mass) : undefined;
  const mass = net?.value.isNegative() ? undefined : net;
  return {
    ...gross,
    ground: mass ? worst(gross.ground, tare.ground) : 'unknown',
    mass,
    gross: gross.mass,
    tare: tare.mass,
    divisionGrams: Math.max(gross.divisionGrams, tare.divisionGrams),
  };
}

function tareOf(tare: Amount | Named, said: Said, workshop: Workshop, label: string): Weight {
  if (!('name' in tare)) return readAmount(tare, said, workshop, `tare of ${label}`, 'vessel');
  const container = workshop.containers.get(tare.name);
  const mass = container && vesselOf(container);
  return mass ? { ...UNKNOWN, ground: 'weighed', mass } : UNKNOWN;
}

const vessels = new WeakMap<Container, Measured>();

/** A vessel's tare is one error wherever it is taken off. */
function vesselOf(container: Container): Measured | undefined {
  if (!container.tareGrams) return undefined;
  const known = vessels.get(container);
  if (known) return known;
  const places = container.tareGrams.decimalPlaces();
  const mass = {
    ...measured(container.tareGrams, container.tareUncertaintyGrams, `tare of ${container.name}`),
    places,
  };
  vessels.set(container, mass);
  return mass;
}

/** What was used: before less after, on one scale unless they say otherwise. */
function difference(said: Said, workshop: Workshop, label: string): Weight {
  const pair = pairOf(said, workshop, label);
  if (!pair) return UNKNOWN;
  const { first, last, used, divisionGrams } = pair;
  if (used.value.isNegative() && !isNothing(used, divisionGrams, workshop)) return UNKNOWN;
  return {
    ...first,
    ground: worst(first.ground, last.ground),
    mass: used.value.isNegative() ? { ...used, value: decimal(0) } : used,
    amount: undefined,
    divisionGrams,
  };
}

function pairOf({ before, after, ...said }: Said, workshop: Workshop, label: string) {
  if (!before || !after) return undefined;
  const first = readAmount(before, said, workshop, `${label} before`);
  const last = readAmount(after, said, workshop, `${label} after`);
  if (!first.mass || !last.mass) return undefined;
  const divisionGrams = Math.max(first.divisionGrams, last.divisionGrams);
  return { first, last, used: subtract(first.mass, last.mass), divisionGrams };
}

/** As little as weighing may be off by: nothing was used. */
const isNothing = (used: Measured, division: number, { limits }: Workshop): boolean =>
  Math.abs(used.value.toNumber()) <= Math.max(division, limits.coverage * uncertainty(used));

/** What was used, less than nothing beyond what weighing explains: what is used grows lighter. */
export function grown(said: Said, workshop: Workshop): Grown | undefined {
  const pair = pairOf(said, workshop, '');
  if (!pair?.used.value.isNegative() || isNothing(pair.used, pair.divisionGrams, workshop)) return undefined;
  return { before: pair.first.mass!, after: pair.last.mass! };
}

/** What a vessel took up, or gave off where it is below nought. */
export const gained = (said: Said, workshop: Workshop, label: string): Measured | undefined => {
  const pair = pairOf(said, workshop, label);
  return pair && negate(pair.used);
};

export interface Grown {
  readonly before: Measured;
  readonly after: Measured;
}

/** What the display showed, before any tare. */
function readAmount(amount: Amount, said: Said, workshop: Workshop, label: string, load: Load = 'load'): Weight {
  const seen: Weight = { ...UNKNOWN, amount, states: amount.states };
  if (amount.absent === 'none') return { ...seen, ground: 'weighed', mass: exact(decimal(0)) };
  if (!amount.figure) return seen;
  const kind = kindOf(amount.figure);
  const scale = kind === 'mass' ? scaleOf(amount, said, workshop) : undefined;
  const read = readFigure(amount.figure, scale, workshop, label, load);
  if (!read) return seen;
  const value = withSpread(read.value, amount);
  const ground: Ground = value.guessed ? 'guessed' : 'weighed';
  if (kind === 'volume') return { ...seen, ground, volume: value };
  return { ...seen, ground, mass: value, divisionGrams: scale?.division?.toNumber() ?? read.division };
}

function digitsOf(figure: Figure): readonly Digits[] {
  if (figure.form === 'range') return [figure.low, figure.high];
  return 'parts' in figure ? figure.parts : [figure.digits];
}

/** Masses and volumes; the shop's own measures count as mass. Nothing where the units are of several kinds or of none. */
function kindOf(figure: Figure): 'mass' | 'volume' | undefined {
  const kinds = new Set(digitsOf(figure).map((digits) => (digits.measure ? 'mass' : digits.unit?.kind)));
  const [kind] = kinds;
  return kinds.size === 1 && (kind === 'mass' || kind === 'volume') ? kind : undefined;
}

interface Read {
  readonly value: Measured;
  readonly division: number;
}

/** What stands on the scale: at an empty vessel it may lean otherwise. */
type Load = 'load' | 'vessel';

function readFigure(
  figure: Figure,
  scale: Scale | undefined,
  workshop: Workshop,
  label: string,
  load: Load,
): Read | undefined {
  if (!kindOf(figure)) return undefined;
  const parts = digitsOf(figure).map((digits) => base(digits, workshop));
  if (!parts.every((part) => part !== undefined)) return undefined;
  const division = Math.max(...parts.map((part) => part.division));
  if (figure.form === 'sum' && isOneReading(figure.parts)) {
    const value = parts.reduce((sum, part) => sum.plus(part.value), decimal(0));
    const finest = Math.min(...parts.map((part) => part.division));
    return { value: weighed(value, finest, scale, label, load), division: finest };
  }
  const [first, second] = parts;
  if (figure.form === 'range') return { value: between(first!.value, second!.value, label), division };
  if (figure.form === 'limit') {
    return figure.side === 'below' ? { value: between(decimal(0), first!.value, label), division } : undefined;
  }
  if (parts.some((part) => part.guessed)) {
    return {
      value: guessOf(
        parts.reduce((sum, part) => sum.plus(part.value), decimal(0)),
        label,
      ),
      division,
    };
  }
  if (figure.form === 'repeats') {
    return {
      value: repeated(
        parts.map((part) => part.value),
        division,
        scale,
        label,
        load,
      ),
      division,
    };
  }
  const goes = parts.map((part, at) =>
    weighed(part.value, part.division, scale, parts.length > 1 ? `${label}, go ${at + 1}` : label, load),
  );
  return { value: goes.length === 1 ? goes[0]! : add(...goes), division };
}

/** `1 lb + 20 dwt`: one reading in larger and smaller units, good to its finest part, and no two goes on a scale. */
function isOneReading(parts: readonly Digits[]): boolean {
  const units = new Set(parts.map(({ unit }) => unit));
  return (
    units.size === parts.length && !units.has(undefined) && parts.slice(0, -1).every(({ text }) => !text.includes('.'))
  );
}

function base(digits: Digits, workshop: Workshop) {
  if (digits.unit) {
    const value = toBase(digits.value, digits.unit);
    return { value, division: divisionOf(digits.text, digits.unit), guessed: false };
  }
  const measure = digits.measure ? workshop.measures.get(digits.measure) : undefined;
  if (!measure) return undefined;
  return { value: digits.value.times(measure), division: measure.toNumber(), guessed: true };
}

/** Somewhere in a range, every value as likely as another: a guess. */
function between(low: Decimal, high: Decimal, label: string): Measured {
  const half = high.minus(low).abs().div(2);
  return guess(measured(low.plus(high).div(2), rectangular(half.toNumber()), label));
}

const guessOf = (value: Decimal, label: string): Measured =>
  guess(measured(value, value.abs().toNumber() * GUESS_UNCERTAINTY, label));

/** A stated ± takes the place of what scale and digits would say; `~` makes a guess of a sharp figure. */
function withSpread(value: Measured, amount: Amount): Measured {
  if (amount.spread) {
    const { half, meaning } = amount.spread;
    const unit = half.unit ?? amount.unit ?? unitOf('g');
    const size = statedUncertainty(half.value.times(unit!.factor).toNumber(), meaning);
    const [term] = value.errors;
    const stated = withError(exact(value.value), term?.source ?? { label: 'stated ±' }, size);
    return amount.guessed || value.guessed ? guess(stated) : stated;
  }
  if (!amount.guessed || value.guessed) return amount.guessed ? guess(value) : value;
  return guessOf(value.value, value.errors[0]?.source.label ?? 'guess');
}

/** A mass scaled by an exact share, its errors with it: a part of a recipe. */
export const shareOf = (mass: Measured, share: number): Measured => multiply(mass, decimal(share));

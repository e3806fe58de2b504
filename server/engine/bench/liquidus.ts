/** When a gold-silver-copper alloy is all liquid and all solid, and how far above that a pour stood. */
import { element } from '../../vocabulary/elements';
import { type Fractions, molesFromMass } from './alloy';
import { type Moles3, readiness } from './phases';
import { about, answer, assume, type Estimate, exactly, FROM_MEMORY, noAnswer, type Result } from './result';

export interface MeltingRange {
  /** All liquid above this, °C. */
  readonly liquidusCelsius: Estimate;
  /** All solid below this, °C; none where the solid is of two kinds and the last liquid freezes lower. */
  readonly solidusCelsius: Estimate | undefined;
  readonly withoutSolidus: string | undefined;
}

const METALS = ['Au', 'Ag', 'Cu'] as const;

/** Least share of gold, silver and copper together. */
const LEAST_KNOWN = 0.95;
/**
 * Most of what else is in the alloy, as mass fractions: lead, tellurium, antimony, bismuth and tin make films that melt
 * hundreds of degrees lower; zinc less so. The limits are from memory.
 */
const MOST_OF: ReadonlyMap<string, number> = new Map([
  ['Pb', 0.001],
  ['Te', 0.001],
  ['Sb', 0.001],
  ['Bi', 0.001],
  ['Sn', 0.002],
  ['Zn', 0.01],
]);

const MODEL =
  'liquid and solid of gold, silver and copper solved for equal potentials: silver, copper and their mixing as NIST gives them (Dinsdale; Hayes and others 1986), gold and its mixing from memory, held to the minimum at 44 at.% Cu (Okamoto and others), 910 °C from memory';
/** What the model was held against. */
const HELD =
  'silver-copper 779.1 °C at 71.6 % Ag (NIST) and 912.5 °C at 9 at.% Cu, gold-silver 1060 °C at 94 % and 993 °C at 32 % Au (Rose), 18 karat yellow 895 to 930 °C (a page quoting an alloy handbook)';

/**
 * Melting range of an alloy by mass fractions 0 to 1. The model agrees with published points within 10 K; stated are
 * ±15 K with copper in gold, ±5 K for gold-silver and silver-copper, less where one metal is more than nine tenths. No answer with less than 95 % of the three
 * metals, nor with lead, zinc, tin, tellurium, antimony or bismuth beyond a trace.
 */
export function meltingRange(fractions: Fractions): Result<MeltingRange> {
  const reason = whyNot(fractions);
  if (reason) return noAnswer(reason);
  const three = METALS.filter((metal) => (fractions.get(metal) ?? 0) > 0);
  if (three.length === 1 && fractions.get(three[0]!)! > PURE) return pureMetal(three[0]!);
  const moles = threeMoles(fractions);
  const spread = (moles[0] > 0 && moles[2] > 0 ? 15 : 5) * nearness(fractions);
  const solidus = solidusOf(moles);
  return answer(
    {
      liquidusCelsius: about(liquidusCelsius(moles), spread),
      solidusCelsius: solidus.celsius === undefined ? undefined : about(solidus.celsius, spread),
      withoutSolidus: solidus.reason,
    },
    [
      assume(`its liquidus to ± ${spread < 1 ? spread.toFixed(1) : spread.toFixed(0)} K`, MODEL),
      assume('the model lies within 10 K of published points', HELD),
      assume('what else is in the alloy counts as none', 'limit of the model'),
    ],
  );
}

const MOST_KEPT = 500;
const kept = new Map<string, Result<MeltingRange>>();

/** The same, to a thousandth of each metal, kept by composition: it takes 3 to 28 ms to work out. */
export function meltingRangeNear(fractions: Fractions): Result<MeltingRange> {
  const near = [...fractions].map(([symbol, share]): [string, number] => [symbol, Math.round(1000 * share) / 1000]);
  const key = near
    .map(([symbol, share]) => `${symbol}${share}`)
    .sort()
    .join(' ');
  const known = kept.get(key);
  if (known) return known;
  if (kept.size >= MOST_KEPT) kept.clear();
  const made = meltingRange(new Map(near));
  kept.set(key, made);
  return made;
}

const PURE = 0.999;

/** The model is held to the melting points of the pure metals: up to a tenth of others its error grows from nought. */
const WHOLLY_OFF = 0.1;

const nearness = (fractions: Fractions): number => {
  const most = Math.max(...METALS.map((metal) => fractions.get(metal) ?? 0));
  return Math.min(1, (1 - most) / WHOLLY_OFF);
};

function pureMetal(symbol: string): Result<MeltingRange> {
  const point = element(symbol)?.meltsAtC;
  if (!point) return noAnswer(`no melting point for ${symbol}`);
  const celsius = exactly(point.value);
  return answer({ liquidusCelsius: celsius, solidusCelsius: celsius, withoutSolidus: undefined }, [
    assume('a pure metal', point.source),
  ]);
}

function whyNot(fractions: Fractions): string | undefined {
  const known = METALS.reduce((sum, metal) => sum + (fractions.get(metal) ?? 0), 0);
  if (known < LEAST_KNOWN) return 'gold, silver and copper are less than 95 % of the alloy';
  const low = [...MOST_OF].find(([symbol, most]) => (fractions.get(symbol) ?? 0) > most);
  return low && `with ${element(low[0])?.name ?? low[0]} in it the alloy melts lower than the formula knows`;
}

/** Mole fractions of gold, silver and copper alone. */
export function threeMoles(fractions: Fractions): Moles3 {
  const three = new Map(METALS.map((metal) => [metal, fractions.get(metal) ?? 0]));
  const moles = molesFromMass(three, (symbol) => element(symbol)?.weight?.value ?? 1);
  return [moles.get('Au') ?? 0, moles.get('Ag') ?? 0, moles.get('Cu') ?? 0];
}

export interface Between {
  /** The metal by whose share the two compositions lie to either side: gold, or silver where there is none. */
  readonly metal: 'Au' | 'Ag';
  readonly from: LiquidusPoint;
  readonly to: LiquidusPoint;
  /** Of the alloy itself, as of gold, silver and copper together. */
  readonly share: number;
  /** By the straight line between the two, °C. */
  readonly lineCelsius: number;
}

export interface LiquidusPoint {
  readonly share: number;
  readonly celsius: number;
}

/** Twenty steps from none to all of a metal. */
const STEPS = 20;

/**
 * The liquidus of the compositions with the next twentieth of gold (else of silver) to either side, the other two metals sharing the rest as in the
 * alloy, °C. None for a pure metal, and where no liquidus is known.
 */
export function liquidusBetween(fractions: Fractions): Between | undefined {
  if (whyNot(fractions)) return undefined;
  const [gold, silver, copper] = METALS.map((metal) => fractions.get(metal) ?? 0) as [number, number, number];
  const whole = gold + silver + copper;
  const metal = gold > 0 ? 'Au' : 'Ag';
  const share = (gold > 0 ? gold : silver) / whole;
  const rest = gold > 0 ? silver + copper : copper;
  if (!(rest > (1 - PURE) * whole) || !(share > 0)) return undefined;
  // One that stands on a step lies between the next two.
  const near = Math.round(STEPS * share);
  const isOn = Math.abs(STEPS * share - near) < 0.05 && near > 0 && near < STEPS;
  const below = isOn ? near - 1 : Math.min(STEPS - 1, Math.floor(STEPS * share));
  const above = below + (isOn ? 2 : 1);
  const at = (wanted: number): LiquidusPoint => {
    const left = 1 - wanted;
    const others: [number, number] = gold > 0 ? [(left * silver) / rest, (left * copper) / rest] : [wanted, left];
    const mass = new Map([
      ['Au', gold > 0 ? wanted : 0],
      ['Ag', others[0]],
      ['Cu', others[1]],
    ]);
    return { share: wanted, celsius: meltingRangeNear(mass).value!.liquidusCelsius.best };
  };
  const [from, to] = [at(below / STEPS), at(above / STEPS)];
  const lineCelsius = from.celsius + ((to.celsius - from.celsius) * (share - from.share)) / (to.share - from.share);
  return { metal, from, to, share, lineCelsius };
}

const KELVIN = 273.15;
const COLDEST_K = 900;
const HOTTEST_K = 1400;
const HALVINGS = 24;

/** Halves the span until it is far below a kelvin; `above` says that the wanted temperature is higher. */
function seek(above: (kelvin: number) => boolean): number {
  let [low, high] = [COLDEST_K, HOTTEST_K];
  for (let round = 0; round < HALVINGS; round++) {
    const middle = (low + high) / 2;
    if (above(middle)) low = middle;
    else high = middle;
  }
  return (low + high) / 2 - KELVIN;
}

/** Highest temperature at which a solid forms out of the liquid, °C, by mole fractions of Au, Ag, Cu. */
export function liquidusCelsius(moles: Moles3): number {
  return seek((kelvin) => readiness('liquid', 'solid', moles, kelvin) > 0);
}

/** Silver-copper eutectic, °C (NIST solder systems): where the last liquid of a two-phase silver-copper alloy freezes. */
const EUTECTIC_CELSIUS = 779.1;
/** A solid that would part in two counts as parted beyond this: below it is rounding. */
const PARTS = 1e-7;

function solidusOf(moles: Moles3): { readonly celsius?: number; readonly reason?: string } {
  const celsius = seek((kelvin) => readiness('solid', 'liquid', moles, kelvin) <= 0);
  const parts = readiness('solid', 'solid', moles, celsius + KELVIN) > PARTS;
  if (!parts) return { celsius };
  if (moles[0] === 0) return { celsius: EUTECTIC_CELSIUS };
  return { reason: 'the solid is of two kinds, rich in silver and rich in copper: the last of it freezes lower' };
}

/** The lowest liquidus of a two-metal system, its metals by place (0 Au, 1 Ag, 2 Cu): °C and mole fraction of the second. */
export function lowestLiquidus(
  first: 0 | 1 | 2,
  second: 0 | 1 | 2,
): { readonly celsius: number; readonly share: number } {
  const at = (share: number): number => {
    const moles: [number, number, number] = [0, 0, 0];
    moles[first] = 1 - share;
    moles[second] = share;
    return liquidusCelsius(moles);
  };
  const golden = (Math.sqrt(5) - 1) / 2;
  let [left, right] = [0.05, 0.95];
  while (right - left > 1e-4) {
    const [a, b] = [right - golden * (right - left), left + golden * (right - left)];
    if (at(a) < at(b)) right = b;
    else left = a;
  }
  const share = (left + right) / 2;
  return { celsius: at(share), share };
}

/** Gold-silver by a straight line between the pure metals, °C: within 5 K of the assessed liquidus. Mass fraction 0 to 1. */
export function goldSilverByLine(goldFraction: number): number {
  const [gold, silver] = ['Au', 'Ag'].map((symbol) => element(symbol)?.meltsAtC?.value ?? 0) as [number, number];
  return goldFraction * gold + (1 - goldFraction) * silver;
}

/** Kelvins above the liquidus at which metal is poured, by kind of heat. */
export const USUAL_SUPERHEAT: ReadonlyMap<
  'clean metal' | 'with slag',
  { readonly kelvin: Estimate; readonly source: string }
> = new Map([
  ['clean metal', { kelvin: { low: 70, best: 90, high: 105 }, source: 'casting ranges on a jewellery forum' }],
  ['with slag', { kelvin: { low: 100, best: 150, high: 200 }, source: FROM_MEMORY }],
]);

export interface Superheat {
  /** Above the liquidus, K; below 0 when part of the metal was not molten. */
  readonly kelvin: Estimate;
  readonly verdict: 'not all molten' | 'may be not all molten' | 'cold' | 'usual' | 'hot';
}

/** How far above the liquidus a pour stood. Both temperatures in °C; a colour read by eye is worth ±30 to 50 K (from memory). */
export function superheat(
  pourCelsius: Estimate,
  liquidus: Estimate,
  usual: Estimate = USUAL_SUPERHEAT.get('clean metal')!.kelvin,
): Superheat {
  const kelvin = {
    best: pourCelsius.best - liquidus.best,
    low: pourCelsius.low - liquidus.high,
    high: pourCelsius.high - liquidus.low,
  };
  return { kelvin, verdict: verdictOf(kelvin, usual) };
}

function verdictOf(kelvin: Estimate, usual: Estimate): Superheat['verdict'] {
  if (kelvin.high < 0) return 'not all molten';
  if (kelvin.best < 0) return 'may be not all molten';
  if (kelvin.high < usual.low) return 'cold';
  return kelvin.low > usual.high ? 'hot' : 'usual';
}

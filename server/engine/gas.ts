/**
 * What leaves a melted charge as gas: water of hydration, carbonate, nitrate, burnt carbon, fume.
 * A best value for the balance of the heat, and bounds that hold whatever the charge did with its oxygen and its acid.
 */
import { molarMass, parseFormula } from '../vocabulary/compounds';
import { type MaterialLike, oxygenTakenBy, oxygenToCarbon, oxygenToSlag, type When } from '../vocabulary/materials';

/** So much of a material in a charge, with its standard uncertainty. */
export interface ChargeItem {
  readonly material: MaterialLike;
  readonly massGrams: number;
  /** Standard uncertainty of the mass, g. */
  readonly u: number;
}

/** One gas from one material, g. `what` is a formula; `O` is oxygen that a reductant drew from the rest of the charge. */
export interface GasPart {
  readonly material: string;
  readonly what: string;
  readonly grams: number;
  readonly low: number;
  readonly high: number;
  /** Of the material that gives it off, g; all of it that there is, g; and on what it hangs whether that leaves. */
  readonly of: number;
  readonly whole: number;
  readonly when?: When;
}

export interface GasGivenOff {
  /** Best value, g. */
  readonly grams: number;
  /** Least and most that the chemistry allows, g, at the masses as given. */
  readonly low: number;
  readonly high: number;
  /** Standard uncertainty, g, of chemistry and weighing together. */
  readonly u: number;
  /** Amount of gas for the best value, mol, in simple molecules (CO2 or CO, H2O, N2, O2, SO2). */
  readonly moles: number;
  readonly parts: readonly GasPart[];
}

/**
 * Gas from a melted charge. Masses in g, at least 0; give a feed of unknown make as a material of empty composition,
 * so that its possible acid and base widen the bounds.
 *
 * Carbonate of soda or potash gives its CO2 only for silica, borate or phosphate: best up to the bisilicate (two acid
 * oxygens for each of the alkali's), at most up to the monosilicate, at least what is left when every base has its
 * share; and for silver chloride, which it reduces. Niter always gives its nitrogen; of its oxygen, carbon takes its part away as gas, metal in the charge keeps
 * the practical part (lead oxidised 4 g/g of 5.12 g/g, Beringer & Beringer 1904), and where no such metal is known,
 * half is supposed to leave. Carbon draws further oxygen from litharge and iron oxide, as far as it is known to.
 *
 * Not for roasting, nor for what the crucible's own silica does over hours.
 */
export function gasGivenOff(charge: readonly ChargeItem[]): GasGivenOff {
  const acid = acidShare(charge);
  const oxygen = oxygenBook(charge);
  const perItem = charge.map((item) => [...ownGas(item, acid, oxygen.freeLeaving), ...drawnOxygen(item, oxygen)]);
  const parts = perItem.flat();
  const weighing = charge.map((item, at) => relativeShare(perItem[at]!, item) * item.u);
  return {
    grams: total(parts.map((part) => part.grams)),
    low: total(parts.map((part) => part.low)),
    // Ranges of one material's parts may not all be at their top together; no more can leave than was there.
    high: Math.min(total(parts.map((part) => part.high)), total(charge.map((item) => item.massGrams))),
    // One charge has one acid and one oxygen: its parts are wrong together, so their uncertainties add up plainly.
    u: Math.hypot(total(parts.map(rectangular)), ...weighing),
    moles: total(parts.map((part) => molesOfGas(part.what, part.grams))),
    parts,
  };
}

/** Carbonic acid that stays in the slag with soda and potash that found no acid, g. */
export function carbonateKept({ parts }: GasGivenOff): Band {
  const own = parts.filter(({ when, what }) => when === 'acid' && what === 'CO2');
  const kept = (of: (part: GasPart) => number): number => total(own.map((part) => Math.max(0, part.whole - of(part))));
  return { best: kept(({ grams }) => grams), low: kept(({ high }) => high), high: kept(({ low }) => low) };
}

/** Room that a gas takes, L: V = nRT/P. Pressure in Pa, one atmosphere unless said. */
export function gasLitres(moles: number, celsius: number, pascal = 101_325): number {
  return ((moles * GAS_CONSTANT * (celsius + 273.15)) / pascal) * 1000;
}

/**
 * Moles of gas from so much of a formula, counted as the molecules it ends as in the heat. Oxygen drawn by a reductant
 * (`O`) makes none: it is in the carbon's CO2 already. A text that is no formula counts as none.
 */
export function molesOfGas(what: string, grams: number): number {
  if (what === 'O' || !parseFormula(what)) return 0;
  return ((MOLECULES.get(what) ?? 1) * grams) / molarMass(what);
}

/** Molecules from one formula unit, where it is not one: starch, cream of tartar, sugar burnt; sal ammoniac split. */
const MOLECULES: ReadonlyMap<string, number> = new Map([
  ['C6H10O5', 11],
  ['C7H10O9', 12],
  ['C12H22O11', 23],
  ['NH4Cl', 2],
]);

/** J/(mol K), exact since 2019. */
const GAS_CONSTANT = 8.31446261815324;

/** Of the oxygen that niter has over, the part that metal in excess really takes: 4 g of lead for a theoretical 5.12. */
const PRACTICAL_UPTAKE = 4 / 5.1235;

/** A best value between its bounds; the unit is the holder's. */
interface Band {
  readonly best: number;
  readonly low: number;
  readonly high: number;
}

interface OxygenBook {
  /** Of the oxygen that niter and the like set free, the share that leaves. */
  readonly freeLeaving: Band;
  /** Oxygen bound in litharge and the like that reductants carry off, as a share of what they could take, 0 to 1. */
  readonly drawn: Band;
}

const total = (numbers: readonly number[]): number => numbers.reduce((sum, number) => sum + number, 0);

const clampShare = (part: number, whole: number): number => (whole <= 0 ? 0 : Math.min(1, Math.max(0, part / whole)));

/** Standard deviation about the best value, every value between the bounds being as likely as another. */
function rectangular({ grams, low, high }: GasPart): number {
  if (high <= low) return 0;
  return Math.sqrt(((high - grams) ** 3 + (grams - low) ** 3) / (3 * (high - low)));
}

function relativeShare(parts: readonly GasPart[], item: ChargeItem): number {
  return item.massGrams > 0 ? total(parts.map((part) => part.grams)) / item.massGrams : 0;
}

function ownGas({ material, massGrams }: ChargeItem, acid: Band, free: Band): GasPart[] {
  return material.givesOff.map((gas) => {
    const condition = gas.when === 'acid' ? acid : gas.when === 'untaken' ? free : ALWAYS;
    return {
      material: material.name,
      what: gas.what,
      grams: massGrams * gas.fraction * condition.best,
      low: massGrams * (gas.low ?? gas.fraction) * condition.low,
      high: massGrams * (gas.high ?? gas.fraction) * condition.high,
      of: massGrams,
      whole: massGrams * gas.fraction,
      when: gas.when,
    };
  });
}

const ALWAYS: Band = { best: 1, low: 1, high: 1 };

function drawnOxygen({ material, massGrams }: ChargeItem, { drawn }: OxygenBook): GasPart[] {
  const taken = oxygenTaken(material);
  if (!taken || drawn.high === 0) return [];
  const [practical, theory] = [massGrams * taken.practical, massGrams * taken.theory];
  return [
    {
      material: material.name,
      what: 'O',
      grams: practical * drawn.best,
      low: practical * drawn.low,
      high: theory * drawn.high,
      of: massGrams,
      whole: practical,
    },
  ];
}

const oxygenTaken = (material: MaterialLike) => material.takesOxygen ?? oxygenTakenBy(material.composition);

/** Who gives and who takes oxygen in the charge; carbon comes first, and takes free oxygen before bound. */
function oxygenBook(charge: readonly ChargeItem[]): OxygenBook {
  const sum = (perGram: (material: MaterialLike) => number) =>
    total(charge.map(({ material, massGrams }) => massGrams * perGram(material)));
  const free = sum(freeOxygen);
  const bound = sum((material) => Math.max(0, oxygenToCarbon(material.composition) - freeOxygen(material)));
  const practical = sum((material) => oxygenTaken(material)?.practical ?? 0);
  const theory = sum((material) => oxygenTaken(material)?.theory ?? 0);
  const metalTakes = sum((material) => oxygenToSlag(material.composition));

  const burnt = Math.min(practical, free);
  const over = free - burnt;
  const kept = metalTakes >= over ? over * PRACTICAL_UPTAKE : over / 2;
  return {
    freeLeaving: { best: clampShare(free - kept, free), low: 0, high: 1 },
    drawn: { best: clampShare(Math.min(practical - burnt, bound), practical), low: 0, high: clampShare(bound, theory) },
  };
}

const freeOxygen = (material: MaterialLike): number =>
  total(material.givesOff.filter((gas) => gas.when === 'untaken').map((gas) => gas.fraction));

/** Share of the carbonates' alkali that finds an acid. */
function acidShare(charge: readonly ChargeItem[]): Band {
  const sum = (perGram: (material: MaterialLike) => number) =>
    total(charge.map(({ material, massGrams }) => massGrams * perGram(material)));
  const alkali = sum(acidBoundMoles);
  const unknown = sum(unknownShare);
  const strong = sum((material) => oxygens(material, STRONG_BASE, bestShare) - acidBoundMoles(material));
  const weak = sum((material) => oxygens(material, WEAK_BASE, highShare));
  const best = sum((material) => oxygens(material, ACID, bestShare));
  const least = sum((material) => oxygens(material, ACID, lowShare));
  const most = sum((material) => oxygens(material, ACID, highShare)) + (unknown * 2) / molarMass('SiO2');
  const chloride = sum(takenByChloride);
  return {
    best: clampShare(best / 2 - strong + chloride, alkali),
    low: clampShare(least / 2 - strong - weak - unknown / molarMass('CaO'), alkali),
    high: clampShare(most - strong + chloride, alkali),
  };
}

/** Silver chloride takes its soda as an acid does, per g: 2AgCl + Na2CO3 = 2Ag + 2NaCl + CO2 + O. Equation from memory. */
const takenByChloride = (material: MaterialLike): number =>
  total(material.composition.map(({ what, fraction }) => (what === 'AgCl' ? fraction / (2 * molarMass(what)) : 0)));

/** Moles, per g, of the alkali that waits for an acid: as many as the gas it would set free. */
function acidBoundMoles(material: MaterialLike): number {
  const gases = material.givesOff.filter((gas) => gas.when === 'acid' && parseFormula(gas.what));
  return total(gases.map((gas) => gas.fraction / molarMass(gas.what)));
}

const unknownShare = (material: MaterialLike): number =>
  Math.max(0, 1 - total(material.composition.map((constituent) => constituent.fraction)));

type Constituent = MaterialLike['composition'][number];
const bestShare = (constituent: Constituent): number => constituent.fraction;
const lowShare = (constituent: Constituent): number => constituent.low ?? constituent.fraction;
const highShare = (constituent: Constituent): number => constituent.high ?? constituent.fraction;

/** Oxygens that an atom brings to the slag in its oxide: acid in silicate, borate, phosphate; base in the others. */
const ACID: ReadonlyMap<string, number> = new Map([
  ['Si', 2],
  ['B', 1.5],
  ['P', 2.5],
]);
const STRONG_BASE: ReadonlyMap<string, number> = new Map([
  ['Na', 0.5],
  ['K', 0.5],
  ['Ca', 1],
  ['Mg', 1],
]);
const WEAK_BASE: ReadonlyMap<string, number> = new Map([
  ['Pb', 1],
  ['Fe', 1],
  ['Zn', 1],
  ['Cu', 1],
  ['Al', 1.5],
]);

/** Moles of such oxygens per g of material; metals and halides, having no oxygen, bring none. */
function oxygens(
  material: MaterialLike,
  kind: ReadonlyMap<string, number>,
  share: (constituent: Constituent) => number,
): number {
  let moles = 0;
  for (const constituent of material.composition) {
    const atoms = parseFormula(constituent.what);
    if (!atoms?.has('O')) continue;
    const perMole = total([...atoms].map(([symbol, number]) => number * (kind.get(symbol) ?? 0)));
    moles += (share(constituent) * perMole) / molarMass(constituent.what);
  }
  return moles;
}

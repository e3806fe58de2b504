/** What leaves a pure substance when a charge that holds it is melted, by its formula. */
import { molarMass, parseFormula } from '../compounds';
import type { Constituent, GivenOff, OxygenTaken, When } from './row';

/** Moles of a gas per mole of the substance; `least` is the share of it that leaves at the least (1, or 0 for fume). */
interface Leaves {
  readonly what: string;
  readonly moles: number;
  readonly when: When;
  readonly least?: number;
}

/**
 * What leaves a material of this composition, g per g of it.
 * Constituents whose formula is not known here give nothing off, but for the water of a hydrate, which always leaves.
 */
export function givesOffOf(composition: readonly Constituent[]): GivenOff[] {
  return composition.flatMap((constituent) => leavesOf(constituent.what).map((leaves) => given(constituent, leaves)));
}

/** Oxygen that a material of this composition gives up to carbon, g per g: nitrate, and oxides of lead, iron, copper. */
export function oxygenToCarbon(composition: readonly Constituent[]): number {
  let grams = 0;
  for (const { what, fraction } of composition) grams += (fraction * OXYGEN * (YIELDS.get(what) ?? 0)) / massOr1(what);
  return grams;
}

/** Oxygen that metals and sulphides of this composition can take into the slag, g per g. */
export function oxygenToSlag(composition: readonly Constituent[]): number {
  let grams = 0;
  for (const { what, fraction } of composition) grams += (fraction * OXYGEN * (HOLDS.get(what) ?? 0)) / massOr1(what);
  return grams;
}

/** Oxygen that carbon or starch needs to burn to CO2 and water, g per g, nothing practical known of it. */
export function oxygenTakenBy(composition: readonly Constituent[]): OxygenTaken | undefined {
  let theory = 0;
  for (const { what, fraction } of composition) theory += (fraction * OXYGEN * (BURNS.get(what) ?? 0)) / massOr1(what);
  return theory === 0 ? undefined : { practical: theory, theory, source: 'burnt to carbon dioxide and water' };
}

function given({ what, fraction, low, high }: Constituent, leaves: Leaves): GivenOff {
  const share = (leaves.moles * molarMass(leaves.what)) / molarMass(what);
  if (leaves.when === 'fume')
    return { what: leaves.what, when: 'fume', fraction: 0, low: 0, high: share * (high ?? fraction) };
  const least = leaves.least ?? 1;
  const ranges = low !== undefined || high !== undefined || least < 1;
  const bounds = ranges ? { low: share * least * (low ?? fraction), high: share * (high ?? fraction) } : {};
  return { what: leaves.what, when: leaves.when, fraction: share * fraction, ...bounds };
}

function leavesOf(formula: string): readonly Leaves[] {
  const dot = Math.max(...[...'·•.*'].map((mark) => formula.lastIndexOf(mark)));
  const water = dot === -1 ? 0 : moleculesOfWater(formula.slice(dot + 1));
  if (water === 0) return LEAVES.get(formula) ?? [];
  return [{ what: 'H2O', moles: water, when: 'heat' }, ...(LEAVES.get(formula.slice(0, dot)) ?? [])];
}

/** How many molecules of water `10H2O` is; 0 for what is not water. */
function moleculesOfWater(text: string): number {
  const atoms = text.endsWith('H2O') ? parseFormula(text) : undefined;
  return atoms?.size === 2 ? (atoms.get('O') ?? 0) : 0;
}

const OXYGEN = molarMass('O');

const massOr1 = (formula: string): number => (parseFormula(formula) ? molarMass(formula) : 1);

const carbonate: readonly Leaves[] = [{ what: 'CO2', moles: 1, when: 'acid' }];
const earthCarbonate: readonly Leaves[] = [{ what: 'CO2', moles: 1, when: 'heat' }];
/** 2 KNO3 = K2O + N2 + 5 O; the nitrogen always leaves, the oxygen if nothing takes it. */
const nitrate: readonly Leaves[] = [
  { what: 'N2', moles: 0.5, when: 'heat' },
  { what: 'O2', moles: 1.25, when: 'untaken' },
];
const hydroxide = (moles: number): readonly Leaves[] => [{ what: 'H2O', moles, when: 'heat' }];
const fumes = (...what: string[]): readonly Leaves[] => what.map((each) => ({ what: each, moles: 1, when: 'fume' }));
const boilsAway = (what: string): readonly Leaves[] => [{ what, moles: 1, when: 'heat' }];

/** Reactions: common chemistry, equations from memory. `least` of carbon and starch: what may stay as char, a guess. */
const LEAVES: ReadonlyMap<string, readonly Leaves[]> = new Map([
  ['H2O', boilsAway('H2O')],
  ['Na2CO3', carbonate],
  ['K2CO3', carbonate],
  [
    'NaHCO3',
    [
      { what: 'H2O', moles: 0.5, when: 'heat' },
      { what: 'CO2', moles: 0.5, when: 'heat' },
      { what: 'CO2', moles: 0.5, when: 'acid' },
    ],
  ],
  ['CaCO3', earthCarbonate],
  ['MgCO3', earthCarbonate],
  ['Ca(OH)2', hydroxide(1)],
  ['Mg(OH)2', hydroxide(1)],
  ['H3BO3', hydroxide(1.5)],
  ['FeOOH', hydroxide(0.5)],
  ['NaOH', [{ what: 'H2O', moles: 0.5, when: 'acid' }]],
  ['KNO3', nitrate],
  ['NaNO3', nitrate],
  ['Pb3O4', [{ what: 'O2', moles: 0.5, when: 'untaken' }]],
  ['MnO2', [{ what: 'O2', moles: 0.5, when: 'untaken' }]],
  ['Ag2O', [{ what: 'O2', moles: 0.5, when: 'heat' }]],
  ['AgCl', [{ what: 'O2', moles: 0.25, when: 'untaken', least: 0 }]],
  [
    'FeS2',
    [
      { what: 'S', moles: 1, when: 'heat', least: 0 },
      { what: 'S', moles: 1, when: 'fume' },
    ],
  ],
  ['FeAsS', fumes('As', 'S')],
  ['CuFeS2', fumes('S', 'S')],
  ['ZnS', fumes('S')],
  ['PbS', fumes('S')],
  ['Zn', fumes('Zn')],
  ['NaCl', fumes('NaCl')],
  ['S', boilsAway('S')],
  ['Hg', boilsAway('Hg')],
  ['HNO3', boilsAway('HNO3')],
  ['HCl', boilsAway('HCl')],
  ['H2SO4', boilsAway('H2SO4')],
  ['NH3', boilsAway('NH3')],
  ['NH4Cl', boilsAway('NH4Cl')],
  ['C', [{ what: 'C', moles: 1, when: 'burns', least: 0 }]],
  ['C6H10O5', [{ what: 'C6H10O5', moles: 1, when: 'burns', least: 0.7 }]],
  ['C12H22O11', [{ what: 'C12H22O11', moles: 1, when: 'burns', least: 0.7 }]],
  [
    'KHC4H4O6',
    [
      { what: 'C7H10O9', moles: 0.5, when: 'burns', least: 0.7 },
      { what: 'CO2', moles: 0.5, when: 'acid' },
    ],
  ],
] satisfies [string, readonly Leaves[]][]);

/** Atoms of oxygen that a mole gives to carbon: lead and copper to metal, iron to its lower oxide, as a slag keeps it. */
const YIELDS: ReadonlyMap<string, number> = new Map([
  ['PbO', 1],
  ['Pb3O4', 4],
  ['Fe2O3', 1],
  ['FeOOH', 0.5],
  ['Fe3O4', 1],
  ['CuO', 1],
  ['Cu2O', 1],
  ['MnO2', 1],
  ['KNO3', 2.5],
  ['NaNO3', 2.5],
]);

/** Atoms of oxygen that a mole takes into the slag, metals as their lower oxides, pyrite as sulphate and ferric oxide. */
const HOLDS: ReadonlyMap<string, number> = new Map([
  ['Cu', 0.5],
  ['Pb', 1],
  ['Zn', 1],
  ['Fe', 1],
  ['Sn', 2],
  ['Ni', 1],
  ['Al', 1.5],
  ['FeS2', 7.5],
  ['PbS', 4],
  ['ZnS', 4],
]);

/** Atoms of oxygen to burn a mole to carbon dioxide and water. */
const BURNS: ReadonlyMap<string, number> = new Map([
  ['C', 2],
  ['C6H10O5', 12],
  ['C12H22O11', 24],
  ['KHC4H4O6', 5],
]);

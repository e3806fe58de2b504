/** Oxidising and reducing in the crucible: lead brought down, flour and niter for a button, iron and niter for sulphides. */
import { molarMass } from '../../vocabulary/compounds';
import {
  type Assumption,
  ATOMIC_WEIGHTS,
  answer,
  assume,
  BERINGER,
  type Estimate,
  FROM_MEMORY,
  noAnswer,
  type Result,
} from './result';

const LEAD = molarMass('Pb');

/** Lead that an agent brings down from litharge, g per g; below 0 for what takes lead back into the slag. */
export interface ReducingPower {
  readonly agent: string;
  readonly leadPerGram: Estimate;
  readonly source: string;
}

const power = (agent: string, low: number, best: number, high: number, source: string): ReducingPower => ({
  agent,
  leadPerGram: { low, best, high },
  source,
});

/** Practical figures; a material's name or a mineral's formula. Niter takes less in an acid slag, more in a basic one. */
export const REDUCING_POWERS: readonly ReducingPower[] = [
  power('charcoal', 22, 22.6, 30, `${BERINGER}; the high end ${FROM_MEMORY}`),
  power('flour', 10, 11.2, 12, `${BERINGER}; the ends ${FROM_MEMORY}`),
  power('tartar', 5, 5.6, 8, `half of flour, ${BERINGER}; the ends ${FROM_MEMORY}`),
  power('FeS2', 8.6, 11, 12.9, `${BERINGER}; the ends by formula`),
  power('ZnS', 7, 7.5, 8, BERINGER),
  power('CuFeS2', 7, 7.5, 8, BERINGER),
  power('FeAsS', 7, 7.5, 8, BERINGER),
  power('Cu12Sb4S13', 7, 7.5, 8, `tetrahedrite, ${BERINGER}`),
  power('Sb2S3', 5.5, 6, 8, BERINGER),
  power('PbS', 2.6, 3.1, 3.4, BERINGER),
  power('niter', -5.3, -4, -3.2, BERINGER),
  power('iron-rust', -1.3, -1, -1, `a little more than its own weight, ${BERINGER}; theory by formula`),
  power('manganese-dioxide', -2.4, -2, -1.8, BERINGER),
  power('red-lead', -0.302, -0.2, -0.2, `5 g holds up 1 g, ${BERINGER}; theory by formula`),
];

const BY_AGENT: ReadonlyMap<string, ReducingPower> = new Map(REDUCING_POWERS.map((row) => [row.agent, row]));

export const reducingPower = (agent: string): ReducingPower | undefined => BY_AGENT.get(agent);

/** Reducing power found by one's own trial fusion with litharge in excess, g lead per g. */
export const reducingPowerOfTrial = (leadGrams: number, agentGrams: number): number => leadGrams / agentGrams;

/** Rules of thumb in Beringer & Beringer 1904: a gram of flour brings down 11 g, niter takes 4 g, red lead a fifth of itself. */
const LEAD_PER_FLOUR = 11;
const LEAD_PER_NITER = 4;
const LEAD_PER_RED_LEAD = 0.2;

/** `flour brings down 11.2 g lead a gram, 10 to 12`: how much it does hangs on its make and on the slag. */
export const powerGround = ({ agent, leadPerGram, source }: ReducingPower): Assumption => {
  const [least, most] = [leadPerGram.low, leadPerGram.high].map(Math.abs).sort((a, b) => a - b);
  const does = leadPerGram.best < 0 ? 'takes back' : 'brings down';
  return assume(`${agent} ${does} ${Math.abs(leadPerGram.best)} g lead a gram, ${least} to ${most}`, source);
};

export interface ButtonCharge {
  /** What reduces and what oxidises, g by material name or mineral formula; what is in no table counts as inert. */
  readonly agentGrams: ReadonlyMap<string, number>;
  /** Lead in the charge's litharge and red lead, g, if known: no more can come down. */
  readonly leadAvailableGrams?: number;
}

/**
 * Lead button of a charge, g: Σ m × reducing power, niter and red lead taking their part off. Never below 0 nor above
 * the lead there is. The bounds take every agent at the same end.
 */
export function leadButton({
  agentGrams,
  leadAvailableGrams = Number.POSITIVE_INFINITY,
}: ButtonCharge): Result<Estimate> {
  const known = [...agentGrams].flatMap(([agent, grams]) => {
    const row = reducingPower(agent);
    return row ? [{ row, grams }] : [];
  });
  if (known.length === 0) return noAnswer('nothing in the charge is known to bring lead down');
  const sum = (end: keyof Estimate): number =>
    known.reduce((total, { row, grams }) => total + grams * row.leadPerGram[end], 0);
  const held = (grams: number): number => Math.min(leadAvailableGrams, Math.max(0, grams));
  return answer(
    { best: held(sum('best')), low: held(sum('low')), high: held(sum('high')) },
    known.map(({ row }) => powerGround(row)),
  );
}

export interface ButtonWanted {
  readonly buttonGrams: number;
  readonly redLeadGrams?: number;
  /** Lead that the ore brings down by itself, g: its weight × its reducing power. */
  readonly oreReducesGrams?: number;
}

export interface ButtonAdvice {
  /** One of the two is above 0, or neither. */
  readonly flourGrams: Estimate;
  readonly niterGrams: Estimate;
}

const RULES: readonly Assumption[] = [
  assume('flour brings down 11 g lead a gram, 10 to 12', `${BERINGER}; the ends ${FROM_MEMORY}`),
  assume('niter takes 4 g lead a gram, 3.2 in a very acid slag to 5.3 in a very basic one', BERINGER),
  assume('red lead holds up a fifth of its weight', BERINGER),
];

/**
 * Flour or niter for a lead button: flour = (button + red lead/5 − ore's own)/11, niter = (ore's own − button − red
 * lead/5)/4, all in g. An ore that reduces strongly wants niter, and then the caution about niter with sulphides.
 */
export function forButton({ buttonGrams, redLeadGrams = 0, oreReducesGrams = 0 }: ButtonWanted): Result<ButtonAdvice> {
  if (!(buttonGrams >= 0 && redLeadGrams >= 0 && oreReducesGrams >= 0)) return noAnswer('a weight is below 0');
  const lacks = buttonGrams + LEAD_PER_RED_LEAD * redLeadGrams - oreReducesGrams;
  const flour = Math.max(0, lacks);
  const niter = Math.max(0, -lacks);
  return answer(
    {
      flourGrams: { best: flour / LEAD_PER_FLOUR, low: flour / 12, high: flour / 10 },
      niterGrams: { best: niter / LEAD_PER_NITER, low: niter / 5.3, high: niter / 3.2 },
    },
    RULES,
  );
}

/** Ore and red lead of Beringer's working charge, and what he leaves of lead for it beside the ore's own. */
const CHARGE_ORE_GRAMS = 20;
const TRIAL_ORE_GRAMS = 3;

/**
 * Niter for a charge after a preliminary fusion, g: (ore/3 × lead − allowance)/4. Beringer's table for 20 g ore with
 * 80 g red lead allows 24 g of lead; the trial is of 3 g ore. Below 0 is none: the charge wants flour.
 */
export function niterAfterTrial(
  trialLeadGrams: number,
  allowanceGrams = 24,
  chargeOreGrams = CHARGE_ORE_GRAMS,
  trialOreGrams = TRIAL_ORE_GRAMS,
): Result<number> {
  if (!(trialOreGrams > 0 && trialLeadGrams >= 0)) return noAnswer('the trial needs its ore and its lead');
  const reduces = (chargeOreGrams / trialOreGrams) * trialLeadGrams;
  return answer(Math.max(0, (reduces - allowanceGrams) / LEAD_PER_NITER), [
    assume(
      `${allowanceGrams} g of the lead is wanted: button and red lead`,
      `table of preliminary fusions, ${BERINGER}`,
    ),
  ]);
}

/** A sulphide: oxygens that a mole takes to dioxide with the lower oxide, and to sulphate with the higher. */
interface Sulphide {
  readonly lower: number;
  readonly higher: number;
  /** Lead of its own that comes down too, mol. */
  readonly ownLead?: number;
}

/** Equations from memory. */
const SULPHIDES: ReadonlyMap<string, Sulphide> = new Map<string, Sulphide>([
  ['FeS2', { lower: 5, higher: 7.5 }],
  ['ZnS', { lower: 3, higher: 4 }],
  ['PbS', { lower: 2, higher: 3, ownLead: 1 }],
  ['CuFeS2', { lower: 5.5, higher: 8.5 }],
  ['FeAsS', { lower: 4.5, higher: 7 }],
  ['Sb2S3', { lower: 9, higher: 13 }],
]);

/** Lead that a sulphide brings down by its formula, g per g: from sulphur dioxide and lower oxide to sulphate and higher. */
export function sulphideReduces(formula: string): Result<Estimate> {
  const row = SULPHIDES.get(formula);
  if (!row) return noAnswer(`no equation for ${formula}`);
  const lead = (oxygens: number): number => ((oxygens + (row.ownLead ?? 0)) * LEAD) / molarMass(formula);
  const practical = reducingPower(formula)?.leadPerGram.best;
  const [low, high] = [lead(row.lower), lead(row.higher)];
  const best = Math.min(high, Math.max(low, practical ?? (low + high) / 2));
  return answer({ low, high, best }, [
    assume(
      'to sulphur dioxide and lower oxide at the least, to sulphate and higher oxide at the most',
      `${ATOMIC_WEIGHTS}; equations ${FROM_MEMORY}`,
    ),
  ]);
}

/** Moles of oxygen that a mole of niter gives: 2 KNO3 = K2O + N2 + 5 O. */
const NITER_OXYGEN = 2.5;

/** Lead that a gram of niter could oxidise at the most, g. */
export const NITER_THEORY = (NITER_OXYGEN * LEAD) / molarMass('KNO3');

/** Niter for a sulphide, g: to sulphur dioxide at the least, to sulphate and higher oxide at the most. */
export function niterForSulphide(formula: string, grams: number): Result<Estimate> {
  const row = SULPHIDES.get(formula);
  if (!row) return noAnswer(`no equation for ${formula}`);
  const of = (oxygens: number): number => (grams * oxygens * molarMass('KNO3')) / (NITER_OXYGEN * molarMass(formula));
  const lower = row.lower + (row.ownLead ? 1 : 0);
  const higher = row.higher + (row.ownLead ? 1 : 0);
  return answer({ low: of(lower), high: of(higher), best: (of(lower) + of(higher)) / 2 }, [
    assume('all of the oxygen of the niter is taken', `${ATOMIC_WEIGHTS}; equations ${FROM_MEMORY}`),
  ]);
}

/** Iron for a sulphide by the sulphur that it can lose to iron, g: nails are drawn before the pour. */
export function ironForSulphide(formula: string, grams: number): Result<Estimate> {
  const sulphurs = IRON_TAKES.get(formula);
  if (sulphurs === undefined) return noAnswer(`no equation for ${formula} with iron`);
  const least = (grams * sulphurs * molarMass('Fe')) / molarMass(formula);
  return answer({ low: least, best: 1.2 * least, high: 1.5 * least }, [
    assume('iron takes the sulphur as FeS; a fifth to a half over', FROM_MEMORY),
  ]);
}

/** Moles of iron for a mole: pyrite keeps half of its sulphur as FeS of its own. From memory. */
const IRON_TAKES: ReadonlyMap<string, number> = new Map([
  ['PbS', 1],
  ['FeS2', 1],
  ['Sb2S3', 3],
  ['CuFeS2', 0.5],
]);

/** Oxide that a gram of metal becomes, g per g, by formula of the oxide with one kind of metal. */
export function oxidePerMetal(metal: string, oxide: string): Result<number> {
  const atoms = OXIDE_ATOMS.get(oxide);
  if (!atoms || atoms[0] !== metal) return noAnswer(`no oxide ${oxide} of ${metal}`);
  return answer(molarMass(oxide) / (atoms[1] * molarMass(metal)), [assume(oxide, ATOMIC_WEIGHTS)]);
}

/** Atoms of metal in an oxide. */
const OXIDE_ATOMS: ReadonlyMap<string, readonly [string, number]> = new Map<string, readonly [string, number]>([
  ['CuO', ['Cu', 1]],
  ['Cu2O', ['Cu', 2]],
  ['PbO', ['Pb', 1]],
  ['ZnO', ['Zn', 1]],
  ['Sb2O3', ['Sb', 2]],
  ['Bi2O3', ['Bi', 2]],
  ['FeO', ['Fe', 1]],
  ['Fe3O4', ['Fe', 3]],
  ['Fe2O3', ['Fe', 2]],
  ['SnO2', ['Sn', 1]],
  ['NiO', ['Ni', 1]],
  ['CdO', ['Cd', 1]],
  ['As2O3', ['As', 2]],
  ['TeO2', ['Te', 1]],
]);

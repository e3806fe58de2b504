/** The work of a route: what cupelling, parting and melting leave of a lot, and what they take from the shelf. */
import { decimal } from '../../quantity/decimal';
import { roundMoney, showMoney } from '../../quantity/money';
import { showDigits } from '../../quantity/show';
import { destinyOf } from '../accounts/destiny';
import { acidFor } from '../bench/acid';
import { leadForLot } from '../bench/cupel-lead';
import { silverToAdd, USUAL_RATIO } from '../bench/inquart';
import { type Assumption, assume, between, COMMON_PRACTICE, exactly } from '../bench/result';
import type { Acid } from '../bench/wet';
import { findMaterial } from '../shelf';
import type { Workshop } from '../workshop';
import { type Buyer, type Cost, evenly, type Factor, type Given, type Piece, type Worked } from './route';

/** Hours of work for each step, however they are known. */
export interface Hours {
  readonly cupel: number;
  readonly part: number;
  readonly melt: number;
}

/** Where the journal has no times of its own. */
export const USUAL_HOURS: Hours = { cupel: 2, part: 3, melt: 1 };

export interface Bench {
  readonly workshop: Workshop;
  readonly hours: Hours;
  readonly acid: Acid & { readonly name: string };
  readonly buyer: Buyer;
}

const kept = (name: string, verb: string, group: 'metal', fate: 'gold' | 'silver'): Factor => {
  const { low, high } = destinyOf(verb, group, fate, { smelt: false, acid: undefined })!.held;
  return evenly(name, low, high);
};

/** What stays of each metal, by the same table that the metal accounts go by. */
const CUPEL_GOLD = kept('gold kept by the cupel', 'cupel', 'metal', 'gold');
const CUPEL_SILVER = kept('silver kept by the cupel', 'cupel', 'metal', 'silver');
const PART_GOLD = kept('gold kept in parting', 'part', 'metal', 'gold');
const PART_SILVER = kept('silver left in the gold', 'part', 'metal', 'silver');
const DROP_SILVER = kept('silver thrown down', 'drop', 'metal', 'silver');
const MELT_GOLD = kept('gold kept in melting', 'melt', 'metal', 'gold');
const MELT_SILVER = kept('silver kept in melting', 'melt', 'metal', 'silver');

export const CUPEL_FACTORS: readonly Factor[] = [CUPEL_GOLD, CUPEL_SILVER];
export const PART_FACTORS: readonly Factor[] = [PART_GOLD, PART_SILVER, DROP_SILVER];
export const MELT_FACTORS: readonly Factor[] = [MELT_GOLD, MELT_SILVER];

const percent = (one: Factor): string => {
  const half = one.u * Math.sqrt(3);
  return `${(100 * (one.best - half)).toFixed(2)} to ${(100 * (one.best + half)).toFixed(2)} %`;
};

const keptWords = (what: string, gold: Factor, silver: Factor): Assumption =>
  assume(`${what} keeps ${percent(gold)} of the gold and ${percent(silver)} of the silver`, COMMON_PRACTICE);

export const CUPEL_ASSUMED = [keptWords('a cupelled bead', CUPEL_GOLD, CUPEL_SILVER)];
export const MELT_ASSUMED = [keptWords('a melt', MELT_GOLD, MELT_SILVER)];
export const PART_ASSUMED = [
  assume(
    `parting keeps ${percent(PART_GOLD)} of the gold and leaves ${percent(PART_SILVER)} of the silver in it`,
    COMMON_PRACTICE,
  ),
  assume(`of the silver in solution ${percent(DROP_SILVER)} is thrown down by copper`, COMMON_PRACTICE),
  assume(`silver is added to ${USUAL_RATIO} to 1 of gold, and comes back`, COMMON_PRACTICE),
  assume('gold and silver go in one shipment: what is charged for a shipment is charged once', COMMON_PRACTICE),
];

const of = (given: Given, { name, best }: Factor): number => given.get(name) ?? best;

/** Gold and silver, and a trace of the rest. */
export const cupelled = ({ grams, gold, silver }: Piece, given: Given): Piece => {
  const [fineGold, fineSilver] = [grams * gold * of(given, CUPEL_GOLD), grams * silver * of(given, CUPEL_SILVER)];
  const bead = fineGold + fineSilver;
  return bead > 0
    ? { grams: bead, gold: fineGold / bead, silver: fineSilver / bead }
    : { grams: 0, gold: 0, silver: 0 };
};

export const meltedTogether = (pieces: readonly Piece[], given: Given): Piece => {
  const grams = pieces.reduce((sum, one) => sum + one.grams, 0);
  const fine = (pick: (one: Piece) => number): number => pieces.reduce((sum, one) => sum + one.grams * pick(one), 0);
  const gold = fine((one) => one.gold) * of(given, MELT_GOLD);
  const silver = fine((one) => one.silver) * of(given, MELT_SILVER);
  return grams > 0 ? { grams, gold: gold / grams, silver: silver / grams } : { grams: 0, gold: 0, silver: 0 };
};

/** The gold, and what silver is left over once that which was added has been taken back; below nought where some of it was lost. */
export const parted = (
  { grams, gold, silver }: Piece,
  given: Given,
): { readonly gold: Piece; readonly silverGrams: number; readonly silverIn: number } => {
  const [fineGold, fineSilver] = [grams * gold, grams * silver];
  const added = silverToAdd(fineGold, fineSilver, USUAL_RATIO);
  const whole = fineSilver + added;
  const left = whole * of(given, PART_SILVER);
  const out = fineGold * of(given, PART_GOLD);
  const sponge = out + left;
  return {
    gold: sponge > 0 ? { grams: sponge, gold: out / sponge, silver: left / sponge } : { grams: 0, gold: 0, silver: 0 },
    silverGrams: (whole - left) * of(given, DROP_SILVER) - added,
    silverIn: whole,
  };
};

/** Silver thrown down on copper and melted: about so fine (common practice, no source). */
const DROPPED_FINENESS = 0.99;

/** What a lot becomes by these steps, and what they cost. */
export const workedBy = (steps: readonly ('cupel' | 'part')[], lot: Piece, given: Given, bench: Bench): Worked => {
  let piece = lot;
  const pieces: Piece[] = [];
  const costs: Cost[] = [];
  for (const step of steps) {
    costs.push(...labour(bench, step));
    if (step === 'cupel') {
      costs.push(...leadCosts(piece, bench));
      piece = cupelled(piece, given);
      continue;
    }
    const made = parted(piece, given);
    costs.push(...acidCosts(piece, made.silverIn, bench));
    if (made.silverGrams > 0)
      pieces.push({ grams: made.silverGrams / DROPPED_FINENESS, gold: 0, silver: DROPPED_FINENESS });
    else costs.push(...silverLost(-made.silverGrams, bench));
    piece = made.gold;
  }
  return { pieces: [piece, ...pieces], costs, part: 1 };
};

/** Nothing where the workshop names no wage: then work is not counted. */
export const labour = ({ workshop, hours, buyer }: Bench, step: keyof Hours): readonly Cost[] => {
  const wage = workshop.shop.labour;
  if (!wage) return [];
  const cost = buyer.convert({ amount: wage.amount.times(hours[step]), currency: wage.currency });
  return [{ what: `labour, ${step}`, size: `${hours[step]} h`, money: cost && roundMoney(cost) }];
};

/** By the shop's own price of a material, where it has one. */
const fromShelf = (name: string, grams: number, { workshop, buyer }: Bench): Cost => {
  const price = findMaterial(workshop, name)?.price;
  const cost =
    price?.per && buyer.convert({ amount: price.amount.times(grams).div(price.per.factor), currency: price.currency });
  return { what: name, size: `${showDigits(decimal(grams), 3)} g`, money: cost ? roundMoney(cost) : undefined };
};

const leadCosts = ({ grams, gold, silver }: Piece, bench: Bench): readonly Cost[] => {
  const base = Math.max(0, grams * (1 - gold - silver));
  const lead = leadForLot(grams, exactly(base)).value?.addGrams.best ?? 0;
  return lead > 0 ? [fromShelf('lead', lead, bench)] : [];
};

const acidCosts = ({ grams, gold, silver }: Piece, silverGrams: number, bench: Bench): readonly Cost[] => {
  const copper = Math.max(0, grams * (1 - gold - silver));
  const wanted = acidFor(
    new Map([
      ['Ag', exactly(silverGrams)],
      ['Cu', between(copper, copper)],
    ]),
    bench.acid,
  );
  const millilitres = wanted.value?.acidMillilitres.best ?? 0;
  const dropping = silverGrams * COPPER_FOR_SILVER;
  return [
    fromShelf(bench.acid.name, millilitres * bench.acid.gramsPerMillilitre, bench),
    fromShelf('copper', dropping, bench),
  ];
};

/** Copper that throws down a gram of silver: 63.546 / (2 × 107.868), by atomic weights. */
const COPPER_FOR_SILVER = 63.546 / (2 * 107.8682);

const silverLost = (grams: number, { buyer }: Bench): readonly Cost[] => {
  const price = buyer.priceFor('Ag');
  if (!(grams > 0) || !price) return [];
  const cost = buyer.convert({ amount: price.amount.times(grams).div(price.perGrams), currency: price.currency });
  return [{ what: 'silver not got back', size: `${showDigits(decimal(grams), 2)} g`, money: cost && roundMoney(cost) }];
};

/** For the line of a report: `lead 152 g 0.64 USD`. */
export const costWords = ({ what, size, money: cost }: Cost): string =>
  `${what} ${size}, ${cost ? showMoney(cost) : 'no price on file'}`;

/** The ways to one buyer that the state of a lot allows. */
import { assume } from '../../engine/bench/result';
import { type Acid, nitricDensity } from '../../engine/bench/wet';
import { isMetalKind } from '../../engine/charge';
import type { Buyer, Cost, Factor, Given, Piece, Route } from '../../engine/selling/route';
import {
  type Bench,
  CUPEL_ASSUMED,
  CUPEL_FACTORS,
  labour,
  MELT_ASSUMED,
  MELT_FACTORS,
  meltedTogether,
  PART_ASSUMED,
  PART_FACTORS,
  workedBy,
} from '../../engine/selling/work';
import { findMaterial } from '../../engine/shelf';
import type { Workshop } from '../../engine/workshop';
import { decimal } from '../../quantity/decimal';
import { roundMoney, timesMoney } from '../../quantity/money';
import { accountsOf } from '../accounts';
import type { Workspace } from '../workspace';
import { byPractice, fullValue } from './buyers';
import type { HoursKnown } from './hours';
import type { LotKnown } from './known';

export interface Setting {
  readonly lot: LotKnown;
  readonly hours: HoursKnown;
}

/** From this share on a lot has base metal worth cupelling away. */
const LEAST_BASE = 0.02;
/** With more base metal a lot is cupelled before it is parted. */
const MOST_BASE_TO_PART = 0.05;
/** From this share on gold is fine: there is nothing to part. */
const FINE = 0.99;

export const routesTo = (
  workspace: Workspace,
  buyer: Buyer,
  factors: readonly Factor[],
  setting: Setting,
): readonly Route[] => {
  const { workshop } = workspace;
  const bench: Bench = { workshop, hours: setting.hours, acid: acidOf(workshop), buyer };
  const [gold, silver] = ['gold', 'silver'].map((name) => factors.find((one) => one.name === name)?.best);
  const base = silver === undefined ? undefined : 1 - gold! - silver;
  const pieceOf = (given: Given): Piece => ({
    grams: given.get('grams')!,
    gold: given.get('gold')!,
    silver: given.get('silver') ?? 0,
  });
  const work =
    (steps: readonly ('cupel' | 'part')[]): Route['work'] =>
    (given) =>
      workedBy(steps, pieceOf(given), given, bench);
  const waits = buyer.days ?? 0;
  const sell: Route = { key: 'sell', buyer, factors, work: work([]), days: waits, assumed: [] };
  // A sum that was offered is for the lot as it is.
  if (buyer.lump) return [{ ...sell, interest: workshop.shop.interest }];
  const routes: Route[] = [sell];
  const isBase = base === undefined || base >= LEAST_BASE;
  const toPart = gold! < FINE && (silver ?? 0) > 0;
  if (isBase)
    routes.push({
      key: 'cupel',
      buyer,
      factors: [...factors, ...CUPEL_FACTORS],
      work: work(['cupel']),
      days: waits + 1,
      assumed: CUPEL_ASSUMED,
    });
  if (isBase && toPart)
    routes.push({
      key: 'cupel and part',
      buyer,
      factors: [...factors, ...CUPEL_FACTORS, ...PART_FACTORS],
      work: work(['cupel', 'part']),
      days: waits + 3,
      assumed: [...CUPEL_ASSUMED, ...PART_ASSUMED],
    });
  if (toPart && base !== undefined && base <= MOST_BASE_TO_PART)
    routes.push({
      key: 'part',
      buyer,
      factors: [...factors, ...PART_FACTORS],
      work: work(['part']),
      days: waits + 2,
      assumed: PART_ASSUMED,
    });
  const together = togetherRoute(workspace, buyer, factors, setting, bench, pieceOf);
  if (together) routes.push(together);
  const { interest } = workshop.shop;
  const waiting = routes.map((route): Route => ({ ...route, interest }));
  return buyer.by === 'common practice' ? waiting.map(byPractice) : waiting;
};

/** Only where the lot alone is below what the buyer takes: with as few others of ours as reach it, and of these the lightest that do. */
const togetherRoute = (
  workspace: Workspace,
  buyer: Buyer,
  factors: readonly Factor[],
  { lot }: Setting,
  bench: Bench,
  pieceOf: (given: Given) => Piece,
): Route | undefined => {
  const least = buyer.minimumGrams ?? 0;
  const own = factors.find(({ name }) => name === 'grams')!.best;
  if (own >= least) return undefined;
  const others = fewestFor(least - own, othersOf(workspace, lot.lot));
  if (!others) return undefined;
  const pieces = others.map(({ piece }) => piece);
  const worth = (one: Piece): number => fullValue(buyer, one);
  return {
    key: 'melt together',
    buyer,
    factors: [...factors, ...MELT_FACTORS],
    work: (given) => {
      const piece = pieceOf(given);
      const all = worth(piece) + pieces.reduce((sum, one) => sum + worth(one), 0);
      const part = all > 0 ? worth(piece) / all : 0;
      const costs = labour(bench, 'melt').map((one) => partOf(one, part));
      return { pieces: [meltedTogether([piece, ...pieces], given)], costs, part };
    },
    days: (buyer.days ?? 0) + 1,
    assumed: [
      ...MELT_ASSUMED,
      assume(
        `melted with ${others.map((one) => one.lot).join(', ')}; the money and the work are parted by worth`,
        'derived',
      ),
    ],
  };
};

/** The work is for all of them: each bears its part, as it has its part of the money. */
const partOf = (cost: Cost, part: number): Cost => ({
  ...cost,
  size: `${(100 * part).toFixed(0)} % of ${cost.size}`,
  money: cost.money && roundMoney(timesMoney(cost.money, decimal(Number(part.toPrecision(12))))),
});

interface Other {
  readonly lot: string;
  readonly piece: Piece;
}

/** Of lots, the heaviest first, as few as reach so many grams: the last of them is the lightest that closes the gap. */
export const fewestFor = (grams: number, heaviestFirst: readonly Other[]): readonly Other[] | undefined => {
  const chosen: Other[] = [];
  let wanting = grams;
  let left = heaviestFirst;
  while (wanting > 0) {
    const missing = wanting;
    const enough = left.filter(({ piece }) => piece.grams >= missing);
    const next = enough.at(-1) ?? left[0];
    if (!next) return undefined;
    chosen.push(next);
    wanting -= next.piece.grams;
    left = left.filter((one) => one !== next);
  }
  return chosen;
};

/** Metal of ours on hand whose gold and silver are known by more than a guess, the heaviest first. */
const othersOf = (workspace: Workspace, but: string): readonly Other[] => {
  const accounts = accountsOf(workspace);
  return accounts
    .stock()
    .flatMap(({ lot, segment, amount, unit, fine, ownership }) => {
      const kind = segment.story.make?.kind;
      const owners = accounts.namesOf(ownership);
      const isOurs = owners.every((owner) => owner === accounts.shop);
      if (lot === but || !amount || unit !== 'gram' || !isOurs || !isMetalKind(kind)) return [];
      const grams = amount.value.toNumber();
      const share = (metal: string): number | undefined => {
        const known = fine.find((one) => one.metal === metal);
        return known?.grams && known.known.ground !== 'guessed' ? known.grams.value / grams : undefined;
      };
      const gold = share('Au');
      return gold === undefined ? [] : [{ lot, piece: { grams, gold, silver: share('Ag') ?? 0 } }];
    })
    .sort((a, b) => b.piece.grams - a.piece.grams);
};

/** The shop's own nitric acid, else as it is usually bought. */
const acidOf = (workshop: Workshop): Acid & { readonly name: string } => {
  const strength = (name: string): number =>
    findMaterial(workshop, name)?.composition.find(({ what }) => what === 'HNO3')?.fraction ?? 0;
  const own = [...workshop.materials.keys()].find((name) => strength(name) > 0);
  const name = own ?? 'nitric-acid';
  const fraction = strength(name);
  return { name, fraction, gramsPerMillilitre: nitricDensity(fraction).value ?? 1.4 };
};

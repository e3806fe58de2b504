/** Whose how much of a pooled lot is: by what each owner brought in, carried on through all that is made of it. */
import type { Lent } from './lent';
import type { Lineage } from './lineage';
import { gramsIn } from './liquids';
import type { Metals } from './metals';
import { type Ownership, SHOP } from './owners';
import type { Passing } from './passage';
import type { Segment } from './segments';

/** The metals that are shared out by fine weight. */
const FINE: readonly string[] = ['Au', 'Ag'];

export interface Shares {
  readonly by: 'weight' | 'assay';
  /** Of the lot, 0 to 1, by owner; by assay as its own gold and silver are theirs. They add up to 1. */
  readonly ofLot: ReadonlyMap<string, number>;
  /** Of a metal; by weight the same as of the lot. */
  readonly ofMetal: (metal: string) => ReadonlyMap<string, number> | undefined;
}

/** What the shop has bought of an owner's part: all of it, or some metals. */
export interface BoughtPart {
  readonly owner: string;
  readonly whole: boolean;
  readonly metals: ReadonlySet<string>;
}

/** None for a lot of one owner, one that was joined without `pooled`, and where what somebody brought in is not known. */
export const sharesOf = (
  lineage: Lineage,
  metals: Metals,
  owners: (segment: Segment) => Ownership,
  nameOf: (owner: string) => string,
  lent: (segment: Segment) => Lent,
  boughtOf: (segment: Segment) => readonly BoughtPart[] = () => [],
): ((segment: Segment) => Shares | undefined) => {
  const found = new Map<Segment, Shares | undefined>();
  const shares = (of: Segment): Shares | undefined => {
    if (found.has(of)) return found.get(of);
    // What asks in a circle, which only a wrong record has, is told nothing.
    found.set(of, undefined);
    const made = afterBills(leftToShop(byItsMetal(work(of), of), of), boughtOf(of));
    found.set(of, made);
    return made;
  };

  /** Of residues that some of its owners leave to the shop, their parts. */
  const leftToShop = (shares: Shares | undefined, of: Segment): Shares | undefined => {
    const names = new Set([...owners(of).owners].map(nameOf));
    const left = names.has(SHOP) && shares ? [...shares.ofLot.keys()].filter((name) => !names.has(name)) : [];
    return afterBills(
      shares,
      left.map((owner) => ({ owner, whole: true, metals: new Set() })),
    );
  };

  const work = (of: Segment): Shares | undefined => {
    if (!owners(of).pooled) return undefined;
    const { was, passage } = lineage.origin(of);
    if (was) return shares(was);
    if (!passage) return undefined;
    const parts = passage.inputs.filter(({ flow }) => !flow.said.lent).map((input) => partOf(input));
    const by = passage.step.entry.said.pooled ?? parts.find((one) => one?.pool)?.pool?.by;
    const [only] = parts;
    if (parts.length === 1 && only?.pool) return left(only.pool, passage.outputs);
    if (!by || parts.includes(undefined)) return undefined;
    const whole = parts as readonly Part[];
    if (by === 'weight') {
      const one = divided(whole, ({ grams }) => grams, 'weight');
      return one && { by, ofLot: one, ofMetal: () => one };
    }
    const ofLot = divided(whole, fineGrams);
    if (!ofLot) return undefined;
    const byMetal = new Map(FINE.map((metal) => [metal, divided(whole, ({ fine }) => fine(metal), metal)]));
    return { by, ofLot, ofMetal: (metal) => byMetal.get(metal) };
  };

  /**
   * By assay, of a lot that of its own gold and silver: what parting makes of a pool is nearly all the one or the other. As the pool was, where they
   * are not known.
   */
  const byItsMetal = (pool: Shares | undefined, of: Segment): Shares | undefined => {
    if (pool?.by !== 'assay') return pool;
    const [known, loan] = [metals.best(of), lent(of)];
    const sizes = new Map<string, number>();
    for (const metal of FINE) {
      const [part, among] = [known.get(metal)?.share?.value, pool.ofMetal(metal)];
      if (part === undefined) return pool;
      const own = part * (1 - (loan.get(metal)?.value ?? 0));
      for (const [owner, share] of among ?? []) sizes.set(owner, (sizes.get(owner) ?? 0) + own * share);
    }
    const whole = [...sizes.values()].reduce((so, one) => so + one, 0);
    return whole > 0 ? { ...pool, ofLot: new Map([...sizes].map(([owner, size]) => [owner, size / whole])) } : pool;
  };

  /** What beside it went to one of its owners is no longer of their share. */
  const left = (pool: Shares, outputs: readonly Passing[]): Shares | undefined => {
    const given = new Map<string, number>();
    let whole = 0;
    for (const { flow, amount, group } of outputs) {
      if (group !== 'metal') continue;
      const segment = lineage.segment(flow);
      const ownership = segment && owners(segment);
      whole += amount?.value ?? Number.NaN;
      if (!ownership || ownership.pooled || ownership.owners.size !== 1) continue;
      const owner = nameOf([...ownership.owners][0]!);
      if (pool.ofLot.has(owner)) given.set(owner, (given.get(owner) ?? 0) + (amount?.value ?? Number.NaN));
    }
    if (given.size === 0) return pool;
    if (Number.isNaN(whole)) return undefined;
    const of = (shares: ReadonlyMap<string, number>): ReadonlyMap<string, number> => {
      const rest = [...shares].map(
        ([owner, share]) => [owner, Math.max(0, share * whole - (given.get(owner) ?? 0))] as const,
      );
      const sum = rest.reduce((so, [, grams]) => so + grams, 0);
      return sum > 0 ? new Map(rest.map(([owner, grams]) => [owner, grams / sum])) : shares;
    };
    return {
      by: pool.by,
      ofLot: of(pool.ofLot),
      ofMetal: (metal) => {
        const among = pool.ofMetal(metal);
        return among && of(among);
      },
    };
  };

  /** A charge, with the pool that it is or its one owner. */
  const partOf = (charge: Passing): Part | undefined => {
    const { flow, amount, unit } = charge;
    const segment = lineage.segment(flow);
    if (!segment) return undefined;
    const { pooled, owners: all } = owners(segment);
    const pool = pooled ? shares(segment) : undefined;
    if (!pool && all.size > 1) return undefined;
    const known = metals.best(segment);
    const loan = lent(segment);
    const gramsLent = [...loan].reduce(
      (so, [metal, part]) => so + part.value * (amount?.value ?? 0) * (known.get(metal)?.share?.value ?? 0),
      0,
    );
    const owner = nameOf([...all][0] ?? SHOP);
    const isBought = boughtOf(segment).some((one) => one.whole && one.owner === owner);
    return {
      pool,
      owner: isBought ? SHOP : owner,
      grams: amount && unit === 'gram' ? amount.value - gramsLent : undefined,
      fine: (metal) => {
        const held = gramsIn(charge, metal, metals);
        return held && held.value * (1 - (loan.get(metal)?.value ?? 0));
      },
    };
  };
  return shares;
};

/** A part that the shop has bought is the shop's; of one of which it bought a metal, that metal. */
const afterBills = (shares: Shares | undefined, bills: readonly BoughtPart[]): Shares | undefined =>
  shares &&
  bills.reduce(
    ({ by, ofLot, ofMetal }, { owner, whole, metals }): Shares => ({
      by,
      ofLot: whole ? toShop(ofLot, owner) : ofLot,
      ofMetal: (metal) => {
        const among = ofMetal(metal);
        return among && (whole || metals.has(metal)) ? toShop(among, owner) : among;
      },
    }),
    shares,
  );

const toShop = (shares: ReadonlyMap<string, number>, owner: string): ReadonlyMap<string, number> => {
  const share = shares.get(owner);
  if (share === undefined) return shares;
  const rest = new Map([...shares].filter(([name]) => name !== owner));
  return rest.set(SHOP, (rest.get(SHOP) ?? 0) + share);
};

interface Part {
  readonly pool: Shares | undefined;
  readonly owner: string;
  readonly grams: number | undefined;
  readonly fine: (metal: string) => number | undefined;
}

/** Gold and silver together; where one of them is not known of a charge, the shares are not. */
const fineGrams = ({ fine }: Part): number | undefined => {
  const [gold, silver] = [fine('Au'), fine('Ag')];
  return gold === undefined || silver === undefined ? undefined : gold + silver;
};

/** `metal` is what is shared out; of a pool that was made by fine weight, by its own shares of it. */
const divided = (
  parts: readonly Part[],
  sizeOf: (part: Part) => number | undefined,
  metal?: string,
): ReadonlyMap<string, number> | undefined => {
  const sizes = new Map<string, number>();
  let whole = 0;
  for (const part of parts) {
    const size = sizeOf(part);
    if (size === undefined || size < 0) return undefined;
    const { pool } = part;
    const own: ReadonlyMap<string, number> = new Map([[part.owner, 1]]);
    const among = pool ? ((metal ? pool.ofMetal(metal) : undefined) ?? pool.ofLot) : own;
    for (const [owner, share] of among) sizes.set(owner, (sizes.get(owner) ?? 0) + size * share);
    whole += size;
  }
  return whole > 0 ? new Map([...sizes].map(([owner, size]) => [owner, size / whole])) : undefined;
};

/**
 * A figure shared out in whole steps of its last place, so that the parts add up to the figure as it is shown: each is cut down, and the steps that
 * are left go to those that lost most by it.
 */
export const sharedOut = (
  whole: number,
  shares: ReadonlyMap<string, number>,
  places: number,
): ReadonlyMap<string, number> => {
  const step = 10 ** places;
  const steps = Math.round(whole * step);
  const cut = [...shares].map(([owner, share]) => {
    const exact = steps * share;
    // A share that is a whole step but for the binary fraction is that step.
    const floor = Math.floor(exact + 1e-9);
    return { owner, floor, lost: exact - floor };
  });
  const left = steps - cut.reduce((sum, { floor }) => sum + floor, 0);
  const order = [...cut].sort((a, b) => b.lost - a.lost);
  const more = new Set(order.slice(0, Math.max(0, left)).map(({ owner }) => owner));
  return new Map(cut.map(({ owner, floor }) => [owner, (floor + (more.has(owner) ? 1 : 0)) / step]));
};

/** One owner's part of what several own together, and of what became of it. */
import { type Inexact, minus, NOTHING, scaled, sum, times } from '../engine/accounts/inexact';
import type { Passage, Passing } from '../engine/accounts/passage';
import type { Segment } from '../engine/accounts/segments';
import type { Shares } from '../engine/accounts/shares';
import type { Holding } from '../engine/accounts/stock';
import { isMetalKind } from '../engine/charge';
import type { Accounts } from './accounts';

/**
 * Their part of a lot, 0 to 1: of a metal, else of its weight. All of what is theirs alone, their share of a pool; none where nothing tells. What
 * a bill has bought of them counts as theirs here.
 */
export const partOf = (accounts: Accounts, segment: Segment, owner: string, metal?: string): number | undefined => {
  const ownership = accounts.owners(segment);
  const names = accounts.namesOf(ownership);
  if (!names.includes(owner)) return 0;
  if (!ownership.pooled && names.every((name) => name === owner || name === accounts.shop)) return 1;
  const shares = accounts.broughtIn(segment);
  const among = (metal === undefined ? undefined : shares?.ofMetal(metal)) ?? shares?.ofLot;
  return among && (among.get(owner) ?? 0);
};

/** What of the metal of a lot was not lent: that is nobody's part. */
export const unlent = (accounts: Accounts, segment: Segment, metal: string, grams: Inexact): Inexact => {
  const lent = accounts.lent(segment).get(metal);
  return lent ? minus(grams, times(grams, lent)) : grams;
};

/** Of what stays with the shop, such as slag: their part of what it came of. */
export const partBehind = (accounts: Accounts, segment: Segment, owner: string, metal?: string): number | undefined => {
  const { passage } = accounts.metals.lineage.origin(segment);
  return passage ? partOfCharge(accounts, passage, owner, metal) : 1;
};

/** Of what customers brought into a step; all of it where nobody brought any. None where it cannot be told. */
const partOfCharge = (accounts: Accounts, passage: Passage, owner: string, metal?: string): number | undefined => {
  const parts = passage.inputs.flatMap((input) => {
    const segment = accounts.metals.lineage.segment(input.flow);
    if (!segment || accounts.namesOf(accounts.owners(segment)).every((name) => name === accounts.shop)) return [];
    const size = sizeOf(accounts, segment, input, metal)?.value;
    return [{ part: partOf(accounts, segment, owner, metal), size }];
  });
  const [first] = parts;
  if (!first) return 1;
  if (parts.every(({ part }) => part === first.part)) return first.part;
  let [own, all] = [0, 0];
  for (const { part, size } of parts) {
    if (part === undefined || size === undefined) return undefined;
    [own, all] = [own + part * size, all + size];
  }
  return all > 0 ? own / all : undefined;
};

/** What was not lent of it. */
const sizeOf = (accounts: Accounts, segment: Segment, { amount }: Passing, metal?: string): Inexact | undefined => {
  if (metal === undefined || !amount) return amount;
  const share = accounts.metals.best(segment).get(metal)?.share;
  return share && unlent(accounts, segment, metal, times(amount, share));
};

/** The steps that took of these, each once. */
const passagesOf = ({ metals: { lineage } }: Accounts, segments: readonly Segment[]): readonly Passage[] => [
  ...new Set(segments.flatMap((one) => lineage.uses(one).map(({ passage }) => passage))),
];

/**
 * What pooling makes of the metal that an owner brought into it: by weight they get of the whole as they brought weight. Below nought where it
 * makes it less; none where what somebody brought is not known.
 */
export const gainedInPools = (
  accounts: Accounts,
  segments: readonly Segment[],
  owner: string,
  metal: string,
): Inexact | undefined => {
  const { lineage } = accounts.metals;
  const gains = passagesOf(accounts, segments).map(({ inputs, outputs }): Inexact | undefined => {
    const pool = outputs
      .flatMap(({ flow }) => lineage.segment(flow) ?? [])
      .find((one) => accounts.owners(one).pooled && accounts.namesOf(accounts.owners(one)).includes(owner));
    if (!pool || inputs.length < 2) return NOTHING;
    const part = partOf(accounts, pool, owner, metal);
    const each = inputs.map((input) => {
      if (input.flow.said.lent) return NOTHING;
      const segment = lineage.segment(input.flow);
      const own = segment && partOf(accounts, segment, owner, metal);
      const size = segment && sizeOf(accounts, segment, input, metal);
      return part === undefined || own === undefined || !size ? undefined : scaled(size, part - own);
    });
    return each.includes(undefined) ? undefined : sum(each.flatMap((one) => one ?? []));
  });
  return gains.includes(undefined) ? undefined : sum(gains.flatMap((one) => one ?? []));
};

/** Of what is left of a pool, what is theirs once it is held against what each of its owners got of it. */
export interface Rest {
  /** Their part of what is left, 0 to 1. */
  readonly part: number;
  /** What their share comes to beyond what they got and what is left of it: below nought they got more. */
  readonly shortGrams: number;
}

/** None where their share is not known. */
export const restOf = (accounts: Accounts, segment: Segment, owner: string, metal?: string): Rest | undefined => {
  const share = partOf(accounts, segment, owner, metal);
  if (share === undefined) return undefined;
  const names = accounts.namesOf(accounts.owners(segment));
  if (names.length < 2 || !accounts.owners(segment).pooled) return { part: share, shortGrams: 0 };
  const among = new Map(names.map((name) => [name, partOf(accounts, segment, name, metal) ?? 0]));
  const left = leftIn(segment)?.value.toNumber() ?? 0;
  const { part, open } = restAmong(among, segment.events, left);
  return { part: part.get(owner) ?? 0, shortGrams: (open.get(owner) ?? 0) - left * (part.get(owner) ?? 0) };
};

/** What each of a pool is still to get of what is left, in grams, and which part of that this makes: who got too much gets nothing of it. */
const restAmong = (
  among: ReadonlyMap<string, number>,
  events: Segment['events'],
  left: number,
): Readonly<Record<'part' | 'open', ReadonlyMap<string, number>>> => {
  const got = new Map<string, number>();
  for (const { kind, entry, weight, after, before } of events) {
    const to = entry.party?.name;
    if (kind !== 'shipped' || to === undefined || !among.has(to)) continue;
    if (events.some((other) => other.kind === 'returned' && other.entry === entry)) continue;
    const grams = weight.mass ?? (after?.value.isZero() ? before : undefined);
    got.set(to, (got.get(to) ?? 0) + (grams?.value.toNumber() ?? 0));
  }
  const whole = [...got.values()].reduce((so, one) => so + one, left);
  const open = new Map([...among].map(([name, share]) => [name, share * whole - (got.get(name) ?? 0)]));
  const all = [...open.values()].reduce((so, one) => so + Math.max(0, one), 0);
  if (got.size === 0 || all <= 0) return { part: among, open };
  return { part: new Map([...open].map(([name, one]) => [name, Math.max(0, one) / all])), open };
};

/** Shares of what is left of a pool on a day. */
export const sharesHeld = (accounts: Accounts, { segment, last, amount, unit }: Holding): Shares | undefined => {
  const shares = accounts.shares(segment);
  if (!shares || unit !== 'gram' || !segment.events.some(({ kind }) => kind === 'shipped')) return shares;
  const events = segment.events.slice(0, segment.events.indexOf(last) + 1);
  const rest = (among: ReadonlyMap<string, number>): ReadonlyMap<string, number> =>
    restAmong(among, events, amount?.value.toNumber() ?? 0).part;
  return {
    by: shares.by,
    ofLot: rest(shares.ofLot),
    ofMetal: (metal) => {
      const among = shares.ofMetal(metal);
      return among && rest(among);
    },
  };
};

/** What lies here of it still; none of what went on under the same name. */
export const leftIn = ({ story, events }: Segment) =>
  story.events.at(-1) === events.at(-1) && !story.gone && story.left?.value.greaterThan(0) ? story.left : undefined;

/** What the share of what is left of pools comes to for an owner beyond what went to them and what of it is here as theirs. */
export const shortInPools = (accounts: Accounts, segments: readonly Segment[], owner: string, metal: string): Inexact =>
  sum(
    segments.map((segment) => {
      const share = accounts.metals.best(segment).get(metal)?.share;
      const short = restOf(accounts, segment, owner, metal)?.shortGrams ?? 0;
      return share && short !== 0 ? unlent(accounts, segment, metal, scaled(share, short)) : NOTHING;
    }),
  );

/** What the share of pools that were divided comes to for an owner beyond the parts that are theirs: one may have got more, and another less. */
export const dividedShort = (
  accounts: Accounts,
  segments: readonly Segment[],
  owner: string,
  metal: string,
): Inexact => {
  const { lineage } = accounts.metals;
  const divided = passagesOf(accounts, segments).map(({ inputs, outputs }): Inexact => {
    const isPool = inputs.some(({ flow }) => {
      const segment = lineage.segment(flow);
      return segment && accounts.owners(segment).pooled;
    });
    const pieces = outputs.flatMap((output) => {
      const segment = lineage.segment(output.flow);
      const owners = segment ? accounts.owners(segment) : undefined;
      const isOurs = !owners || accounts.namesOf(owners).every((name) => name === accounts.shop);
      return !segment || isOurs || output.flow.said.repays || !isMetalKind(output.flow.kind)
        ? []
        : [{ segment, output, owners }];
    });
    if (!isPool || pieces.every(({ owners }) => owners.pooled)) return NOTHING;
    const [first] = inputs;
    const from = first && lineage.segment(first.flow);
    const part = from && inputs.length === 1 ? partOf(accounts, from, owner, metal) : undefined;
    return sum(
      pieces.flatMap(({ segment, output }) => {
        const own = partOf(accounts, segment, owner, metal);
        const size = sizeOf(accounts, segment, output, metal);
        return part === undefined || own === undefined || !size ? [] : [scaled(size, part - own)];
      }),
    );
  });
  return sum(divided);
};

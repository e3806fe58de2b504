/** Whose a lot is: as it was received, and through every step that follows. */
import { verb } from '../../vocabulary/verbs';
import type { Entry, Named } from '../entry';
import { termsOn } from '../selling/deal';
import type { Workshop } from '../workshop';
import { keepingOf, lazily } from './lazily';
import type { Lineage } from './lineage';
import { memo } from './memo';
import type { Segment } from './segments';
import type { Settled } from './settled';

export interface Ownership {
  /** Parties by name, in the order in which they joined. Empty where the record says nothing: the shop's own. */
  readonly owners: ReadonlySet<string>;
  /** Joined knowingly: `pooled`. */
  readonly pooled: boolean;
}

const NOBODY: Ownership = { owners: new Set(), pooled: false };

/** A bill by which the shop buys metal of an owner. */
export interface Purchase {
  readonly owner: string;
  /** The bill, as it stands on its page. */
  readonly entry: Entry;
  /** Nothing is left in the lot that would have to go back. Else it is of both from then on. */
  readonly whole: boolean;
}

/** What was bought of a lot by bills, in their order, and whether an entry comes after one of them. */
export interface Purchases {
  readonly of: (segment: Segment) => readonly Purchase[];
  readonly isAfter: (entry: Entry, bill: Entry) => boolean;
}

/**
 * Whose a lot is as it begins. Metal from a customer stays the customer's unless it was bought. What a line says of its owner holds from there on; else a product is
 * theirs whose metal went in, and what repays metal that was lent is the lender's. The shop itself counts as an owner only where it stands beside another. Slag and other residues are the shop's where that
 * was agreed with the customer, and so is what is got out of them.
 */
export const ownersOf = (
  lineage: Lineage,
  workshop: Workshop,
  settled: Settled<Segment, Ownership>,
  purchases: Purchases,
): ((segment: Segment) => Ownership) => {
  /** Of what goes into something: what was bought of it by then. */
  const boughtBy = (of: Segment, entry: Entry): readonly Purchase[] =>
    purchases.of(of).filter((bill) => purchases.isAfter(entry, bill.entry));
  const needs = (of: Segment): readonly Segment[] => {
    const { was, passage } = lineage.origin(of);
    if (was) return [was];
    // What is lent comes back: it makes nobody an owner.
    return (passage?.inputs ?? []).flatMap(({ flow }) => (flow.said.lent ? [] : (lineage.segment(flow) ?? [])));
  };
  return lazily(keeping, settled, {
    needs,
    rests: (of) => [
      workshop,
      of.start.entry,
      lineage.origin(of).passage?.step,
      of.start.flow?.said.repays && lenderOf(of, lineage),
      ...needs(of).flatMap((one) => boughtBy(one, of.start.entry).map(purchaseWords)),
    ],
    work: (of, get) => {
      const said = saidOwner(of);
      if (said) return { owners: new Set([said.name]), pooled: false };
      const flow = of.start.flow;
      if (flow?.said.repays) {
        const lender = lenderOf(of, lineage);
        return lender === undefined ? NOBODY : { owners: new Set([lender]), pooled: false };
      }
      const { was, passage } = lineage.origin(of);
      const by = (one: Segment): Ownership => afterPurchases(get(one), boughtBy(one, of.start.entry));
      if (was) return by(was);
      if (!passage) return asReceived(of.start.entry, workshop);
      const all = needs(of).map(by);
      const { entry } = passage.step;
      return joined(isResidue(of) ? all.map((one) => leftToShop(one, entry, workshop)) : all, entry);
    },
    same: (a, b) => a.pooled === b.pooled && [...a.owners].join() === [...b.owners].join(),
    unknown: NOBODY,
  });
};

/** What is left when the metal is out: not what is still being worked, such as a solution or a matte. */
const RESIDUES: ReadonlySet<string> = new Set(['slag', 'dust', 'fume', 'tails', 'ash', 'filter']);

/**
 * Where the metal is got out, in heat or in acid; a used cupel is written as `other`. Before that a feed stays what it is, be it ash, dust or slag: sweeps that are
 * burnt and sieved are still all of the customer's metal. Tails alone are then left behind.
 */
const isResidue = ({ start: { flow, entry } }: Segment): boolean => {
  const topic = verb(entry.verb)?.topic;
  if (topic !== 'heat' && topic !== 'wet work') return flow?.kind === 'tails';
  return RESIDUES.has(flow?.kind ?? '') || (flow?.kind === 'other' && entry.verb === 'cupel');
};

const leftToShop = ({ owners, pooled }: Ownership, { date }: Entry, { parties }: Workshop): Ownership => {
  const kept = [...owners].filter((owner) => termsOn(parties.get(owner), date ?? '')?.residues !== 'shop');
  if (kept.length === owners.size) return { owners, pooled };
  // Beside an owner who keeps theirs the shop has the others' part.
  return kept.length === 0 ? NOBODY : { owners: new Set([...kept, SHOP]), pooled };
};

/** Whom a piece repays: as it says, else who lent into the last of the steps before it that were lent anything. None for the shop, and of two. */
const lenderOf = (of: Segment, { origin, segment }: Lineage): string | undefined => {
  const said = of.start.flow?.said.lender;
  if (said) return said.name;
  const seen = new Set([of]);
  let steps = [of];
  while (steps.length > 0) {
    const made = steps.flatMap((one) => origin(one).passage ?? []);
    const lent = made.flatMap(({ step }) => [...step.inputs, ...step.added].filter(({ flow }) => flow.said.lent));
    const lenders = new Set(lent.map(({ flow }) => flow.said.lender?.name));
    if (lent.length > 0) return lenders.size === 1 ? [...lenders][0] : undefined;
    steps = steps
      .flatMap((one) => [origin(one).was, ...(origin(one).passage?.inputs ?? []).map(({ flow }) => segment(flow))])
      .flatMap((one) => (one && !seen.has(one) ? [one] : []));
    for (const one of steps) seen.add(one);
  }
  return undefined;
};

const keeping = keepingOf<Segment, Ownership>();

/** On the line that begins it, or on a later entry about it. */
const saidOwner = (of: Segment): Named | undefined => {
  const on = of.start.flow?.said.owner ?? (of.start.flow ? undefined : of.start.entry.said.owner);
  const later = of.events.findLast(({ entry, flow }) => flow === undefined && entry.said.owner);
  return later?.entry.said.owner ?? on;
};

const asReceived = (entry: Entry, workshop: Workshop): Ownership => {
  if (entry.verb !== 'receive' || !entry.party || entry.others.some(({ word }) => word === 'bought')) return NOBODY;
  const role = workshop.parties.get(entry.party.name)?.role;
  return role === 'customer' ? { owners: new Set([entry.party.name]), pooled: false } : NOBODY;
};

/** Of a lot as it came in: as it was said, else its customer's. */
export const receivedOwner = (of: Segment, workshop: Workshop): string | undefined =>
  saidOwner(of)?.name ?? [...asReceived(of.start.entry, workshop).owners][0];

const purchaseWords = ({ owner, whole }: Purchase): string => `${whole ? 'all' : 'some'} of ${owner}`;

const keptAfter = memo<Ownership, Map<string, Ownership>>();

/** Whose a lot is once these bills are written. The same object for the same question. */
export const afterPurchases = (of: Ownership, bills: readonly Purchase[]): Ownership => {
  if (bills.length === 0) return of;
  const known = keptAfter.get(of) ?? new Map<string, Ownership>();
  keptAfter.set(of, known);
  const key = bills.map(purchaseWords).join();
  const made = known.get(key) ?? bills.reduce(bought, of);
  known.set(key, made);
  return made;
};

const bought = (of: Ownership, { owner, whole }: Purchase): Ownership => {
  if (!of.owners.has(owner)) return of;
  const owners = new Set([...of.owners, SHOP]);
  if (whole) owners.delete(owner);
  return owners.size === 1 ? NOBODY : { owners, pooled: of.pooled };
};

/** The shop's own metal beside a customer's makes two owners. */
export const SHOP = 'the shop';

const joined = (all: readonly Ownership[], entry: Entry): Ownership => {
  const owners = new Set(all.flatMap((one) => [...one.owners]));
  if (owners.size > 0 && all.some((one) => one.owners.size === 0)) owners.add(SHOP);
  const pooled = entry.said.pooled !== undefined || all.some((one) => one.pooled);
  return { owners, pooled: pooled && owners.size > 1 };
};

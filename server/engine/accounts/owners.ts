/** Whose a lot is: as it was received, and through every step that follows. */
import type { Entry, Named } from '../entry';
import { termsOn } from '../selling/deal';
import type { Workshop } from '../workshop';
import { keepingOf, lazily } from './lazily';
import type { Lineage } from './lineage';
import type { Segment } from './segments';
import type { Settled } from './settled';

export interface Ownership {
  /** Parties by name, in the order in which they joined. Empty where the record says nothing: the shop's own. */
  readonly owners: ReadonlySet<string>;
  /** Joined knowingly: `pooled`. */
  readonly pooled: boolean;
}

const NOBODY: Ownership = { owners: new Set(), pooled: false };

/**
 * Metal from a customer stays the customer's unless it was bought. What a line says of its owner holds from there on; else a product is
 * theirs whose metal went in. The shop itself counts as an owner only where it stands beside another. Slag and other residues are the shop's where that
 * was agreed with the customer, and so is what is got out of them.
 */
export const ownersOf = (
  lineage: Lineage,
  workshop: Workshop,
  settled: Settled<Segment, Ownership>,
): ((segment: Segment) => Ownership) => {
  const needs = (of: Segment): readonly Segment[] => {
    const { was, passage } = lineage.origin(of);
    if (was) return [was];
    return passage ? passage.inputs.flatMap(({ flow }) => lineage.segment(flow) ?? []) : [];
  };
  return lazily(keeping, settled, {
    needs,
    rests: (of) => [workshop, of.start.entry, lineage.origin(of).passage?.step],
    work: (of, get) => {
      const said = saidOwner(of);
      if (said) return { owners: new Set([said.name]), pooled: false };
      const { was, passage } = lineage.origin(of);
      if (was) return get(was);
      if (!passage) return asReceived(of.start.entry, workshop);
      const all = needs(of).map(get);
      const { entry } = passage.step;
      return joined(isResidue(of) ? all.map((one) => leftToShop(one, entry, workshop)) : all, entry);
    },
    same: (a, b) => a.pooled === b.pooled && [...a.owners].join() === [...b.owners].join(),
    unknown: NOBODY,
  });
};

/** What is left when the metal is out: not what is still being worked, such as a solution or a matte. */
const RESIDUES: ReadonlySet<string> = new Set(['slag', 'dust', 'fume', 'tails', 'ash', 'filter']);

/** A used cupel is written as `other`. */
const isResidue = ({ start: { flow, entry } }: Segment): boolean =>
  RESIDUES.has(flow?.kind ?? '') || (flow?.kind === 'other' && entry.verb === 'cupel');

const leftToShop = ({ owners, pooled }: Ownership, { date }: Entry, { parties }: Workshop): Ownership => {
  const kept = [...owners].filter((owner) => termsOn(parties.get(owner), date ?? '')?.residues !== 'shop');
  return kept.length === owners.size
    ? { owners, pooled }
    : { owners: new Set(kept), pooled: pooled && kept.length > 1 };
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

/** The shop's own metal beside a customer's makes two owners. */
export const SHOP = 'the shop';

const joined = (all: readonly Ownership[], entry: Entry): Ownership => {
  const owners = new Set(all.flatMap((one) => [...one.owners]));
  if (owners.size > 0 && all.some((one) => one.owners.size === 0)) owners.add(SHOP);
  const pooled = entry.said.pooled !== undefined || all.some((one) => one.pooled);
  return { owners, pooled: pooled && owners.size > 1 };
};

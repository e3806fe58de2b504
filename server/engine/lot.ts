/**
 * The story of one lot: where it came from, every weighing of it, what was taken from it, what is left. Each weighing is held against
 * what the record says should be there.
 */
import { decimal } from '../quantity/decimal';
import { add, exact, type Measured, subtract, uncertainty } from '../quantity/measured';
import { lean } from '../text/lists';
import type { Handover, LotEvent, LotEventKind, LotStory, Make, Weight } from './book';
import type { Amount, Entry, Flow, Named, Said } from './entry';
import { handoverOf, type Weighing, withSlips } from './handover';
import { handoverSlips, type OtherBalance } from './slips';
import { recorded, UNKNOWN, weighAmount } from './weigh';
import type { Workshop } from './workshop';

/** What other lots and steps can tell. */
export interface LotContext {
  /** What is left of another lot as it enters an entry: of the lot that a `relabel` renames. */
  readonly leftOf?: (entry: Entry, lot: string) => Measured | undefined;
  /** The balance in which a flow's weight stands besides this hand-over. */
  readonly otherBalance?: (entry: Entry, flow: Flow) => OtherBalance | undefined;
}

/** The weight that a balance was solved for, of a product that was not weighed. */
export type SolvedOut = (entry: Entry, flow: Flow) => Measured | undefined;

/**
 * Tells the story of the lot `name` from all entries that mention it, in order and as they count now (corrected, `more` entries on their
 * own). Plans, voids, corrections and entries that were not understood book nothing. Masses in grams.
 */
export function lotStory(
  name: string,
  entries: readonly Entry[],
  workshop: Workshop,
  solvedOut: SolvedOut,
  context: LotContext = {},
): LotStory {
  const tale = new Tale(name, workshop, solvedOut, context);
  for (const entry of entries) {
    const booked = !entry.broken && (entry.prefix === undefined || entry.prefix === 'more');
    if (booked) tellEntry(tale, entry);
  }
  return tale.story();
}

const NOTHING = exact(decimal(0));

function tellEntry(tale: Tale, entry: Entry): void {
  const before = tale.events.length;
  tellHead(tale, entry);
  const own = entry.flows.filter((flow) => flow.lot?.name === tale.name);
  for (const flow of own) if (flow.word === 'in') tellIn(tale, entry, flow);
  for (const flow of own) if (flow.word !== 'in') tellOther(tale, entry, flow);
  if (tale.events.length === before) tale.note('named', entry, entry.name?.place ?? entry.head);
}

function tellHead(tale: Tale, entry: Entry): void {
  if (entry.verb === 'relabel') tellRelabel(tale, entry);
  if (entry.name?.name !== tale.name) return;
  const { place } = entry.name;
  if (entry.verb === 'receive') tellReceive(tale, entry, place);
  else if (entry.verb === 'weigh') tale.weigh('weighed', entry, place, headWeight(tale, entry));
  else if (entry.verb === 'discard') tellDiscard(tale, entry, place);
  else if (entry.verb === 'sample') tellSampled(tale, entry);
  else if (entry.verb === 'assay') tellAssay(tale, entry, place);
  else if (entry.verb === 'sell') tale.note('sold', entry, place);
  else if (entry.verb === 'settle') tale.note('settled', entry, place);
}

function tellReceive(tale: Tale, entry: Entry, place: Named['place']): void {
  const party = entry.party && tale.workshop.parties.get(entry.party.name);
  const bought = entry.others.some(({ word }) => word === 'bought');
  const owner = entry.said.owner ?? (party?.role === 'customer' && !bought ? entry.party : undefined);
  const material = entry.others.find(({ word }) => word === 'material')?.names[0]?.name;
  tale.bear('received', entry, place, headWeight(tale, entry), undefined, { material, kind: undefined }, owner);
}

/** Of several amounts the first that gives a net weight. */
function headWeight(tale: Tale, entry: Entry): Weight {
  const lines: { amount: Amount; said: Said }[] = entry.amounts.map(({ amount, said }) => ({ amount, said }));
  if (entry.amount && !lines.some(({ amount }) => amount === entry.amount)) {
    lines.unshift({ amount: entry.amount, said: entry.said });
  }
  const weights = lines.map(({ amount, said }) => weighAmount(amount, said, tale.workshop, tale.name));
  return weights.find(({ mass }) => mass) ?? weights[0] ?? UNKNOWN;
}

function tellRelabel(tale: Tale, entry: Entry): void {
  if (entry.name?.name === tale.name) tale.take('renamed', entry, entry.name.place, undefined, UNKNOWN);
  if (entry.toLot?.name !== tale.name) return;
  const left = entry.name && tale.context.leftOf?.(entry, entry.name.name);
  tale.bear('renamed', entry, entry.toLot.place, recorded(left, 'carried'), undefined, undefined, entry.said.owner);
}

function tellDiscard(tale: Tale, entry: Entry, place: Named['place']): void {
  const weight = headWeight(tale, entry);
  const part = weight.mass && tale.left && !tale.isAll(weight.mass);
  if (part) tale.takePart('discarded', entry, place, undefined, weight);
  else tale.take('discarded', entry, place, undefined, weight);
}

/** Each sample is a part of the lot. */
function tellSampled(tale: Tale, entry: Entry): void {
  for (const flow of entry.flows) {
    if ((flow.word !== 'out' && flow.word !== 'lost') || flow.lot?.name === tale.name) continue;
    const weight = weighAmount(flow.amount, flow.said, tale.workshop, flow.lot?.name ?? flow.word);
    tale.takePart('sampled', entry, flow.place, flow, weight);
  }
  if (entry.flows.length === 0) tale.note('sampled', entry, entry.head);
}

/** What an assay took is used up. */
function tellAssay(tale: Tale, entry: Entry, place: Named['place']): void {
  const took = entry.others.filter(({ word }) => word === 'took');
  const weights = took.flatMap(({ amounts, said }) =>
    amounts.map((amount) => weighAmount(amount, said, tale.workshop, `taken of ${tale.name}`)),
  );
  const masses = weights.flatMap(({ mass }) => mass ?? []);
  if (masses.length === 0) tale.note('assayed', entry, place);
  else tale.takePart('assayed', entry, place, undefined, { ...weights[0]!, mass: add(...masses) });
}

function tellIn(tale: Tale, entry: Entry, flow: Flow): void {
  if (flow.none) return;
  const weight = weighAmount(flow.amount, flow.said, tale.workshop, tale.name);
  const shipped = entry.verb === 'ship';
  if (flow.part) tale.takePart(shipped ? 'shipped' : 'part-used', entry, flow.place, flow, weight);
  else tale.take(shipped ? 'shipped' : 'used', entry, flow.place, flow, weight);
}

function tellOther(tale: Tale, entry: Entry, flow: Flow): void {
  const weight = weighAmount(flow.amount, flow.said, tale.workshop, tale.name);
  if (flow.word === 'out' && !flow.none) tellOut(tale, entry, flow, weight);
  if (flow.word === 'back') tellBack(tale, entry, flow, weight);
  if (flow.word === 'found') tale.weigh('found', entry, flow.place, weight, flow);
  if (flow.word === 'missing') tale.take('missing', entry, flow.place, flow, UNKNOWN);
}

function tellOut(tale: Tale, entry: Entry, flow: Flow, written: Weight): void {
  const weight = written.mass || written.volume ? written : solvedWeight(tale, entry, flow, written);
  const make = { material: undefined, kind: flow.kind };
  const tookWhole = entry.flows.some(
    (other) => other.word === 'in' && other.lot?.name === tale.name && !other.part && !other.none,
  );
  if (tookWhole) tale.goOn(entry, flow, weight);
  else if (entry.prefix === 'more' && tale.madeIn(entry)) tale.addTo(entry, flow, weight);
  else tale.bear('made', entry, flow.place, weight, flow, make, flow.said.owner);
  if (flow.said.discard) tale.take('discarded', entry, flow.place, flow, UNKNOWN);
}

const solvedWeight = (tale: Tale, entry: Entry, flow: Flow, written: Weight): Weight =>
  recorded(tale.solvedOut(entry, flow), 'solved', written);

function tellBack(tale: Tale, entry: Entry, flow: Flow, weight: Weight): void {
  if (entry.verb === 'sample' && entry.name?.name === tale.name) tale.addTo(entry, flow, weight, 'returned');
  else tale.comeBack(entry, flow, weight);
}

/** A story while it is told. */
class Tale {
  readonly events: LotEvent[] = [];
  left: Measured | undefined;
  private readonly births: LotEvent[] = [];
  private readonly handovers: Handover[] = [];
  /** The weighing that `left` rests on. */
  private stand: (Weighing & { readonly flow: Flow | undefined }) | undefined;
  private away: { readonly left: Measured; readonly stand: Tale['stand'] } | undefined;
  private gone = false;
  private owner: Named | undefined;
  private make: Make | undefined;

  constructor(
    readonly name: string,
    readonly workshop: Workshop,
    readonly solvedOut: SolvedOut,
    readonly context: LotContext,
  ) {}

  story(): LotStory {
    const { name, left, gone, owner, make } = this;
    const [events, births, handovers] = [lean(this.events), lean(this.births), lean(this.handovers)];
    return { name, events, births, handovers, left, gone, owner, make };
  }

  /** Mentioned; nothing of it moves. */
  note(kind: LotEventKind, entry: Entry, place: Named['place']): void {
    this.push(kind, entry, place, undefined, UNKNOWN, this.left);
  }

  bear(
    kind: LotEventKind,
    entry: Entry,
    place: Named['place'],
    weight: Weight,
    flow: Flow | undefined,
    make: Make | undefined,
    owner: Named | undefined,
  ): void {
    this.births.push(this.push(kind, entry, place, flow, weight, weight.mass));
    this.gone = false;
    this.make ??= make;
    this.owner = owner ?? this.owner;
    this.standOn(entry, place, weight, flow);
  }

  /** The whole is weighed again. */
  weigh(kind: LotEventKind, entry: Entry, place: Named['place'], weight: Weight, flow?: Flow): void {
    this.compare(entry, place, weight, flow);
    this.push(kind, entry, place, flow, weight, weight.mass ?? this.left);
    if (weight.mass) this.standOn(entry, place, weight, flow);
    this.gone = false;
  }

  /** The whole goes, weighed once more or not. */
  take(kind: LotEventKind, entry: Entry, place: Named['place'], flow: Flow | undefined, written: Weight): void {
    this.compare(entry, place, written, flow);
    const known = written.mass || written.volume || this.gone;
    const states = this.stand?.weight.states ?? [];
    const weight = known ? written : recorded(this.left, 'carried', { ...written, states });
    if (kind === 'shipped')
      this.away = weight.mass && { left: weight.mass, stand: this.standing(entry, place, weight, flow) };
    this.push(kind, entry, place, flow, weight, NOTHING);
    this.stand = undefined;
    this.gone = true;
  }

  takePart(kind: LotEventKind, entry: Entry, place: Named['place'], flow: Flow | undefined, weight: Weight): void {
    const left = this.left && weight.mass ? subtract(this.left, weight.mass) : undefined;
    const emptied = left !== undefined && (left.value.isNegative() || this.isNothing(left));
    this.push(kind, entry, place, flow, weight, left);
    if (emptied) this.gone = true;
  }

  /** Out of the step that took it whole: a new weight, and no hand-over, for something was done to it. */
  goOn(entry: Entry, flow: Flow, weight: Weight): void {
    this.push('continued', entry, flow.place, flow, weight, weight.mass);
    this.standOn(entry, flow.place, weight, flow);
    this.gone = false;
    if (flow.kind) this.make = { material: this.make?.material, kind: flow.kind };
  }

  /** More of the same: prills found on another day, a weight read late. */
  addTo(entry: Entry, flow: Flow, weight: Weight, kind: LotEventKind = 'made'): void {
    const late = this.stand?.weight.mass === undefined && !this.left;
    const total = late ? weight.mass : this.left && weight.mass && add(this.left, weight.mass);
    this.push(kind, entry, flow.place, flow, weight, total);
    if (late) this.standOn(entry, flow.place, weight, flow);
  }

  comeBack(entry: Entry, flow: Flow, written: Weight): void {
    const { away } = this;
    if (away) {
      this.left = away.left;
      this.stand = away.stand;
      this.gone = false;
      this.compare(entry, flow.place, written, flow);
    }
    const weight = written.mass || !away ? written : recorded(away.left, 'carried', written);
    this.left = away ? NOTHING : this.left;
    this.push('returned', entry, flow.place, flow, weight, weight.mass);
    this.standOn(entry, flow.place, weight, flow);
    this.gone = false;
  }

  madeIn(entry: Entry): boolean {
    return this.events.some(
      (event) =>
        event.flow?.word === 'out' && event.entry.verb === entry.verb && event.entry.name?.name === entry.name?.name,
    );
  }

  /** As much as is left, as far as weighing can tell, or more. */
  isAll(mass: Measured): boolean {
    if (!this.left) return true;
    const rest = subtract(this.left, mass);
    return rest.value.isNegative() || this.isNothing(rest);
  }

  private isNothing(rest: Measured): boolean {
    const reach = Math.max(this.workshop.limits.coverage * uncertainty(rest), this.stand?.weight.divisionGrams ?? 0);
    return Math.abs(rest.value.toNumber()) <= reach;
  }

  private push(
    kind: LotEventKind,
    entry: Entry,
    place: Named['place'],
    flow: Flow | undefined,
    weight: Weight,
    after: Measured | undefined,
  ): LotEvent {
    const event: LotEvent = { kind, entry, place, flow, weight, before: this.left, after };
    this.events.push(event);
    this.left = after;
    return event;
  }

  private standing = (entry: Entry, place: Named['place'], weight: Weight, flow: Flow | undefined) => ({
    entry,
    place: weight.amount?.place ?? place,
    weight,
    flow,
  });

  private standOn(entry: Entry, place: Named['place'], weight: Weight, flow: Flow | undefined): void {
    this.stand = this.standing(entry, place, weight, flow);
  }

  private compare(entry: Entry, place: Named['place'], weight: Weight, flow: Flow | undefined): void {
    if (!this.stand || !this.left || this.gone || !weight.mass) return;
    const to = this.standing(entry, place, weight, flow);
    const handover = handoverOf(this.name, this.stand, this.left, to, this.workshop);
    if (!handover) return;
    const slips = handover.explained
      ? []
      : handoverSlips(handover, this.stand.flow, flow, this.workshop, this.context.otherBalance);
    this.handovers.push(withSlips(handover, slips));
  }
}

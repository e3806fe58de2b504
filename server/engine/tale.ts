/**
 * A lot's story while it is told: what is left of it, which weighing that rests on, and whether two weighings dispute it. Each new weighing is
 * held against what the record says should be there.
 */
import { decimal } from '../quantity/decimal';
import { add, exact, type Measured, subtract, uncertainty } from '../quantity/measured';
import { lean } from '../text/lists';
import type { Handover, LotEvent, LotEventKind, LotStory, Make, Weight } from './book';
import type { Entry, Flow, Named } from './entry';
import { explained, handoverOf, type Weighing, withSlips } from './handover';
import type { OtherBalance } from './slip-ranking';
import { handoverSlips } from './slips';
import { disputed, recorded, UNKNOWN } from './weigh';
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

/** A weighing that a lot stands on, and what was taken since. */
interface Stand extends Weighing {
  readonly flow: Flow | undefined;
  /** What the record says is left, whatever later weighings say. */
  readonly left: Measured | undefined;
  /** The last entry that took a part or brought some back. */
  readonly since: Entry | undefined;
}

const NOTHING = exact(decimal(0));

export class Tale {
  readonly events: LotEvent[] = [];
  left: Measured | undefined;
  private volume: Measured | undefined;
  private readonly births: LotEvent[] = [];
  private readonly handovers: Handover[] = [];
  /** The weighing that `left` rests on. */
  private stand: Stand | undefined;
  /** The weighing before it, where the two disagree: a third may side with either. */
  private other: Stand | undefined;
  /** By how many grams the two disagree. */
  private disputedBy = 0;
  private away: { readonly left: Measured; readonly stand: Stand } | undefined;
  /** A solution that was shipped. */
  private pouredAway: Measured | undefined;
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

  /** Where it came into being, the last time. */
  get birth(): LotEvent | undefined {
    return this.births.at(-1);
  }

  /** Mentioned; nothing of it moves. */
  note(kind: LotEventKind, entry: Entry, place: Named['place']): void {
    this.push(kind, entry, place, undefined, UNKNOWN, this.left, this.volume);
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
    this.births.push(this.push(kind, entry, place, flow, weight, weight.mass, weight.volume));
    this.gone = false;
    this.make ??= make;
    this.owner = owner ?? this.owner;
    this.settle();
    this.standOn(entry, place, weight, flow);
  }

  /** The whole is weighed again. */
  weigh(kind: LotEventKind, entry: Entry, place: Named['place'], weight: Weight, flow?: Flow): void {
    this.compare(entry, place, weight, flow);
    this.push(kind, entry, place, flow, weight, weight.mass ?? this.left, weight.volume ?? this.volume);
    if (weight.mass) this.standOn(entry, place, weight, flow);
    this.gone = false;
  }

  /** The whole goes, weighed once more or not. */
  take(kind: LotEventKind, entry: Entry, place: Named['place'], flow: Flow | undefined, written: Weight): void {
    this.compare(entry, place, written, flow);
    const known = written.mass || written.volume || this.gone;
    const states = this.stand?.weight.states ?? [];
    const weight = known ? written : this.all({ ...written, states });
    if (kind === 'shipped') {
      this.away = weight.mass && { left: weight.mass, stand: this.standing(entry, place, weight, flow) };
      this.pouredAway = weight.mass ? undefined : weight.volume;
    }
    this.push(kind, entry, place, flow, weight, NOTHING, this.volume && NOTHING);
    this.stand = undefined;
    this.settle();
    this.gone = true;
  }

  /** All that the record has left. */
  private all(like: Weight): Weight {
    const { volume } = this;
    const weight = recorded(this.trusted(), 'carried', like);
    return weight.mass || !volume ? weight : { ...weight, volume };
  }

  /** The whole changes hands; of a lot that was shipped before it is only said. */
  sell(entry: Entry, place: Named['place']): void {
    if (this.gone) this.note('sold', entry, place);
    else this.take('sold', entry, place, undefined, UNKNOWN);
  }

  takePart(kind: LotEventKind, entry: Entry, place: Named['place'], flow: Flow | undefined, weight: Weight): void {
    const left = this.left && weight.mass ? subtract(this.left, weight.mass) : undefined;
    const volume = this.volume && weight.volume ? subtract(this.volume, weight.volume) : undefined;
    const emptied = left !== undefined && (left.value.isNegative() || this.isNothing(left));
    this.push(kind, entry, place, flow, weight, left, volume);
    this.stand = lessened(this.stand, entry, weight);
    this.other = lessened(this.other, entry, weight);
    if (emptied) this.gone = true;
  }

  /** Out of the step that took it whole: a new weight, and no hand-over, for something was done to it. */
  goOn(entry: Entry, flow: Flow, weight: Weight): void {
    this.push('continued', entry, flow.place, flow, weight, weight.mass, weight.volume);
    this.settle();
    this.standOn(entry, flow.place, weight, flow);
    this.gone = false;
    if (flow.kind) this.make = { material: this.make?.material, kind: flow.kind };
  }

  /** Told of a lot whose make nobody said before. */
  isOf(material: string): void {
    this.make ??= { material: undefined, kind: undefined };
    if (this.make.material === undefined) this.make = { material, kind: this.make.kind };
  }

  /** More of the same: prills found on another day, a weight read late. */
  addTo(entry: Entry, flow: Flow, weight: Weight, kind: LotEventKind = 'made'): void {
    const late = this.stand?.weight.mass === undefined && !this.left;
    const total = late ? weight.mass : this.left && weight.mass && add(this.left, weight.mass);
    this.push(kind, entry, flow.place, flow, weight, total, this.volume);
    if (late) this.standOn(entry, flow.place, weight, flow);
    else if (this.stand) this.stand = { ...this.stand, left: total, since: entry };
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
    const volume = weight.volume ?? (weight.mass ? undefined : this.pouredAway);
    // A weight that was read stays the object that others know it by.
    const back = volume === weight.volume ? weight : { ...weight, volume };
    this.push('returned', entry, flow.place, flow, back, weight.mass, volume);
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

  /** Less than is left of what is measured in litres. */
  isPartPoured({ mass, volume }: Weight): boolean {
    return !mass && volume !== undefined && this.volume?.value.greaterThan(volume.value) === true;
  }

  private isNothing(rest: Measured): boolean {
    const reach = Math.max(this.workshop.limits.coverage * uncertainty(rest), this.stand?.weight.divisionGrams ?? 0);
    return Math.abs(rest.value.toNumber()) <= reach;
  }

  /** What is left, as far as it is to be trusted. */
  private trusted(): Measured | undefined {
    return this.left && this.disputedBy > 0 ? disputed(this.left, this.disputedBy) : this.left;
  }

  private push(
    kind: LotEventKind,
    entry: Entry,
    place: Named['place'],
    flow: Flow | undefined,
    weight: Weight,
    after: Measured | undefined,
    volumeAfter: Measured | undefined,
  ): LotEvent {
    const event: LotEvent = {
      kind,
      entry,
      place,
      flow,
      weight,
      before: this.trusted(),
      after,
      volumeBefore: this.volume,
      volumeAfter,
    };
    this.events.push(event);
    this.left = after;
    this.volume = volumeAfter;
    return event;
  }

  private standing(entry: Entry, place: Named['place'], weight: Weight, flow: Flow | undefined): Stand {
    return { entry, place: weight.amount?.place ?? place, weight, flow, left: weight.mass, since: undefined };
  }

  private standOn(entry: Entry, place: Named['place'], weight: Weight, flow: Flow | undefined): void {
    this.stand = this.standing(entry, place, weight, flow);
  }

  /** No weighing is disputed any more. */
  private settle(): void {
    this.other = undefined;
    this.disputedBy = 0;
  }

  private compare(entry: Entry, place: Named['place'], weight: Weight, flow: Flow | undefined): void {
    const { stand } = this;
    if (!stand || !this.left || this.gone || !weight.mass) return;
    const to = this.standing(entry, place, weight, flow);
    const handover = this.between({ ...stand, left: this.left }, to);
    const against = this.other && this.between(this.other, to);
    if (handover?.explained) this.settle();
    if (!handover || handover.explained) {
      if (handover) this.handovers.push(explained(handover));
      return;
    }
    if (against?.explained) {
      this.sideWithFirst(against);
      return;
    }
    this.handovers.push(this.doubted(handover, stand.flow, flow));
    this.other = { ...stand, left: this.left };
    this.disputedBy = handover.because ? 0 : Math.abs(handover.difference.value.toNumber());
  }

  private between({ left, since, ...from }: Stand, { entry, place, weight, flow }: Stand) {
    return left && handoverOf(this.name, from, left, { entry, place, weight, flow }, this.workshop, since);
  }

  /** What is looked for later must not hold the tale, which knows the whole version of the journal that it is told in. */
  private doubted(of: Omit<Handover, 'slips'>, from: Flow | undefined, to: Flow | undefined): Handover {
    const { workshop } = this;
    const { otherBalance } = this.context;
    const other = { from: from && otherBalance?.(of.from.entry, from), to: to && otherBalance?.(of.to.entry, to) };
    return withSlips(of, () => handoverSlips(of, from, to, workshop, other));
  }

  /** A third weighing agrees with the first: the one between is the wrong one, and one finding says so. */
  private sideWithFirst(against: Omit<Handover, 'slips'>): void {
    const { slips: _, ...last } = this.handovers.pop()!;
    const outlier = { ...last, again: against.to };
    this.handovers.push(this.doubted(outlier, undefined, this.stand?.flow), explained(against));
    this.settle();
  }
}

const lessened = (stand: Stand | undefined, entry: Entry, { mass }: Weight): Stand | undefined =>
  stand && { ...stand, left: stand.left && mass && subtract(stand.left, mass), since: entry };

/**
 * The way of a metal through steps: what came in, what each step was given and what it lost, where all of it is now. By the best that is known of
 * each lot, as in the account of a period.
 */
import { asGuess, fromMeasured, type Inexact, minus, NOTHING, plus, sum, times } from '../accounts/inexact';
import type { Known } from '../accounts/known';
import type { Metals } from '../accounts/metals';
import { type Movement, moveIn } from '../accounts/moves';
import type { Passage } from '../accounts/passage';
import { type Segment, segmentsOf } from '../accounts/segments';
import type { Holding } from '../accounts/stock';
import type { Book } from '../book';

export type PlaceKind = 'came in' | 'shelf' | 'step' | 'lost' | 'too much' | 'end';

export interface FlowPlace {
  readonly id: string;
  readonly kind: PlaceKind;
  /** The verb and name of a step, or how many of the verb; the lot or material that came in; what has become of it. */
  readonly name: string;
  readonly steps: number;
}

export interface FlowWay {
  readonly from: string;
  readonly to: string;
  readonly grams: Inexact;
  readonly kind: WayKind;
}

type WayKind = 'metal' | 'lost' | 'too much';

export interface MetalFlow {
  readonly metal: string;
  readonly places: readonly FlowPlace[];
  readonly ways: readonly FlowWay[];
  /** Charges and products of which the metal is not known: they are not drawn. */
  readonly unknown: number;
}

export interface FlowSubject {
  readonly metal: string;
  /** In the order of the record. */
  readonly passages: readonly Passage[];
  readonly metals: Metals;
  readonly book: Pick<Book, 'lot' | 'lotNames'>;
  readonly holdings: readonly Holding[];
  /** What left on another day is not drawn: at the end of the period it was on hand, or it had left before. */
  readonly isWithin?: (date: string | undefined) => boolean;
  /** Steps one by one, or all of a verb that stand equally far from what came in together. */
  readonly together: boolean;
}

/** Less than this part of what a step was given is the rounding of sums. */
const LEAST_PART = 0.0005;

export const metalFlow = (subject: FlowSubject): MetalFlow => {
  const drawing = new Drawing(subject);
  for (const passage of drawing.passages) drawing.step(passage);
  for (const lot of subject.book.lotNames()) {
    for (const segment of segmentsOf(subject.book.lot(lot)!).all) drawing.fates(segment);
  }
  for (const holding of subject.holdings) drawing.held(holding);
  return drawing.flow();
};

class Drawing {
  readonly passages: readonly Passage[];
  private readonly ids = new Map<Passage['step'], string>();
  private readonly places = new Map<string, FlowPlace>();
  private readonly ways = new Map<string, Omit<FlowWay, 'grams'> & { readonly parts: Inexact[] }>();
  private readonly subject: FlowSubject;
  private unknown = 0;

  constructor(subject: FlowSubject) {
    this.subject = subject;
    this.passages = subject.passages.filter(({ step }) => step.entry.verb !== 'sample');
    const counts = new Map<string, number>();
    const depths = new Map<Passage['step'], number>();
    for (const [at, passage] of this.passages.entries()) {
      const { verb, name } = passage.step.entry;
      const before = passage.inputs.map(({ flow }) => {
        const segment = subject.metals.lineage.segment(flow);
        const source = segment && this.passageOf(segment);
        return (source && depths.get(source.step)) ?? 0;
      });
      const depth = 1 + Math.max(0, ...before);
      depths.set(passage.step, depth);
      const id = subject.together ? `step ${depth} ${verb}` : `step ${at}`;
      this.ids.set(passage.step, id);
      counts.set(id, (counts.get(id) ?? 0) + 1);
      this.places.set(id, {
        id,
        kind: 'step',
        name: subject.together || !name ? verb : `${verb} ${name.name}`,
        steps: counts.get(id)!,
      });
    }
  }

  /** What a step was given, what it gave, and the difference. */
  step({ step, inputs, outputs, added }: Passage): void {
    const id = this.ids.get(step)!;
    let [went, came, isKnown] = [NOTHING, NOTHING, true];
    for (const { flow, amount } of inputs) {
      const segment = this.subject.metals.lineage.segment(flow);
      const grams = segment && this.gramsIn(segment, amount);
      if (!segment || !grams) {
        this.unknown++;
        isKnown = false;
        continue;
      }
      went = plus(went, grams);
      this.way(this.source(segment), id, grams, 'metal');
    }
    const shelf = added.get(this.subject.metal);
    if (shelf && shelf.value > 0) {
      went = plus(went, shelf);
      this.way(this.place('shelf', 'shelf', 'from the shelf'), id, shelf, 'metal');
    }
    for (const { flow, amount } of outputs) {
      const segment = this.subject.metals.lineage.segment(flow);
      const grams = segment && this.gramsIn(segment, amount);
      if (grams) came = plus(came, grams);
      else isKnown = false;
    }
    const lost = minus(went, came);
    if (!isKnown || outputs.length === 0 || Math.abs(lost.value) <= LEAST_PART * went.value) return;
    if (lost.value > 0) this.way(id, this.place(`lost ${id}`, 'lost', 'lost'), lost, 'lost');
    else this.way(this.place(`too much ${id}`, 'too much', 'too much'), id, minus(came, went), 'too much');
  }

  /** What left the shop, or was thrown away, of a segment that came in or was made here. */
  fates(segment: Segment): void {
    if (!this.isDrawn(segment)) return;
    for (const event of segment.events) {
      if (this.subject.isWithin?.(event.entry.date) === false) continue;
      const moved = moveIn(event, segment);
      const name = moved && ENDS.get(moved.movement);
      if (!name || (this.known(segment)?.share === undefined && !moved.size)) continue;
      const grams = this.gramsIn(segment, moved.size && fromMeasured(moved.size));
      if (grams) this.way(this.source(segment), this.place(name, 'end', name), grams, 'metal');
      else this.unknown++;
    }
  }

  held({ segment, amount }: Holding): void {
    if (!this.isDrawn(segment)) return;
    const grams = this.gramsIn(segment, amount && fromMeasured(amount));
    if (grams) this.way(this.source(segment), this.place('on hand', 'end', 'on hand'), grams, 'metal');
    else this.unknown++;
  }

  flow(): MetalFlow {
    const ways = [...this.ways.values()]
      .map(({ parts, ...way }): FlowWay => ({ ...way, grams: sum(parts) }))
      .filter(({ grams }) => grams.value > 0);
    const named = new Set(ways.flatMap(({ from, to }) => [from, to]));
    return {
      metal: this.subject.metal,
      places: [...this.places.values()].filter(({ id }) => named.has(id)),
      ways,
      unknown: this.unknown,
    };
  }

  private known(segment: Segment): Known | undefined {
    return this.subject.metals.best(segment).get(this.subject.metal);
  }

  private gramsIn(segment: Segment, amount: Inexact | undefined): Inexact | undefined {
    const known = this.known(segment);
    if (!known?.share || !amount) return undefined;
    const grams = times(amount, known.share);
    return known.ground === 'guessed' ? asGuess(grams) : grams;
  }

  /** Of steps by themselves only what they take or make; of all together everything. */
  private isDrawn(segment: Segment): boolean {
    if (segment.start.kind === 'renamed' && !this.passageOf(segment)) return this.subject.together;
    const made = this.passageOf(segment);
    if (made) return this.ids.has(made.step);
    return (
      this.subject.together ||
      this.subject.metals.lineage.uses(segment).some(({ passage }) => this.ids.has(passage.step))
    );
  }

  /** The step that made it, under whatever name. */
  private passageOf(segment: Segment): Passage | undefined {
    let now = segment;
    for (const seen = new Set<Segment>(); !seen.has(now); ) {
      seen.add(now);
      const { was, passage } = this.subject.metals.lineage.origin(now);
      if (passage && passage.step.entry.verb !== 'sample') return passage;
      if (!was) return undefined;
      now = was;
    }
    return undefined;
  }

  private source(segment: Segment): string {
    const made = this.passageOf(segment);
    const id = made && this.ids.get(made.step);
    if (id !== undefined) return id;
    const { entry } = segment.start;
    const material = entry.others.find(({ word }) => word === 'material')?.names[0]?.name;
    const name = this.subject.together ? (material ?? 'other lots') : segment.lot;
    return this.place(`in ${name}`, 'came in', name);
  }

  private place(id: string, kind: PlaceKind, name: string): string {
    if (!this.places.has(id)) this.places.set(id, { id, kind, name, steps: 0 });
    return id;
  }

  private way(from: string, to: string, grams: Inexact, kind: WayKind): void {
    // What was made of itself, as a slip of the pen may have it, has no way on a picture.
    if (from === to) return;
    const key = JSON.stringify([from, to]);
    const way = this.ways.get(key) ?? { from, to, kind, parts: [] };
    way.parts.push(grams);
    this.ways.set(key, way);
  }
}

const ENDS: ReadonlyMap<Movement, string> = new Map<Movement, string>([
  ['shipped', 'shipped'],
  ['sold', 'sold'],
  ['discarded', 'thrown away'],
  ['assayed', 'used in assays'],
  ['missing', 'missing at a count'],
]);

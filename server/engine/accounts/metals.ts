/**
 * What is known of the metals of every lot, both ways along its history. Forward from what went in and backward from what came out are kept
 * apart, so that no figure is ever held against itself: backward rests on forward, never the other way round, but for the products that came
 * out beside.
 */
import type { LotEvent } from '../book';
import type { Entry } from '../entry';
import type { Workshop } from '../workshop';
import { assayed, matrixOf, QUARTZ, weighedDensity } from './assays';
import { backward } from './backward';
import { declared, intended } from './declared';
import { byNature, forward } from './forward';
import { better, completed, type Knowledge, NOTHING_KNOWN, sameKnowledge, supplemented } from './known';
import { type Keeping, keepingOf, lazily } from './lazily';
import type { Lineage, LineageBook } from './lineage';
import { knowing, liquidsIn } from './liquids';
import { memo } from './memo';
import type { Passing } from './passage';
import { pooled } from './pooled';
import { type Segment, segmentsOf } from './segments';
import { Settled } from './settled';

export interface Metals {
  readonly lineage: Lineage;
  /** The best that is known of a segment. */
  readonly best: (segment: Segment) => Knowledge;
  /** From before: its own assays, and what went into it. */
  readonly before: (segment: Segment) => Knowledge;
  /** From after: its own assays, and what came of it. */
  readonly after: (segment: Segment) => Knowledge;
  /** Its own assays, those of its samples among them, and what its kind of product is by nature. */
  readonly own: (segment: Segment) => Knowledge;
  /** The assay entries of a segment and of its samples, in order. */
  readonly assays: (segment: Segment) => readonly Entry[];
  /** By what went in alone: no assay of its own. */
  readonly carried: (segment: Segment) => Knowledge;
  /** By what came out of it alone: no assay of its own. */
  readonly inferred: (segment: Segment) => Knowledge;
  /** What a solution that nobody measured holds in all, as if it were `ALL` millilitres: by what went into the step that made it. */
  readonly inAll: (segment: Segment) => Knowledge;
}

/** Goes on from version to version of a journal: segments are the same objects as long as their lots' stories are. */
const keeping: Readonly<Record<'own' | 'plain' | 'after' | 'before', Keeping<Segment, Knowledge>>> = {
  own: keepingOf(),
  plain: keepingOf(),
  after: keepingOf(),
  before: keepingOf(),
};

const RECIPE = { same: sameKnowledge, unknown: NOTHING_KNOWN };

/** What is settled in one version of a journal, by what it is of. */
export type SettledMetals = Readonly<Record<'own' | 'plain' | 'after' | 'before', Settled<Segment, Knowledge>>>;

export const nothingSettled = (): SettledMetals => ({
  own: new Settled(),
  plain: new Settled(),
  after: new Settled(),
  before: new Settled(),
});

/**
 * What still holds when these segments are others than before: what is known before goes on to what was made of them, what is known after goes
 * back to what they were made of, and one gives the other a hand where several went in or came out together. `forth` are all that what is known
 * before, and whose they are, may have changed of.
 */
export const stillSettled = (
  settled: SettledMetals,
  changed: Iterable<Segment>,
  lineage: Lineage,
): { readonly settled: SettledMetals; readonly forth: ReadonlySet<Segment>; readonly any: ReadonlySet<Segment> } => {
  const [forth, back] = [new Set<Segment>(), new Set<Segment>()];
  const own = new Set<Segment>();
  const queue: [Set<Segment>, Segment][] = [];
  const touch = (side: Set<Segment>, of: Segment | undefined): void => {
    if (!of || side.has(of)) return;
    side.add(of);
    queue.push([side, of]);
  };
  for (const of of changed) {
    // The assays of a sample speak for its lot.
    for (const one of [of, lineage.origin(of).was]) {
      if (one) own.add(one);
      touch(forth, one);
      touch(back, one);
    }
  }
  for (let next = queue.pop(); next; next = queue.pop()) {
    const [side, of] = next;
    const { was, passage } = lineage.origin(of);
    if (side === back) {
      touch(back, was);
      for (const { flow } of passage?.inputs ?? []) touch(back, lineage.segment(flow));
      for (const { flow } of passage?.outputs ?? []) touch(forth, lineage.segment(flow));
      continue;
    }
    touch(forth, lineage.renamedTo(of));
    for (const { flow, kind } of of.events) if (kind === 'sampled' && flow) touch(forth, lineage.segment(flow));
    for (const use of lineage.uses(of)) {
      for (const { flow } of use.passage.outputs) touch(forth, lineage.segment(flow));
      for (const { flow } of use.passage.inputs) touch(back, lineage.segment(flow));
    }
  }
  return {
    settled: {
      own: settled.own.without(own),
      plain: settled.plain.without(forth),
      after: settled.after.without(back),
      before: settled.before.without(forth),
    },
    forth,
    any: new Set([...own, ...forth, ...back]),
  };
};

export const metalsOf = (book: LineageBook, workshop: Workshop, lineage: Lineage, settled: SettledMetals): Metals => {
  const { segment, origin, uses, renamedTo } = lineage;

  const own = lazily(keeping.own, settled.own, {
    ...RECIPE,
    needs: () => [],
    rests: (of) => [origin(of).passage?.step, ...assaysOf(book, of)],
    work: (of) => completed(better(pooled(assaysOf(book, of)), natureAt(of))),
  });

  const liquids = liquidsIn(lineage, own);
  const knows = knowing(lineage);

  const natureAt = (of: Segment): Knowledge => {
    const { passage } = origin(of);
    const product = passage?.outputs.find(({ flow }) => flow === of.start.flow);
    return passage && product ? byNature(passage, product) : NOTHING_KNOWN;
  };

  const segmentsIn = (passings: readonly Passing[]): readonly Segment[] =>
    passings.flatMap(({ flow }) => segment(flow) ?? []);

  /** All that went in; in the place of a solution that nobody measured, what went into the step that made it. */
  const needsBefore = (of: Segment): readonly Segment[] => {
    const { was } = origin(of);
    if (was) return [was];
    return [of, ...liquids.before(of)].flatMap((one) => segmentsIn(origin(one).passage?.inputs ?? []));
  };

  const fromBefore = (of: Segment, get: (of: Segment) => Knowledge, beside: (of: Segment) => Knowledge): Knowledge => {
    const { was, passage } = origin(of);
    if (was) return get(was);
    if (!passage) return completed(declared(of.start.entry, workshop));
    const product = passage.outputs.find(({ flow }) => flow === of.start.flow);
    if (!product) return NOTHING_KNOWN;
    const whole = liquids.whole(passage, get, beside);
    const told = forward(whole.passage, product, whole.charge, knows(beside));
    return supplemented(told, intended(of.start.entry, product.flow));
  };

  const fromAfter = (of: Segment, get: (of: Segment) => Knowledge): Knowledge => {
    const renamed = renamedTo(of);
    return uses(of).reduce(
      (so, { passage, input }) => better(so, backward(passage, input, knows(plain), knows(get))),
      renamed ? get(renamed) : NOTHING_KNOWN,
    );
  };

  /** Forward without a look at what came out beside: what backward may rest on. */
  const plain = lazily(keeping.plain, settled.plain, {
    ...RECIPE,
    needs: needsBefore,
    rests: (of) => [
      own(of),
      workshop,
      origin(of).passage?.step,
      of.start.entry,
      ...liquids.before(of).flatMap((one) => [own(one), origin(one).passage?.step]),
    ],
    work: (of, get) =>
      better(
        own(of),
        fromBefore(of, get, () => NOTHING_KNOWN),
      ),
  });

  const after = lazily(keeping.after, settled.after, {
    ...RECIPE,
    needs: (of) => {
      const renamed = renamedTo(of);
      const products = uses(of).flatMap(({ passage }) => segmentsIn(passage.outputs));
      return renamed ? [...products, renamed] : products;
    },
    rests: (of) => [
      own(of),
      ...uses(of).flatMap(({ passage }) => [passage.step, ...segmentsIn(passage.inputs).map(plain)]),
    ],
    work: (of, get) => completed(better(own(of), fromAfter(of, get))),
  });

  const before = lazily(keeping.before, settled.before, {
    ...RECIPE,
    needs: needsBefore,
    rests: (of) => {
      const behind = liquids.before(of);
      const beside = [of, ...behind].flatMap((one) => segmentsIn(origin(one).passage?.outputs ?? []).map(after));
      const steps = behind.map((one) => origin(one).passage?.step);
      return [own(of), workshop, origin(of).passage?.step, of.start.entry, ...beside, ...steps];
    },
    work: (of, get) => {
      const made = completed(better(own(of), fromBefore(of, get, after)));
      const without = plain(of);
      return sameKnowledge(without, made) ? without : made;
    },
  });

  return {
    lineage,
    best: (of) => bestOf(of, before(of), after(of)),
    before,
    after,
    own,
    assays: (of) => assaysOf(book, of),
    carried: (of) => fromBefore(of, before, after),
    inferred: (of) => fromAfter(of, after),
    inAll: (of) => liquids.held(of, before, after),
  };
};

interface Best {
  readonly one: Knowledge;
  readonly other: Knowledge;
  readonly best: Knowledge;
}

const kept = memo<Segment, Best>();

/** Kept: accounts and hints ask for it over and over. */
const bestOf = (of: Segment, one: Knowledge, other: Knowledge): Knowledge => {
  const known = kept.get(of);
  if (known?.one === one && known.other === other) return known.best;
  const best = completed(better(one, other));
  kept.set(of, { one, other, best });
  return best;
};

/** The assays of a segment, and of the samples that were taken from it. */
const assaysOf = (book: Pick<LineageBook, 'lot'>, of: Segment): readonly Entry[] =>
  of.events
    .flatMap((event) => (event.kind === 'sampled' ? sampleAssays(book, event) : assayAt(event)))
    .filter((entry) => !isReadAsAlloy(entry) || !mayHoldQuartz(of));

/** A density without a word of what the metal sits in. */
const isReadAsAlloy = (entry: Entry): boolean =>
  entry.readings.length === 0 && matrixOf(entry) === undefined && weighedDensity(entry) !== undefined;

/** Ore and raw gold: a density read as that of an alloy says nothing of them. */
const MAY_HOLD_QUARTZ: ReadonlySet<string | undefined> = new Set([QUARTZ, 'placer-gold']);

export const mayHoldQuartz = ({ story: { make } }: Segment): boolean => MAY_HOLD_QUARTZ.has(make?.material);

const assayAt = ({ entry }: LotEvent): readonly Entry[] =>
  entry.verb === 'assay' && assayed(entry).size > 0 ? [entry] : [];

const sampleAssays = (book: Pick<LineageBook, 'lot'>, { flow }: LotEvent): readonly Entry[] => {
  const sample = flow?.lot && book.lot(flow.lot.name);
  return sample ? segmentsOf(sample).all[0]!.events.flatMap(assayAt) : [];
};

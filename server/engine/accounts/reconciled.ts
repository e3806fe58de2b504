/**
 * A connected history reconciled: every reading with the value that all others give it, the test of the whole, and the readings that do not
 * fit. What checks a reading is said by the error that would be found.
 */
import type { Place } from '../../text/place';
import type { LotStory, Step } from '../book';
import type { Entry } from '../entry';
import { biasOf, errorsFound, findSuspects, type GlobalTest, globalTest, readingScores } from '../reconcile/gross';
import { type MetalResult, reconcileMetals } from '../reconcile/metals';
import type { Reading } from '../reconcile/system';
import type { Workshop } from '../workshop';
import type { History } from './history';
import type { Metals } from './metals';
import { type Aside, type HistoryNetwork, networkOf, type Read } from './network';

export interface HistoryReading {
  readonly kind: 'mass' | 'fineness';
  /** The lot, material or vessel; of a fineness its lot. */
  readonly what: string;
  readonly metal: string | undefined;
  readonly entry: Entry;
  readonly place: Place;
  /** Grams, or a mass fraction, with its standard uncertainty. */
  readonly value: number;
  readonly u: number;
  readonly adjusted: number;
  readonly adjustedU: number;
  /** Adjustment in its own standard deviations; none where nothing checks the reading. */
  readonly score: number | undefined;
  /** The error that would be found nine times of ten; none where none would. */
  readonly shows: number | undefined;
}

/** More than this step usually loses fits the figures no worse than a wrong reading would. */
export interface OddLoss {
  readonly step: Step;
}

export interface HistorySuspect {
  /** The likeliest reading; none where a step's loss alone stands out. */
  readonly reading: HistoryReading | undefined;
  readonly loss: OddLoss | undefined;
  readonly score: number;
  /** What the others give for it, and its standard uncertainty; none where they give none. */
  readonly instead: number | undefined;
  readonly insteadU: number | undefined;
  /** Other readings that fit as well: the figures cannot tell them apart. */
  readonly alike: readonly HistoryReading[];
}

/** A mass that nobody weighed. */
export interface Unweighed {
  readonly what: string;
  readonly place: Place | undefined;
  /** Grams by the balances; none where they do not tell. */
  readonly value: number | undefined;
  readonly u: number | undefined;
}

export interface ReconciledHistory {
  readonly history: History;
  readonly readings: readonly HistoryReading[];
  readonly test: GlobalTest;
  readonly suspects: readonly HistorySuspect[];
  /** The test of the whole without the suspects. */
  readonly without: GlobalTest | undefined;
  readonly unweighed: readonly Unweighed[];
  /** False where the figures contradict each other so that no solution was found: then nothing here is to be relied on. */
  readonly converged: boolean;
}

/** No more than these are named: with more, the record as a whole is wrong. */
const MOST_SUSPECTS = 5;
const LEVEL = 0.05;

/** `level`: the chance that a history without a fault names a suspect. */
export const reconciledHistory = (
  history: History,
  metals: Metals,
  workshop: Workshop,
  aside: Aside = {},
): ReconciledHistory => {
  const asked = networkOf(history, metals, workshop, aside);
  const result = reconcileMetals(asked.network);
  const variables = asked.reads.map((read) => variableOf(read, result));
  const scores = readingScores(result.result);
  const tests = variables.filter((variable) => result.result.standings[variable] === 'checked').length;
  const shows = errorsFound(result.result, { tests: Math.max(1, tests) });
  const readings = asked.reads.map((read, at) => readingAt(read, variables[at]!, result, scores, shows));
  const told: Told = { asked, result, variables, readings };
  const { suspects, cleared } = fewest(told, result.converged ? suspectsOf(told) : []);
  const adjusted = cleared?.converged
    ? readings.map((one, at) => solvedAnew(one, asked.reads[at]!, cleared))
    : readings;
  return {
    history,
    readings: adjusted.toSorted(byDate),
    test: globalTest(result, LEVEL),
    suspects: suspects.map((one) => suspectWords(one, { ...told, readings: adjusted }, cleared)),
    without: cleared && globalTest(cleared, LEVEL),
    unweighed: unweighedOf(cleared?.converged ? { ...told, result: cleared } : told),
    converged: result.converged,
  };
};

interface Cleared {
  readonly suspects: readonly Found[];
  /** Solved for again without them; none where there are none. */
  readonly cleared: MetalResult | undefined;
}

/**
 * As many of the suspects as it takes until nothing stands out, solved for again without them. They were found with what one wrong reading
 * pushed against a bound still held there; set free, the rest of them may be in order.
 */
const fewest = (told: Told, suspects: readonly Found[]): Cleared => {
  const without = (some: readonly Found[]): MetalResult =>
    reconcileMetals(
      withoutReadings(
        told,
        some.flatMap(({ at }) => at ?? []),
        lossesOf(some),
      ),
    );
  for (let count = 1; told.result.held.length > 0 && count < suspects.length; count++) {
    const some = suspects.slice(0, count);
    const cleared = without(some);
    const isClear = findSuspects(cleared.result, { level: LEVEL, until: 'reading', most: 1 }).length === 0;
    if (cleared.converged && isClear) return { suspects: some, cleared };
  }
  return { suspects, cleared: suspects.length > 0 ? without(suspects) : undefined };
};

/** What a wrong reading pulled at is told as it is without that. */
const solvedAnew = (reading: HistoryReading, read: Read, cleared: MetalResult): HistoryReading => {
  const { value, u } =
    read.kind === 'mass' ? cleared.mass(read.stream) : cleared.fineness(read.composition, read.metal);
  return value === undefined ? reading : { ...reading, adjusted: value, adjustedU: u ?? reading.adjustedU };
};

const byDate = ({ entry: { date: a = '' } }: HistoryReading, { entry: { date: b = '' } }: HistoryReading): number =>
  a < b ? -1 : a > b ? 1 : 0;

interface Told {
  readonly asked: HistoryNetwork;
  readonly result: MetalResult;
  /** Of each reading. */
  readonly variables: readonly number[];
  readonly readings: readonly HistoryReading[];
}

const variableOf = (read: Read, { state: { of, network } }: MetalResult): number => {
  if (read.kind === 'mass') return read.stream;
  if (read.more !== undefined) return of.more[read.more]!;
  return of.fineness[read.composition * network.metals + read.metal]!;
};

const readingAt = (
  read: Read,
  variable: number,
  { result }: MetalResult,
  scores: readonly (number | undefined)[],
  shows: (variable: number) => number | undefined,
): HistoryReading => {
  const { value, u } = figureOf(read);
  const checked = result.standings[variable] === 'checked';
  const shared = {
    value,
    u,
    adjusted: result.values[variable] ?? value,
    adjustedU: result.uOf(variable) ?? u,
    score: checked ? scores[variable] : undefined,
    shows: checked ? shows(variable) : undefined,
  };
  if (read.kind === 'mass') {
    const { what, entry, place } = read.reading;
    return { kind: 'mass', what, metal: undefined, entry, place, ...shared };
  }
  const { metal, entry, segment } = read.reading;
  const place = entry.name?.place ?? entry.head;
  return { kind: 'fineness', what: entry.name?.name ?? segment.lot, metal, entry, place, ...shared };
};

const figureOf = (read: Read): { readonly value: number; readonly u: number } => {
  if (read.kind === 'mass') {
    const { value, errors } = read.reading.mass;
    return { value: value.toNumber(), u: Math.hypot(...errors.map(({ size }) => size)) };
  }
  const { value, sizes } = read.reading.share;
  return { value, u: Math.hypot(...sizes) };
};

interface Found {
  /** Index of the reading. */
  readonly at: number | undefined;
  readonly loss: number | undefined;
  readonly score: number;
  readonly bias: number;
  readonly alike: readonly number[];
}

/**
 * Serial elimination until no figure stands out (Sidak over all that are checked). What a step usually loses is a figure among them: where it
 * stands out as much as a reading the reading is named, and the step where it stands out alone.
 */
const suspectsOf = ({ asked, result, variables }: Told): Found[] => {
  const readingAt = new Map(variables.map((variable, at) => [variable, at]));
  const lossAt = new Map(asked.losses.map(({ stream }, at) => [stream, at]));
  return findSuspects(result.result, { level: LEVEL, until: 'reading', most: MOST_SUSPECTS }).map((suspect) => {
    const same = [suspect.variable, ...suspect.alike];
    const [at, ...alike] = same.flatMap((variable) => readingAt.get(variable) ?? []);
    const loss = same.map((variable) => lossAt.get(variable)).find((one) => one !== undefined);
    const bias = at === undefined ? suspect.bias : (biasOf(result.result, variables[at]!) ?? suspect.bias);
    return { at, loss, score: suspect.score, bias, alike };
  });
};

const lossesOf = (found: readonly Found[]): readonly number[] =>
  found.flatMap(({ at, loss }) => (at === undefined && loss !== undefined ? [loss] : []));

/** The same history with these readings, and these steps' usual losses, as if nobody knew them. */
const withoutReadings = ({ asked, variables }: Told, readings: readonly number[], losses: readonly number[]) => {
  const { network, reads } = asked;
  const out = new Set(readings.map((at) => variables[at]!));
  const lost = new Set(losses.map((at) => asked.losses[at]!.stream));
  const gone = new Set(readings);
  const masses = new Set(reads.flatMap((read, at) => (gone.has(at) && read.kind === 'mass' ? [read.stream] : [])));
  const open = <Figure extends Reading>(figure: Figure): Figure => ({
    ...figure,
    value: undefined,
    u: undefined,
    shared: undefined,
  });
  const more = (network.more ?? []).map((figure) => ({ ...figure }));
  const compositions = network.compositions.map((fractions) => [...fractions]);
  for (const [at, read] of reads.entries()) {
    if (!gone.has(at) || read.kind !== 'fineness') continue;
    if (read.more !== undefined) more[read.more] = open(more[read.more]!);
    else compositions[read.composition]![read.metal] = firstLeft(read, more, out);
  }
  return {
    ...network,
    streams: network.streams.map((stream, at) => (masses.has(at) || lost.has(at) ? open(stream) : stream)),
    compositions,
    more: more.filter(({ value }) => value !== undefined),
  };
};

/** A further assay takes the place of the first that is set aside. */
const firstLeft = (
  { composition, metal }: Extract<Read, { kind: 'fineness' }>,
  more: { composition: number; metal: number; value?: number | undefined; u?: number | undefined }[],
  _out: ReadonlySet<number>,
): Reading => {
  const next = more.find((one) => one.composition === composition && one.metal === metal && one.value !== undefined);
  if (!next) return {};
  const { value, u } = next;
  next.value = undefined;
  return { value, u };
};

const suspectWords = (found: Found, { readings, asked }: Told, cleared: MetalResult | undefined): HistorySuspect => {
  const reading = found.at === undefined ? undefined : readings[found.at];
  const read = found.at === undefined ? undefined : asked.reads[found.at];
  const known =
    read?.kind === 'mass' ? cleared?.mass(read.stream) : read && cleared?.fineness(read.composition, read.metal);
  const isTold = cleared?.converged && known?.value !== undefined && known.standing !== 'unknown';
  const isAlone = reading && !isTold ? reading.value - found.bias : undefined;
  // The bias is the reading less what the others give; its uncertainty, bias/score, is of both.
  const restU = reading && Math.sqrt(Math.max(0, (found.bias / found.score) ** 2 - reading.u ** 2));
  return {
    reading,
    loss: found.at === undefined && found.loss !== undefined ? { step: asked.losses[found.loss]!.step } : undefined,
    score: found.score,
    instead: isTold ? known.value : isAlone,
    insteadU: isTold ? known.u : restU,
    alike: found.alike.map((at) => readings[at]!),
  };
};

const unweighedOf = ({ asked, result }: Told): readonly Unweighed[] =>
  asked.streams.flatMap((stream, at): Unweighed[] => {
    if (stream.reading || stream.liquid || (!stream.from && !stream.to)) return [];
    const what = stream.of?.lot ?? stream.added?.flow.material?.name;
    if (what === undefined) return [];
    const { value, u, standing } = result.mass(at);
    const isTold = standing === 'inferred' && value !== undefined;
    return [
      {
        what,
        place: stream.of?.start.place ?? stream.added?.flow.place,
        value: isTold ? value : undefined,
        u: isTold ? u : undefined,
      },
    ];
  });

export type { Aside } from './network';
export type { LotStory };

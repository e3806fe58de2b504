/** What a product is to hold, as figures, and what may be added to bring it there. */
import { shareOf } from '../engine/accounts/assays';
import { UNDER_STAMP, UNDER_STAMP_SOURCE } from '../engine/accounts/declared';
import type { Fractions } from '../engine/bench/alloy';
import { MARK_SOURCE, markAt } from '../engine/bench/fineness';
import { type Assumption, assume, type Estimate, exactly, sumOf } from '../engine/bench/result';
import type { Entry, Flow } from '../engine/entry';
import { expandRecipe, findMaterial } from '../engine/shelf';
import { type Target, targetOf } from '../engine/target';
import { decimal } from '../quantity/decimal';
import { element } from '../vocabulary/elements';
import { addedMetals, type Contents, chargedOf, type Job } from './job';

/** A metal that the target names, as mass fractions 0 to 1. */
export interface Wanted {
  readonly symbol: string;
  readonly share: Estimate;
  /** The share that its karats are of 24, where the mark for them stands above it. */
  readonly karat?: number;
}

/** `14 k` means the mark 585, which allows nothing below it, not 583.3. */
export const wantedOf = ({ reading }: Pick<Target, 'reading'>): readonly Wanted[] =>
  reading.metals.flatMap(({ symbol, amount }) => {
    const [first] = shareOf(amount);
    if (!first || first.value > 1) return [];
    const half = amount.figure?.form === 'range' ? Math.sqrt(3) * first.u : 0;
    const aim = amount.unit?.symbol === 'k' ? Math.max(first.value, markOver(symbol.name, first.value)) : first.value;
    const share = { best: aim, low: aim - half, high: aim + half };
    return [{ symbol: symbol.name, share, ...(aim > first.value ? { karat: first.value } : {}) }];
  });

/** The mark that a karat stands for, as a share. */
const markOver = (symbol: string, share: number): number => (markAt(symbol, 1000 * share)?.finenessPpt ?? 0) / 1000;

export const entryTarget = (job: Job): Target | undefined => targetOf(job.entry);

/** Target shares that add up to 1 but for so much name the whole alloy. */
const WHOLE_WITHIN = 0.002;

export const isWhole = (wanted: readonly Wanted[]): boolean =>
  Math.abs(wanted.reduce((so, { share }) => so + share.best, 0) - 1) <= WHOLE_WITHIN;

/** `75 %`, `91.67 %`. */
export const shareFigure = (share: number): string => `${decimal((100 * share).toFixed(2))} %`;

/** `Au 75 %, Ag 12.5 %`. */
export const wantedWords = (wanted: readonly Wanted[]): string =>
  wanted
    .map(({ symbol, share: { best, low, high } }) =>
      low < high
        ? `${symbol} ${shareFigure(low).slice(0, -2)}..${shareFigure(high)}`
        : `${symbol} ${shareFigure(best)}`,
    )
    .join(', ');

/** `750 is a mark: 18 karat (series of ISO 9202, from memory)`. */
export const markAssumption = ({ symbol, share, karat }: Wanted): readonly Assumption[] => {
  const mark = markAt(symbol, 1000 * share.best);
  if (mark && karat !== undefined) {
    const karats = `${Number((24 * karat).toFixed(2))}/24 = ${(1000 * karat).toFixed(1)}`;
    return [
      assume(`${karats}, and the mark is ${mark.finenessPpt}, which allows nothing below it: aimed at`, MARK_SOURCE),
    ];
  }
  return mark
    ? [assume(`${mark.finenessPpt} is a mark of ${nameOf(symbol)}${mark.name ? `, ${mark.name}` : ''}`, MARK_SOURCE)]
    : [];
};

export const nameOf = (symbol: string): string => element(symbol)?.name ?? symbol;

/** A material or a recipe as mass fractions of metals; none where it is no metal, or not all of it. */
export const makeOf = ({ workspace: { workshop } }: Job, name: string): Fractions | undefined => {
  const parts = expandRecipe(workshop, name, decimal('1')) ?? [{ material: name, grams: decimal('1') }];
  const made = new Map<string, number>();
  for (const { material, grams } of parts) {
    for (const { what, fraction } of findMaterial(workshop, material)?.composition ?? []) {
      if (element(what)) made.set(what, (made.get(what) ?? 0) + fraction * grams.toNumber());
    }
  }
  const whole = [...made.values()].reduce((so, one) => so + one, 0);
  return whole > 0.98 ? made : undefined;
};

/** Metal that the writer leaves to be worked out: `add copper ?`, `add copper`. */
export const openAdditions = (
  job: Job,
): readonly { readonly flow: Flow; readonly name: string; readonly make: Fractions }[] =>
  job.entry.flows.flatMap((flow) => {
    const name = flow.word === 'add' ? flow.material?.name : undefined;
    const isOpen = flow.amount === undefined || flow.amount.absent === 'unknown';
    const make = name !== undefined && isOpen ? makeOf(job, name) : undefined;
    return name !== undefined && make ? [{ flow, name, make }] : [];
  });

/** `stamp Au 14 k: 58.3 % by its karats, reckoned as 56.3 %`. */
const stampAssumption = ({ others }: Entry): readonly Assumption[] =>
  others.flatMap(({ word, reading }) =>
    word !== 'stamp' || !reading
      ? []
      : wantedOf({ reading }).map(({ symbol, share, karat = share.best }) =>
          assume(
            `stamped ${symbol} ${shareFigure(karat)}, reckoned as ${shareFigure(karat - UNDER_STAMP)}: scrap melts about two points under its stamp`,
            UNDER_STAMP_SOURCE,
          ),
        ),
  );

/** All that is weighed of a melt, as far as a target asks for it. */
export interface Melt {
  readonly grams: Estimate;
  /** Of the metals that the target names and the melt is known for; others that it is known to hold beside. */
  readonly metals: ReadonlyMap<string, Estimate>;
  readonly assumed: readonly Assumption[];
}

/** Lots and metal from the shelf; none where a lot is not weighed. */
export const meltOf = (job: Job, wanted: readonly Wanted[]): Melt | undefined => {
  const charged = chargedOf(job);
  if (!charged) return undefined;
  const added = addedMetals(job);
  const { metals, assumed } = withRest(charged, wanted);
  for (const [symbol, metal] of metals) metals.set(symbol, sumOf([metal, exactly(added.get(symbol) ?? 0)]));
  const more = [...added.values()].reduce((so, one) => so + one, 0);
  return { grams: sumOf([charged.grams, exactly(more)]), metals, assumed };
};

/** So much of the weight known leaves no room for more than a trace of another metal. */
const ALL_KNOWN = 0.99;

/** What is not assayed of a lot is none where the rest is whole, and the one metal of the target that is left where that is one. */
const withRest = (
  { grams, metals: known, guessed, by }: Contents,
  wanted: readonly Wanted[],
): { readonly metals: Map<string, Estimate>; readonly assumed: Assumption[] } => {
  const metals = new Map(known);
  const told = [...known.values()];
  const rest = {
    best: Math.max(0, grams.best - told.reduce((so, { best }) => so + best, 0)),
    low: Math.max(0, grams.low - told.reduce((so, { high }) => so + high, 0)),
    high: Math.max(0, grams.high - told.reduce((so, { low }) => so + low, 0)),
  };
  const unknown = wanted.filter(({ symbol }) => !known.has(symbol));
  const [only] = unknown;
  const assumed = guessed ? [assume('what goes in holds what was said of it, not yet assayed', 'as written')] : [];
  assumed.push(...by.flatMap(stampAssumption));
  if (told.length > 0 && rest.best <= (1 - ALL_KNOWN) * grams.best) {
    for (const { symbol } of unknown) metals.set(symbol, exactly(0));
  } else if (told.length > 0 && only && unknown.length === 1 && isWhole(wanted)) {
    metals.set(only.symbol, rest);
    assumed.push(assume(`what is not assayed of it is ${nameOf(only.symbol)}`, 'the target names no other metal'));
  }
  return { metals, assumed };
};

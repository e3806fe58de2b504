/** One step of the record as a look back sees it: what it was done with, what it lost, and what became of its metals. */
import { metalBalances } from '../accounts/balance';
import { contents, held } from '../accounts/contents';
import { type Inexact, over, spread } from '../accounts/inexact';
import { NOTHING_KNOWN } from '../accounts/known';
import type { Metals } from '../accounts/metals';
import type { Passage, Passing } from '../accounts/passage';
import type { Step } from '../book';
import type { MakeOf } from '../charge';
import type { Entry } from '../entry';
import { byItself, type Loss, lossOf } from '../learnt';
import { findMaterial } from '../shelf';
import type { Workshop } from '../workshop';

/** By what steps are put together. */
export const GROUPINGS = ['kind', 'recipe', 'crucible', 'furnace', 'hand', 'material', 'month'] as const;
export type Grouping = (typeof GROUPINGS)[number];

/** A metal over one step, known on both sides without a guess. */
export interface MetalDone {
  readonly charged: Inexact;
  /** In the products that usually hold most of it; none where nothing is known of one of them. */
  readonly won: Inexact | undefined;
  /** won / charged; none where that may as well be half of what it is. */
  readonly recovery: Inexact | undefined;
  /** In the slag, where its assay or what came of it tells. */
  readonly slag: Inexact | undefined;
  /** Charged less all that came out and what such a step usually loses; positive is missing. */
  readonly unaccounted: Inexact;
  /** What its products are known by: assays, or later steps. */
  readonly cameBy: readonly Entry[];
  /** One side is known through another step alone, by what such a step usually keeps: what that one lost beyond it shows here. */
  readonly throughAnother: boolean;
}

export interface Done {
  readonly step: Step;
  /** Empty where the page gives none. */
  readonly date: string;
  /** Its group, by each way to put steps together; undefined where the record does not say. */
  readonly groups: Readonly<Record<Grouping, string | undefined>>;
  /** Steps of which the loss of one says something of the next: as the journal learns by, else by the verb and what it is done with. */
  readonly series: string;
  /** Mass missing, as a share of all that went in; none where it rests on a guess or is open. */
  readonly loss: Loss | undefined;
  /** All that went in, and what of it is missing, in grams; with a loss alone. */
  readonly wentGrams: number;
  readonly lostGrams: number;
  /** Minutes from `charged` to `quiet`, where both are written on one day. */
  readonly quietMinutes: number | undefined;
  /** Undefined where either side is not known, or guessed. */
  readonly metal: (symbol: string) => MetalDone | undefined;
}

/** Without metals, which take their time, until one is asked for. */
export const doneOf = (of: Step, metals: Metals, make: MakeOf, workshop: Workshop): Done => {
  const step = byItself(of);
  const { entry } = step;
  const loss = lossOf(step);
  const known = new Map<string, MetalDone | undefined>();
  const groups = groupsOf(step, make, workshop);
  const went = [...step.inputs, ...step.added].reduce((so, { mass }) => so + (mass?.value.toNumber() ?? 0), 0);
  return {
    step,
    date: entry.date ?? '',
    groups,
    series: step.alike ?? [entry.verb, groups.material, groups.recipe].filter((word) => word !== undefined).join(' · '),
    loss,
    wentGrams: went,
    lostGrams: loss ? loss.share * went : 0,
    quietMinutes: quietMinutesOf(step),
    metal: (symbol) => {
      if (!known.has(symbol)) known.set(symbol, metalOf(metals.lineage.passage(step), metals, workshop, symbol));
      return known.get(symbol);
    },
  };
};

const groupsOf = (step: Step, make: MakeOf, workshop: Workshop): Done['groups'] => {
  const { entry } = step;
  const gear = (word: 'crucible' | 'furnace'): string | undefined =>
    entry.gear.find((one) => one.word === word)?.item.name;
  return {
    kind: entry.verb,
    recipe: recipeOf(step, workshop),
    crucible: gear('crucible'),
    furnace: gear('furnace'),
    hand: entry.said.hand?.name,
    material: together(step.inputs.flatMap(({ flow }) => make(flow)?.material ?? [])),
    month: entry.date?.slice(0, 7),
  };
};

const METAL_GROUPS: ReadonlySet<string> = new Set(['metal', 'collector']);

/** What makes the slag: the shop's recipes by their names, else the fluxes; metal from the shelf is none. */
const recipeOf = ({ added }: Step, workshop: Workshop): string | undefined => {
  const names = added.flatMap(({ flow }) => flow.material?.name ?? []);
  const recipes = names.filter((name) => workshop.recipes.has(name));
  return together(
    recipes.length > 0 ? recipes : names.filter((name) => !METAL_GROUPS.has(findMaterial(workshop, name)?.group ?? '')),
  );
};

const together = (names: readonly string[]): string | undefined =>
  names.length === 0 ? undefined : [...new Set(names)].sort().join(' + ');

const quietMinutesOf = ({ entry }: Step): number | undefined => {
  const at = (event: string) => entry.clocks.find(({ events, time }) => time !== undefined && events.includes(event));
  const [charged, quiet] = [at('charged'), at('quiet')];
  if (!charged || !quiet || charged.date !== quiet.date) return undefined;
  const minutes = minuteOf(quiet.time!) - minuteOf(charged.time!);
  return minutes > 0 ? minutes : undefined;
};

/** Of the day, of `HH:MM`. */
const minuteOf = (time: string): number => 60 * Number(time.slice(0, 2)) + Number(time.slice(3));

const metalOf = (passage: Passage, metals: Metals, workshop: Workshop, symbol: string): MetalDone | undefined => {
  const balance = metalBalances(passage, metals, workshop.limits.coverage).find(({ metal }) => metal === symbol);
  if (!balance || balance.ground === 'guessed' || !(balance.in.value > 0)) return undefined;
  const main = mainGroup(passage, symbol);
  const won = inGroup(passage, metals, symbol, main);
  const isAssayed = ({ flow }: Passing, from: 'before' | 'after'): boolean => {
    const segment = metals.lineage.segment(flow);
    return segment === undefined || metals[from](segment).get(symbol)?.ground === 'assayed';
  };
  return {
    charged: balance.in,
    won,
    recovery: won && toldBy(over(won, balance.in)),
    slag: inGroup(passage, metals, symbol, 'slag'),
    unaccounted: balance.unaccounted,
    cameBy: balance.cameBy,
    throughAnother:
      passage.inputs.some((input) => !isAssayed(input, 'before')) ||
      passage.outputs.some((output) => output.group === main && !isAssayed(output, 'after')),
  };
};

/** Two standard uncertainties of half of it: the little silver that parting may have left in gold tells nothing of how well a melt keeps silver. */
const MOST_UNSURE = 0.25;

const toldBy = (recovery: Inexact): Inexact | undefined =>
  spread(recovery) <= MOST_UNSURE * recovery.value ? recovery : undefined;

type Group = Passage['outputs'][number]['group'];

/** The group of products that usually holds most of the metal. */
const mainGroup = (passage: Passage, symbol: string): Group | undefined =>
  passage.outputs.find(({ group }) => (held(passage, group, symbol)?.value ?? 0) >= 0.5)?.group;

const inGroup = (passage: Passage, metals: Metals, symbol: string, group: Group | undefined): Inexact | undefined => {
  const products = passage.outputs.filter((one) => one.group === group);
  if (products.length === 0) return undefined;
  const found = contents(passage, products, symbol, ({ flow }) => {
    const segment = metals.lineage.segment(flow);
    return segment ? metals.after(segment) : NOTHING_KNOWN;
  });
  return found?.ground === 'guessed' ? undefined : found?.grams;
};

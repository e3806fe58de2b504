/** A charge for the crucible as the bench sees it: feed with its metal set apart, what was added, whose make is not known. */
import { QUARTZ } from '../engine/accounts/assays';
import { chlorideGrams } from '../engine/bench/chloride';
import { metalGrams } from '../engine/bench/flux';
import { type Estimate, sumOf, times } from '../engine/bench/result';
import { pureItem } from '../engine/bench/slag';
import type { FlowWeight } from '../engine/book';
import { addedParts, isMetalKind } from '../engine/charge';
import type { Entry, Flow } from '../engine/entry';
import type { ChargeItem } from '../engine/gas';
import { rawName } from '../engine/left-of';
import { expandRecipe, findMaterial } from '../engine/shelf';
import { balanceRow } from '../engine/usual';
import type { Material } from '../engine/workshop';
import { decimal } from '../quantity/decimal';
import { type Born, bornIn } from './born';
import { contentsOf, type Job, knowledgeOf, perJob } from './job';
import { slagOfCharge } from './lead-from';
import { nativeShare } from './quartz';

export interface Smelt {
  /** Of known make; metal that is known to be in an ore stands as metal beside it. */
  readonly feed: readonly ChargeItem[];
  /** From the shelf, recipes taken apart; only what has a weight. */
  readonly added: readonly ChargeItem[];
  /** Lots whose make nobody knows. */
  readonly unknown: readonly FlowWeight[];
  /** Added, and nobody knows what it is made of. */
  readonly unknownAdded: boolean;
  /** All that goes in is metal in pieces: bars, buttons, cut scrap. */
  readonly solid: boolean;
  /** A lot of it is a feed, built in or the shop's own: gold may be in it though nobody says how much. */
  readonly ore: boolean;
}

/** Undefined for what is no heat of a crucible, and where a lot is not weighed. */
export const smeltOf = perJob((job: Job): Smelt | undefined => {
  const { step, entry, workspace } = job;
  if (!step || entry.prefix !== undefined || balanceRow(entry.verb)?.kind !== 'melt') return undefined;
  if (step.inputs.length === 0 || step.inputs.some(({ mass }) => !mass)) return undefined;
  const lots = step.inputs.map((input) => ({ input, items: itemsOf(job, input) }));
  const parts = addedParts(step.added, workspace.workshop);
  return {
    feed: lots.flatMap(({ items }) => items?.items ?? []),
    added: parts.map(({ item }) => item),
    unknown: lots.filter(({ items }) => !items).map(({ input }) => input),
    unknownAdded: parts.some(({ material, item }) => !material || item.material.composition.length === 0),
    solid: lots.every(({ items }) => items?.solid === true),
    ore: lots.some(
      ({ input, items }) => FEEDS.has(madeOf(job, input)?.group ?? '') || items?.items.some(isSlagAgain) === true,
    ),
  };
});

/** Rust of iron is a feed where it comes in as a lot. */
const FEEDS: ReadonlySet<string> = new Set(['feed', 'own', 'oxidant']);

const madeOf = ({ workspace: { workshop, book } }: Job, { flow }: FlowWeight): Material | undefined => {
  const make = book.make(flow)?.material;
  return make === undefined ? undefined : findMaterial(workshop, make);
};

/** Cut and worn pieces are metal in pieces too. */
const SCRAP = 'scrap';
/** From this share of known metal on a lot of unknown make is metal. */
const MOSTLY = 0.5;

const itemsOf = (
  job: Job,
  input: FlowWeight,
): { readonly items: readonly ChargeItem[]; readonly solid: boolean } | undefined => {
  const make = job.workspace.book.make(input.flow);
  const again = slagItem(job, input);
  if (again) return { items: [again], solid: false };
  const of = madeOf(job, input);
  const grams = Math.max(0, input.mass!.value.toNumber());
  const metal = Math.min(grams, metalIn(job, input)?.best ?? 0);
  const native = nativeShare(job, input.flow);
  const quartz = native && findMaterial(job.workspace.workshop, QUARTZ);
  if (quartz) {
    const rest: ChargeItem = { material: quartz, massGrams: grams * (1 - native.best), u: 0 };
    return { items: [metalItem(grams * native.best), rest], solid: false };
  }
  if (of && of.composition.length > 0) {
    const whole: ChargeItem = { material: of, massGrams: grams, u: 0 };
    const solid = of.group === 'metal' || rawName(of.name) === SCRAP;
    // Its silver is no metal yet.
    if (chlorideGrams([whole]) > 0) return { items: [whole], solid: false };
    if (solid || metalGrams([whole]) > 0 || metal === 0) return { items: [whole], solid };
    return { items: [metalItem(metal), { ...whole, massGrams: grams - metal }], solid: false };
  }
  const isMetal =
    job.entry.verb === 'cast' || (make?.kind !== undefined && isMetalKind(make.kind)) || metal >= MOSTLY * grams;
  return isMetal && grams > 0 ? { items: [metalItem(grams)], solid: true } : undefined;
};

const MELTED: ReadonlySet<string> = new Set(['melt']);
const SLAG = 'slag of ';

/** The melt whose slag a lot is; none where what was charged there is not known. */
const meltedBefore = (job: Job, input: FlowWeight): Born | undefined => {
  if (job.workspace.book.make(input.flow)?.kind !== 'slag') return undefined;
  const born = bornIn(job, input, MELTED);
  const smelt = born && smeltOf(born.made);
  return smelt && smelt.unknown.length === 0 && !smelt.unknownAdded ? born : undefined;
};

/** As a feed of oxides. */
const slagItem = (job: Job, input: FlowWeight): ChargeItem | undefined => {
  const born = meltedBefore(job, input);
  if (!born) return undefined;
  const oxides = [...slagOfCharge(smeltOf(born.made)!).oxideGrams];
  const whole = oxides.reduce((so, [, { best }]) => so + best, 0);
  if (!(whole > 0)) return undefined;
  const composition = oxides.map(([what, { low, best, high }]) => ({
    what,
    fraction: best / whole,
    low: Math.min(1, low / whole),
    high: Math.min(1, high / whole),
  }));
  const name = `${SLAG}${born.made.entry.name?.name ?? 'a melt'}`;
  return { material: { name, composition, givesOff: [] }, massGrams: Math.max(0, input.mass!.value.toNumber()), u: 0 };
};

export const isSlagAgain = ({ material }: ChargeItem): boolean => material.name.startsWith(SLAG);

/** Next to nothing but silver chloride: soda makes metal and salt of it, and no silicate. */
export const isChloride = ({ feed }: Smelt): boolean =>
  chlorideGrams(feed) > 0.95 * feed.reduce((so, { massGrams }) => so + massGrams, 0);

/** Stands for any metal: no part of a slag. */
const metalItem = (grams: number): ChargeItem => {
  const { material } = pureItem('Au', grams);
  return { material: { ...material, name: 'metal' }, massGrams: grams, u: 0 };
};

/** Precious metal that a lot is known to hold, g, or native metal in quartz; else all the metal that is known of it. */
export const metalIn = (job: Job, input: FlowWeight): Estimate | undefined => {
  const contents = contentsOf(job, input);
  if (!contents || isSlagUnassayed(job, input)) return undefined;
  const native = nativeShare(job, input.flow);
  if (native) return times(native, contents.grams.best);
  const known = [...contents.metals].filter(([symbol]) => symbol !== 'Fe').map(([, metal]) => metal);
  if (contents.precious && known.length < 2) return contents.precious;
  return known.length > 0 ? sumOf(known) : undefined;
};

/** Of a slag only its own assay tells what metal it holds: what went into the melt may as well be in the button. */
const isSlagUnassayed = (job: Job, input: FlowWeight): boolean =>
  job.workspace.book.make(input.flow)?.kind === 'slag' &&
  ![...knowledgeOf(job, input.flow).values()].some(({ ground }) => ground === 'assayed');

/** Groups of materials that are no flux of themselves: metal, lead and its oxides, what oxidises and what reduces. */
const NO_FLUX: ReadonlySet<string> = new Set(['metal', 'collector', 'oxidant', 'reductant', 'water']);

/** A material or a recipe that makes slag; what nobody knows is taken for one. */
export const isFlux = (job: Job, name: string): boolean => {
  const parts = recipeParts(job, name);
  return parts ? parts.some((part) => !part || !NO_FLUX.has(part.group)) : !isOf(job, name, NO_FLUX);
};

export const isOf = ({ workspace: { workshop } }: Job, name: string, groups: ReadonlySet<string>): boolean =>
  groups.has(findMaterial(workshop, name)?.group ?? '');

const recipeParts = ({ workspace: { workshop } }: Job, name: string): readonly (Material | undefined)[] | undefined =>
  expandRecipe(workshop, name, decimal(1))?.map(({ material }) => findMaterial(workshop, material));

/** Lines of `add` without an amount. */
export const openAdds = ({ flows }: Entry): readonly Flow[] =>
  flows.filter(
    ({ word, amount, material }) =>
      word === 'add' && material !== undefined && (amount === undefined || amount.absent === 'unknown'),
  );

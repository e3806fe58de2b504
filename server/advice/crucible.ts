/** The crucible of a melt: the smallest of the workshop that leaves the gas its room. */
import { crucibleNeeded } from '../engine/bench/charge';
import { type Assumption, assume, COMMON_PRACTICE, type Estimate, FROM_MEMORY } from '../engine/bench/result';
import type { Part } from '../engine/charge';
import { ANY_METAL, type FillMost, fillMostOf, loosenessIn, roomOfCharge } from '../engine/crucible';
import { balanceRow } from '../engine/usual';
import type { Crucible, Range } from '../engine/workshop';
import { fitting, showSize } from '../reports/figures';
import { listWords } from '../reports/words';
import type { Advice, Topic, Working } from './advice';
import { isAllWeighed, type Job, partsOf } from './job';
import { moltenRoom } from './molten-room';
import { smeltOf } from './smelt';
import { isFit } from './sulphur';
import { nameWritten, rangeWords, termWords } from './words';

const TOPIC = 'crucible';

export const crucible: Topic = (job) => {
  const { entry, planned } = job;
  if (!planned || balanceRow(entry.verb)?.kind !== 'melt' || !isAllWeighed(job)) return [];
  const named = entry.gear.find(({ word }) => word === 'crucible')?.item;
  const own = named && job.workspace.workshop.crucibles.get(named.name);
  const given = own?.volumeMillilitres ? own : undefined;
  const smelt = smeltOf(job);
  if (!smelt || !isFit(job, smelt)) return [];
  const { workshop, book } = job.workspace;
  const { millilitres: room, unknown } = roomOfCharge(job.step!, workshop, book.make, ANY_METAL);
  if (!(room.high > 0)) return [];
  if (unknown.length > 0) return given ? [] : [noRoom(job, unknown)];
  const { feed, added } = partsOf(job);
  const most = fillMostOf(job.step!, workshop, book.make);
  const molten = moltenRoom(job, smelt)?.best ?? 0;
  const choice = named && !given ? undefined : chosen(given ? [given] : measured(job), room, molten, most.share);
  // How full one that takes it is stands beside it.
  if (given && choice && isAtOnce(choice)) return [];
  const wanted = crucibleNeeded(room, most.share);
  const working = (): Working => ({
    says: `${sayFor(choice, wanted, named?.name, given !== undefined)} The charge takes ${rangeWords(room, 'mL')}, packed to loose.${isTight(choice, wanted) ? ' Should it lie that loose, charge it in two parts.' : ''}`,
    rows: [
      ...roomRows([...feed, ...added], loosenessIn(job.step!, book.make, ANY_METAL)),
      `room of charge    ${rangeWords(room, 'mL')}`,
      `crucible          room / ${most.share} = ${rangeWords(wanted, 'mL')}`,
      ...(choice ? chargeRows(choice, room, molten, most.share) : []),
    ],
    assumed: [
      mostGround(most),
      assume('bulk densities as the materials give them', 'source with each material'),
      ...(feed.some((part) => part.material?.bulkDensity === undefined) ? [LOOSE_METAL] : []),
    ],
  });
  if (choice && isAtOnce(choice)) {
    const line = `crucible ${nameWritten(choice.crucible.name)}`;
    return [{ topic: TOPIC, at: entry.head, rank: 'result', working, writes: [{ part: 'gear', line, range: line }] }];
  }
  const label = choice
    ? fitting(
        `${meltWords(choice)}${chargeWords(choice)} in ${choice.crucible.name}`,
        `${meltWords(choice)}${chargeWords(choice)}`,
      )
    : `crucible of ${rangeWords(wanted, 'mL')} wanted`;
  return [{ topic: TOPIC, at: named?.place ?? entry.head, label, rank: 'result', working }];
};

/** `soda-ash  61.4 g / 0.57..1.05 = 58..110 mL`: what is of one name together. */
export const roomRows = (parts: readonly Part[], looseness: (part: Part) => Range | undefined): readonly string[] => {
  const grams = new Map<string, { density: { low: number; high: number }; grams: number }>();
  for (const part of parts) {
    const { item } = part;
    const density = looseness(part);
    if (!density) continue;
    const { name } = item.material;
    grams.set(name, { density, grams: (grams.get(name)?.grams ?? 0) + item.massGrams });
  }
  return [...grams].map(
    ([
      name,
      {
        density: { low, high },
        grams: size,
      },
    ]) => {
      const by = low === high ? `${showSize(low)}` : `${showSize(low)}..${showSize(high)}`;
      const room = { low: size / high, best: (size / high + size / low) / 2, high: size / low };
      return `${name.padEnd(17)} ${termWords(size, 'g')} / ${by} = ${rangeWords(room, 'mL')}`;
    },
  );
};

const LOOSE_METAL = assume(
  'metal whose density is not known lies at 4.5 g/mL, as copper clippings, to 19.3, as a bar of gold',
  FROM_MEMORY,
);

interface Choice {
  readonly crucible: Crucible;
  /** Put in one after another as they sink. */
  readonly charges: number;
  /** Melts that are poured between: molten, all of it does not go into the crucible. */
  readonly melts: number;
}

const isAtOnce = ({ charges, melts }: Choice): boolean => charges === 1 && melts === 1;

const chargeWords = ({ charges, melts }: Choice): string => {
  const each = melts > 1 ? ' each' : '';
  return charges > 1 ? `${charges} charges${each}` : `one charge${each}`;
};

const meltWords = ({ melts }: Choice): string => (melts > 1 ? `${melts} melts, ` : '');

/** The last charge lies on what the others have become: `2/3 × 210 mL molten + 930 mL / 3 = 450 mL, of 0.75 × 650 mL`. */
const chargeRows = (
  { crucible, charges, melts }: Choice,
  room: Estimate,
  molten: number,
  fill: number,
): readonly string[] => {
  if (charges === 1 && melts === 1) return [];
  const [cold, hot] = [room.best / melts, molten / melts];
  const last = ((charges - 1) / charges) * hot + cold / charges;
  const of =
    melts > 1 ? [`each of ${melts} melts   ${termWords(cold, 'mL')} cold, ${termWords(hot, 'mL')} molten`] : [];
  return [
    ...of,
    `the last charge   ${charges - 1}/${charges} × ${termWords(hot, 'mL')} molten + ${termWords(cold, 'mL')} / ${charges} = ${termWords(last, 'mL')}, of ${fill} × ${crucible.volumeMillilitres} mL`,
  ];
};

const mostGround = ({ share, froths }: FillMost): Assumption => {
  const why = froths ? 'so much niter lifts a charge all at once' : 'gas makes a fuller charge boil over';
  return assume(`at most ${Math.round(100 * share)} % full, cold: ${why}`, COMMON_PRACTICE);
};

const sayFor = (choice: Choice | undefined, wanted: Estimate, named: string | undefined, isGiven: boolean): string => {
  if (named !== undefined && !isGiven)
    return `A crucible of ${rangeWords(wanted, 'mL')} is wanted; the volume of ${named} is not said in the workshop file.`;
  if (!choice)
    return `A crucible of ${rangeWords(wanted, 'mL')} is wanted; the workshop has none whose volume is said.`;
  const { crucible, charges, melts } = choice;
  if (isAtOnce(choice)) return `${crucible.name}, ${crucible.volumeMillilitres} mL, is the smallest that fits.`;
  const sinking = charges > 1 ? ', one after another as they sink' : '';
  const poured = melts > 1 ? `; pour between the melts, for molten it is too much for ${crucible.name} too` : '';
  const none = isGiven ? `${crucible.name} does not take it at once` : 'No crucible of the workshop takes it at once';
  return `${none}: a crucible of ${rangeWords(wanted, 'mL')} is wanted, or ${meltWords(choice)}${chargeWords(choice)} in ${crucible.name}${sinking}${poured}.`;
};

/** It holds the charge as it most likely lies, and not as loose as it may. */
const isTight = (choice: Choice | undefined, wanted: Estimate): boolean =>
  choice !== undefined && isAtOnce(choice) && wanted.high > choice.crucible.volumeMillilitres!;

const noRoom = (job: Job, unknown: readonly string[]): Advice => ({
  topic: TOPIC,
  at: job.entry.head,
  label: `room of ${unknown[0]} not known`,
  rank: 'extra',
  working: () => ({
    says: `How much room ${listWords(unknown)} takes is not known, so no crucible can be told.`,
    assumed: [],
    todo: 'Say its `bulk density` in workshop.yaml: weigh a cup of it and divide by the volume of the cup.',
  }),
});

/** Crucibles of the workshop whose volume is said, the smallest first. */
const measured = ({ workspace: { workshop } }: Job): readonly Crucible[] =>
  [...workshop.crucibles.values()]
    .filter(({ volumeMillilitres }) => (volumeMillilitres ?? 0) > 0)
    .sort((a, b) => a.volumeMillilitres! - b.volumeMillilitres!);

/** The smallest that holds it lying loose, else the smallest that holds it at the best value; else the largest, in several charges. */
const chosen = (all: readonly Crucible[], room: Estimate, molten: number, most: number): Choice | undefined => {
  const holds = (need: number): Crucible | undefined =>
    all.find(({ volumeMillilitres }) => need <= most * volumeMillilitres!);
  const one = holds(room.high) ?? holds(room.best);
  if (one) return { crucible: one, charges: 1, melts: 1 };
  const largest = all.at(-1);
  return largest && { crucible: largest, ...chargesFor(room.best, molten, most * largest.volumeMillilitres!) };
};

/** More than this is a sign that the crucible is too small for one melt. */
const MOST_CHARGES = 6;

/**
 * The fewest charges that go in, the last upon the others' melt: (n − 1)/n molten + cold/n ≤ room, so n ≥ (cold − molten)/(room − molten). Where that
 * wants too many, the charge is parted into melts first.
 */
const chargesFor = (cold: number, molten: number, room: number): Pick<Choice, 'charges' | 'melts'> => {
  for (let melts = 1; ; melts++) {
    const [own, hot] = [cold / melts, molten / melts];
    if (own <= room) return { charges: 1, melts };
    const charges = hot < room ? Math.ceil((own - hot) / (room - hot) - 1e-9) : Number.POSITIVE_INFINITY;
    if (charges <= MOST_CHARGES) return { charges, melts };
  }
};

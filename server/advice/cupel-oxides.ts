/** Oxides of lead and base metal that a cupellation gives its cupel to drink. */
import { cupelOxide, oxidesToDrink } from '../engine/bench/cupel';
import { type Assumption, assume, type Estimate, exactly, FROM_MEMORY, less, sumOf } from '../engine/bench/result';
import { beadOf, type Cupelled } from './cupelled';
import { addedMetals, type Contents, type Job } from './job';
import { estimateWords, termWords } from './words';

/** What the cupel is to drink. */
export interface Drunk {
  readonly oxides: Estimate;
  readonly rows: readonly string[];
  readonly assumed: readonly Assumption[];
}

/** Litharge may leave as fume: the least that reaches the cupel, as a share. */
const LEAST_AFTER_FUME = 0.85;

/** Oxides for the cupel: of what is known to have left, once there is a bead; else of what is charged. */
export const drunkOf = (job: Job, { base, leadAdded, lots, precious }: Cupelled): Drunk | undefined => {
  const lead = sumOf([base.lead, exactly(leadAdded)]);
  const gone = goneFrom(job);
  const metal = gone === undefined ? base.grams : exactly(Math.max(0, gone - lead.best));
  const named = namedOf(job, lots);
  const at = (end: keyof Estimate): ReadonlyMap<string, number> =>
    new Map([
      ['Pb', gone === undefined ? lead[end] : Math.min(gone, lead[end])],
      ...withinAll(named(end), gone === undefined ? undefined : (metal?.best ?? 0)),
    ]);
  const [low, best, high] = [oxidesToDrink(at('low')), oxidesToDrink(at('best')), oxidesToDrink(at('high'))];
  if (low.value === undefined || best.value === undefined || high.value === undefined) return undefined;
  const known = sumValues(at('best')) - (at('best').get('Pb') ?? 0);
  const unnamed = gone === undefined ? base.unknown : less(metal ?? exactly(0), exactly(known));
  const oxides = {
    low: LEAST_AFTER_FUME * (low.value.low + UNNAMED_OXIDE.low * unnamed.low),
    best: best.value.best + UNNAMED_OXIDE.best * unnamed.best,
    high: high.value.high + UNNAMED_OXIDE.high * unnamed.high,
  };
  const rows = [`lead              ${estimateWords(lead, 'g')}`];
  if (metal) rows.push(`base metal        ${estimateWords(metal, 'g')}${gone === undefined ? '' : ', by the bead'}`);
  const [first, ...others] = [...at('best')].filter(([, grams]) => grams > 0).map(asOxide);
  if (first) rows.push(`as oxides         ${first}`, ...others.map((one) => `                + ${one}`));
  if (unnamed.best > 0)
    rows.push(
      `                + ${termWords(unnamed.best, 'g')} × ${UNNAMED_OXIDE.best.toFixed(3)} as CuO = ${termWords(unnamed.best * UNNAMED_OXIDE.best, 'g')}, not named`,
    );
  rows.push(`in all            ${estimateWords(oxides, 'g')}`);
  const assumed = [...best.assumed, FUME];
  if (unnamed.high > 0) assumed.push(NOT_NAMED);
  if (!metal && !precious) assumed.push(assume('base metal that is not known is not counted', 'no figure'));
  return { oxides, rows, assumed };
};

/** `98 g × 1.077 PbO = 106 g`. */
const asOxide = ([metal, grams]: readonly [string, number]): string => {
  const { oxide, perGram } = cupelOxide(metal)!;
  return `${termWords(grams, 'g')} × ${perGram.toFixed(3)} ${oxide} = ${termWords(grams * perGram, 'g')}`;
};

const FUME = assume('up to 15 % of the litharge leaves as fume', FROM_MEMORY);

/** Oxide of a gram of base metal that nobody named, g: as copper at best, as lead at the least, as iron at the most. */
const [AS_LEAD, AS_COPPER, AS_IRON] = ['Pb', 'Cu', 'Fe'].map((metal) => cupelOxide(metal)!.perGram) as [
  number,
  number,
  number,
];
const UNNAMED_OXIDE: Estimate = { low: AS_LEAD, best: AS_COPPER, high: AS_IRON };
const NOT_NAMED = assume(
  `base metal that nobody named is as copper at best, as lead at the least (${AS_LEAD.toFixed(3)} of oxide a gram), as iron at the most (${AS_IRON.toFixed(3)})`,
  FROM_MEMORY,
);

/** Base metals of the lots and from the shelf by name, g. */
const namedOf = (job: Job, { metals }: Contents) => {
  const shelf = addedMetals(job);
  const symbols = [...OXIDISES].filter((symbol) => metals.has(symbol) || shelf.has(symbol));
  return (end: keyof Estimate): readonly (readonly [string, number])[] =>
    symbols.map((symbol) => [symbol, (metals.get(symbol)?.[end] ?? 0) + (shelf.get(symbol) ?? 0)]);
};

const sumValues = (all: ReadonlyMap<string, number>): number => [...all.values()].reduce((so, one) => so + one, 0);

/** Not more together than what left. */
const withinAll = (
  named: readonly (readonly [string, number])[],
  most: number | undefined,
): readonly (readonly [string, number])[] => {
  const whole = sumValues(new Map(named));
  if (most === undefined || whole <= most) return named;
  return named.map(([symbol, grams]) => [symbol, (grams * most) / whole]);
};

const OXIDISES: ReadonlySet<string> = new Set(['Cu', 'Bi', 'Zn', 'Sb', 'Ni', 'Sn', 'Fe', 'Cd', 'As', 'Te']);

/** Metal that is no longer there, lead included, g; none before the bead is weighed. */
const goneFrom = (job: Job): number | undefined => {
  const bead = beadOf(job);
  if (!bead || !job.step) return undefined;
  const all = [...job.step.inputs, ...job.step.added];
  if (all.some(({ mass }) => !mass)) return undefined;
  return Math.max(0, all.reduce((sum, { mass }) => sum + mass!.value.toNumber(), 0) - bead.grams);
};

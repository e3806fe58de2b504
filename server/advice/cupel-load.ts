/** How far the cupel is filled by the oxides of lead and base metal; which of the workshop's cupels take them. */
import { CUPEL_BODIES, type CupelGiven, type CupelLoad, loadOn, NEARLY_FULL, takenUpBy } from '../engine/bench/cupel';
import { type Answer, assume, type Estimate, type Result, times } from '../engine/bench/result';
import type { Entry, Gear } from '../engine/entry';
import { weighAmount } from '../engine/weigh';
import type { CupelBody } from '../engine/workshop';
import { fitting } from '../reports/figures';
import { listWords } from '../reports/words';
import type { Advice, Topic, Working, Writing, Wrong } from './advice';
import { type Drunk, drunkOf } from './cupel-oxides';
import { beadOf, cupelledOf } from './cupelled';
import { isAllWeighed, type Job } from './job';
import { bestWords, estimateWords, nameWritten, orWords, percentWords, rangeWords, termWords } from './words';

export const cupelLoad: Topic = (job) => {
  const cupelled = cupelledOf(job);
  if (!cupelled || !isAllWeighed(job)) return [];
  const drunk = drunkOf(job, cupelled);
  if (!drunk || !(drunk.oxides.best > 0)) return [];
  const gear = job.entry.gear.filter(({ word }) => word === 'cupel-body');
  if (gear.length === 0) return job.planned ? [toTake(job, drunk)] : [];
  const cupels = gear.map((one) => cupelGiven(job, one));
  const load = loadOn(drunk.oxides, cupels);
  if (load.value !== undefined) return [filled(job, gear, cupels, drunk, load)];
  return job.planned ? [unweighed(gear, drunk)] : [];
};

const TOPIC = 'cupel load';
const CHOICE = 'cupel';

/** By its own weight before, else as the workshop has it. */
const cupelGiven = ({ workspace: { workshop } }: Job, { item, said }: Gear): CupelGiven => {
  const own = workshop.cupels.get(item.name);
  const before = said.before && weighAmount(said.before, said, workshop, item.name).mass;
  return { grams: (before?.value ?? own?.weightGrams)?.toNumber() ?? 0, material: own?.material };
};

const filled = (
  job: Job,
  gear: readonly Gear[],
  cupels: readonly CupelGiven[],
  { oxides, rows, assumed }: Drunk,
  load: Answer<CupelLoad>,
): Advice => {
  const { share, verdict } = load.value;
  const names = listWords(gear.map(({ item }) => item.name));
  // A finding is told where the best value, which comes first, is above the whole.
  const full = `${bestPercent(share)} full`;
  const [first, ...others] = cupels.map(takesWords);
  const isTaken = gear.some(({ said }) => said.after);
  const wrong = isTaken ? [] : loadWrong(gear, oxides, load.value, names, beadOf(job) !== undefined);
  const working = (): Working => ({
    says: `Oxides of ${rangeWords(oxides, 'g')} fill ${names} to ${bestPercent(share)} of what ${gear.length > 1 ? 'they' : 'it'} can take up.`,
    rows: [
      ...rows,
      `cupel             ${first}`,
      ...others.map((one) => `                + ${one}`),
      `filled            in all / what ${gear.length > 1 ? 'they take' : 'it takes'} up = ${bestPercent(share)}`,
    ],
    assumed: [...assumed, ...load.assumed],
    ...(verdict === 'fits' ? {} : { todo: moreOf(load.value.cupels, gear.length) }),
  });
  const rank = verdict === 'fits' ? 'extra' : 'doubt';
  return { topic: TOPIC, at: gear[0]!.item.place, label: full, short: full, rank, working, wrong };
};

/** A cupel of unknown weight is named: how heavy it has to be. */
const unweighed = (gear: readonly Gear[], { oxides, rows, assumed }: Drunk): Advice => {
  const names = listWords(gear.map(({ item }) => item.name));
  const [first] = CUPEL_BODIES;
  const working = (): Working => ({
    says: `Lead and base metal come to ${rangeWords(oxides, 'g')} of oxides. The weight of ${names} is not known: write it in the workshop file, or behind it as \`before 210 g\`. A cupel takes up so much of its own weight:`,
    rows: [...rows, 'cupels of so much, nine tenths full:', ...bodyRows(oxides)],
    assumed: [...assumed, ...BODY_SOURCES],
  });
  const label = fitting(`cupel ~${bestWords(weightFor(oxides, first!.takes), 'g')} ${first!.material} wanted`, 'cupel');
  return { topic: TOPIC, at: gear[0]!.item.place, label, rank: 'result', working };
};

const bodyRows = (oxides: Estimate): readonly string[] =>
  CUPEL_BODIES.map(({ material, takes }) => `${material.padEnd(18)}${rangeWords(weightFor(oxides, takes), 'g')}`);

/** `190 g cement × 0.6..0.85 = 110..160 g`. */
const takesWords = ({ grams, material }: CupelGiven): string => {
  const takes = takenUpBy(material);
  return `${termWords(grams, 'g')} ${material ?? 'unknown body'} × ${takes.low}..${takes.high} = ${rangeWords(times(takes, grams), 'g')}`;
};

const moreOf = (wanted: number, given: number): string =>
  wanted > given
    ? `Take ${wanted} cupels like ${given > 1 ? 'these' : 'this'}, or a heavier one.`
    : 'Take a heavier cupel.';

/** By the best value: more than the whole, or, before there is a bead, more than nine tenths of it. */
const loadWrong = (
  gear: readonly Gear[],
  oxides: Estimate,
  { share, verdict, cupels }: CupelLoad,
  names: string,
  hasBead: boolean,
): readonly Wrong[] => {
  if (verdict === 'fits' || (verdict === 'nearly full' && hasBead)) return [];
  const code = verdict === 'nearly full' ? 'cupel-nearly-full' : 'cupel-overloaded';
  const what = `Lead and base metal come to ${estimateWords(oxides, 'g')} of oxides, ${bestPercent(share)} of what ${names} can take up.`;
  const little = code === 'cupel-nearly-full' ? ' More lead later, and it is too much.' : '';
  return [{ code, place: gear[0]!.item.place, says: `${what}${little} ${moreOf(cupels, gear.length)}` }];
};

/** `92 % (71..115)`. */
const bestPercent = (share: Estimate): string => {
  const range = percentWords(share);
  return range.includes('..') ? `${Math.round(100 * share.best)} % (${range.replace(' %', '')})` : range;
};

/** For a plan that names no cupel: one of the workshop's is written in, or several where it has so many that nobody has used. */
const toTake = (job: Job, { oxides, rows, assumed }: Drunk): Advice => {
  const all = [...job.workspace.workshop.cupels.values()].filter(({ weightGrams }) => weightGrams?.greaterThan(0));
  const held = all.map((cupel) => ({ cupel, load: loadOn(oxides, [givenBy(cupel)]) }));
  const fits = held.filter(({ load }) => load.value && load.value.share.best <= NEARLY_FULL);
  const used = usedIn(job);
  const taken = chosen(oxides, held, fits, used);
  const cupelRows = held.map(
    ({ cupel, load }) =>
      `${cupel.name.padEnd(17)} ${takesWords(givenBy(cupel))}: ${load.value ? `${bestPercent(load.value.share)} full` : 'not known'}${used.has(cupel.name) ? ', used before' : ''}`,
  );
  const working = (): Working => ({
    says: saysWhich(
      oxides,
      all,
      fits.map(({ cupel }) => cupel.name),
      held,
    ),
    rows: [
      ...rows,
      ...(cupelRows.length > 0 ? cupelRows : ['cupels of so much, nine tenths full:', ...bodyRows(oxides)]),
      ...(taken.length > 1 ? [`${listWords(taken)} take them together, the button and its lead divided`] : []),
    ],
    assumed: [
      ...assumed,
      ...(held.length > 0 ? held.flatMap(({ load }) => (load.value ? load.assumed : [])).slice(0, 1) : BODY_SOURCES),
    ],
    todo: 'Take a fresh one, weigh it before and after, and heat it red before the lead goes in.',
  });
  const same = { topic: CHOICE, at: job.entry.head, working } as const;
  if (taken.length === 0) return { ...same, label: labelWhich(oxides, fits, held), rank: 'extra' };
  const writes = taken.map((name): Writing => {
    const line = `cupel-body ${nameWritten(name)}`;
    return { part: 'gear', line, range: line };
  });
  return { ...same, rank: 'result', writes };
};

/** Which of the workshop's cupels is fresh rests on every page: such a plan is made with each version of the journal. */
export const isWithoutCupel = ({ verb, gear }: Entry): boolean =>
  verb === 'cupel' && !gear.some(({ word }) => word === 'cupel-body');

/** Cupels that a cupellation names already: what is named again is one like it. */
const usedIn = ({ workspace, entry }: Job): ReadonlySet<string> =>
  new Set(
    [...workspace.pages.values()].flatMap(({ entries }) =>
      entries.flatMap((other) =>
        other.verb === 'cupel' && other.prefix === undefined && other !== entry
          ? other.gear.flatMap(({ word, item }) => (word === 'cupel-body' ? [item.name] : []))
          : [],
      ),
    ),
  );

/** The lightest that takes them, one that nobody used before any other; else the fewest unused ones that take them together. */
const chosen = (
  oxides: Estimate,
  held: readonly Held[],
  fits: readonly Held[],
  used: ReadonlySet<string>,
): readonly string[] => {
  const byWeight = (all: readonly Held[]): Held[] =>
    [...all].sort((a, b) => a.cupel.weightGrams!.minus(b.cupel.weightGrams!).toNumber());
  const isFresh = ({ cupel }: Held): boolean => !used.has(cupel.name);
  const one = byWeight(fits.filter(isFresh))[0] ?? byWeight(fits)[0];
  if (one) return [one.cupel.name];
  const together: Held[] = [];
  for (const next of byWeight(held.filter(isFresh)).reverse()) {
    together.push(next);
    const load = loadOn(
      oxides,
      together.map(({ cupel }) => givenBy(cupel)),
    );
    if (load.value && load.value.share.best <= NEARLY_FULL) return together.map(({ cupel }) => cupel.name);
  }
  return [];
};

type Held = { readonly cupel: CupelBody; readonly load: Result<CupelLoad> };

const BODY_SOURCES = CUPEL_BODIES.map(({ material, source }) => assume(`what a cupel of ${material} takes up`, source));

const givenBy = ({ weightGrams, material }: CupelBody): CupelGiven => ({ grams: weightGrams!.toNumber(), material });

const weightFor = ({ best }: Estimate, takes: Estimate): Estimate => {
  const at = (share: number): number => best / share / NEARLY_FULL;
  return { low: at(takes.high), best: at(takes.best), high: at(takes.low) };
};

const labelWhich = (oxides: Estimate, fits: readonly Held[], held: readonly Held[]): string => {
  const names = fits.map(({ cupel }) => cupel.name);
  if (names.length > 0) {
    const first = `cupel: ${names[0]}`;
    return names.length > 1 ? fitting(`cupel: ${orWords(names)}`, `${first} or ${names.length - 1} others`) : first;
  }
  const best = mostTaking(held);
  if (best)
    return fitting(`${best.load.value!.cupels} cupels like ${best.cupel.name}`, `${best.load.value!.cupels} cupels`);
  return fitting(`cupel ~${bestWords(weightFor(oxides, CUPEL_BODIES[0]!.takes), 'g')} ${CUPEL_BODIES[0]!.material}`);
};

const mostTaking = (held: readonly Held[]): Held | undefined =>
  held
    .filter(({ load }) => load.value !== undefined)
    .sort((a, b) => a.load.value!.share.best - b.load.value!.share.best)[0];

const saysWhich = (
  oxides: Estimate,
  all: readonly CupelBody[],
  fits: readonly string[],
  held: readonly Held[],
): string => {
  const much = `Lead and base metal come to ${rangeWords(oxides, 'g')} of oxides.`;
  if (all.length === 0) return `${much} A cupel takes up so much of its own weight:`;
  if (fits.length > 0)
    return `${much} Of the workshop's cupels ${orWords(fits)} ${fits.length > 1 ? 'take' : 'takes'} them.`;
  const best = mostTaking(held);
  return best
    ? `${much} None of the workshop's cupels takes them alone: ${best.load.value!.cupels} like ${best.cupel.name} do, with the button and its lead divided.`
    : much;
};

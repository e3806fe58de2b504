/** The pour: how far above the liquidus it stood, and whether the furnace reaches so far. */

import { BY_EYE, coloursWords } from '../engine/bench/heat';
import { superheat } from '../engine/bench/liquidus';
import { about, assume, BERINGER, FROM_MEMORY } from '../engine/bench/result';
import { celsiusOf } from '../engine/clock';
import type { Clock } from '../engine/entry';
import type { Advice, Topic, Working, Wrong } from './advice';
import type { Job } from './job';
import { rangeRows } from './liquidus-rows';
import {
  alloyWords,
  celsiusWords,
  clockOf,
  furnaceOf,
  isUnderSlag,
  type Molten,
  moltenOf,
  usualSuperheat,
} from './molten';

const POURS: ReadonlySet<string> = new Set(['melt', 'cast']);

export const pour: Topic = (job) => {
  if (!POURS.has(job.entry.verb)) return [];
  const poured = clockOf(job, 'poured');
  const beyond = tooHotForFurnace(job);
  if (!job.inFull && poured && isSurelyUsual(job, celsiusOf(poured))) return beyond;
  const molten = moltenOf(job);
  if (!molten) return beyond;
  if (poured && celsiusOf(poured) !== undefined) return [ofPour(job, molten, poured), ...beyond];
  return [...(job.planned ? [planned(job, molten, poured)] : []), ...beyond, ...neverMolten(job, molten)];
};

/** A thermocouple by the crucible (from memory). */
const READING_K = 10;
/**
 * So far above the liquidus clean metal is too hot: twice what is usual. Gold goes off four times as fast at 1250 as at 1100 °C (Rose), and
 * slag wants up to 1250 °C of its own.
 */
const MOST_SUPERHEAT_K = 210;
const MOST_WITH_SLAG_CELSIUS = 1250;

/** No alloy of gold, silver and copper is liquid only above 1085 °C: with the errors of the model and of the reading so much is molten. */
const SURELY_MOLTEN_CELSIUS = 1130;

/** Amiss whatever the alloy it is not: told without reckoning its liquidus, which takes long. */
const isSurelyUsual = (job: Job, celsius: number | undefined): boolean =>
  celsius !== undefined && celsius >= SURELY_MOLTEN_CELSIUS && celsius <= MOST_WITH_SLAG_CELSIUS && isUnderSlag(job);

const ofPour = (job: Job, molten: Molten, poured: Clock): Advice => {
  const celsius = celsiusOf(poured)!;
  const at = about(celsius, READING_K);
  const { liquidusCelsius } = molten.range;
  const usual = usualSuperheat(job);
  const { kelvin, verdict } = superheat(at, liquidusCelsius, usual.kelvin);
  const isHot = kelvin.low > MOST_SUPERHEAT_K && (!isUnderSlag(job) || at.low > MOST_WITH_SLAG_CELSIUS);
  const liquidus = celsiusWords(liquidusCelsius);
  const metal = alloyWords(molten.fractions);
  const wrong: Wrong[] = [];
  if (verdict === 'not all molten' && !molten.isOpen)
    wrong.push({
      code: 'pour-too-cold',
      place: poured.place,
      says: `Poured at ${celsius.toFixed(0)} °C, and ${metal} is all liquid only above ${liquidus}. Is the temperature right, or the alloy another?`,
    });
  if (isHot)
    wrong.push({
      code: 'pour-too-hot',
      place: poured.place,
      says: `Poured at ${celsius.toFixed(0)} °C, ${kelvin.best.toFixed(0)} K above the liquidus of ${metal} (${liquidus}); ${usualWords(job)} is usual. It takes up gas, eats the crucible and loses metal as fume.`,
    });
  const isDoubt = verdict === 'may be not all molten' || (verdict === 'not all molten' && molten.isOpen);
  return {
    topic: TOPIC,
    at: poured.place,
    ...(isDoubt
      ? { label: `hardly molten: liquidus ${liquidus}` }
      : job.planned
        ? { label: aboveWords(kelvin.best, 'liquidus') }
        : {}),
    rank: isDoubt ? 'doubt' : 'extra',
    wrong,
    working: () => ({
      says: `${capital(WORDS[verdict])}: ${aboveWords(kelvin.best, 'the liquidus')}.`,
      rows: [
        ...rangeRows(molten),
        `poured            ${celsius.toFixed(0)} °C`,
        `above liquidus    ${kelvin.low.toFixed(0)}..${kelvin.high.toFixed(0)} K; usual ${usualWords(job)}`,
      ],
      assumed: [
        ...molten.assumed,
        assume(`a reading good to ± ${READING_K} K`, FROM_MEMORY),
        assume(`usual ${usualWords(job)} above it`, usual.source),
      ],
    }),
  };
};

const aboveWords = (kelvin: number, what: string): string =>
  `${Math.abs(kelvin).toFixed(0)} K ${kelvin < 0 ? 'below' : 'above'} ${what}`;

const TOPIC = 'pour';

const WORDS = {
  'not all molten': 'part of it was not molten',
  'may be not all molten': 'perhaps not all molten',
  cold: 'colder than usual',
  usual: 'usual',
  hot: 'hotter than usual',
} as const;

const capital = (words: string): string => words[0]!.toUpperCase() + words.slice(1);

const usualWords = (job: Job): string => {
  const { low, high } = usualSuperheat(job).kelvin;
  return `${low}..${high} K`;
};

const planned = (job: Job, molten: Molten, poured: Clock | undefined): Advice => {
  const usual = usualSuperheat(job);
  const { best } = molten.range.liquidusCelsius;
  const [from, to] = [best + usual.kelvin.low, best + usual.kelvin.high].map((celsius) => 5 * Math.round(celsius / 5));
  return {
    topic: TOPIC,
    at: poured?.place ?? job.entry.gear.find(({ word }) => word === 'furnace')?.item.place ?? job.entry.head,
    label: `pour at ${from}..${to} °C`,
    rank: 'extra',
    working: () => ({
      says: `All liquid above ${celsiusWords(molten.range.liquidusCelsius)}; usually poured at ${from} to ${to} °C.`,
      rows: [
        ...rangeRows(molten),
        `above liquidus    usual ${usualWords(job)}`,
        `by eye            ${coloursWords(from!, to!)}`,
      ],
      assumed: [...molten.assumed, assume(`usual ${usualWords(job)} above it`, usual.source), BY_EYE],
      ...spitting(molten),
    }),
  };
};

/** Silver takes up oxygen while it is molten, and throws it out as it freezes; from a third of gold on hardly. */
const spitting = ({ fractions }: Molten): Pick<Working, 'todo'> => {
  const [gold, silver] = [fractions.get('Au') ?? 0, fractions.get('Ag') ?? 0];
  return silver >= MUCH_SILVER && gold < LITTLE_GOLD
    ? {
        todo: `Silver spits as it freezes: keep it covered with charcoal or borax, and let it cool slowly (${BERINGER}; cover ${FROM_MEMORY}).`,
      }
    : {};
};

const MUCH_SILVER = 0.9;
const LITTLE_GOLD = 0.3;

const tooHotForFurnace = (job: Job): readonly Advice[] => {
  const furnace = furnaceOf(job);
  const most = furnace?.highestCelsius;
  const over = most === undefined ? undefined : job.entry.clocks.find((clock) => (celsiusOf(clock) ?? 0) > most);
  if (!furnace || !over) return [];
  const says = `${celsiusOf(over)!.toFixed(0)} °C, and ${furnace.name} goes to ${most} °C. Which furnace was it, or what does the thermometer say?`;
  return [beyondFurnace(says, over.place)];
};

const neverMolten = (job: Job, molten: Molten): readonly Advice[] => {
  const furnace = furnaceOf(job);
  const most = furnace?.highestCelsius;
  const { liquidusCelsius } = molten.range;
  if (!furnace || most === undefined || liquidusCelsius.low <= most) return [];
  const place = job.entry.gear.find(({ word }) => word === 'furnace')!.item.place;
  const says = `${alloyWords(molten.fractions)} is all liquid only above ${celsiusWords(liquidusCelsius)}, and ${furnace.name} goes to ${most} °C.`;
  return [beyondFurnace(says, place)];
};

const beyondFurnace = (says: string, place: Advice['at']): Advice => ({
  topic: 'furnace',
  at: place,
  rank: 'doubt',
  working: () => ({ says, assumed: [] }),
  wrong: [{ code: 'beyond-furnace', place, says }],
});

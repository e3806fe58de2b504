/** Energy to melt a charge, and the least time that the furnace needs for it, against the clock. */

import { heatJoules, heatParts, meltingTime, SLAG_JOULES_PER_GRAM } from '../engine/bench/heat';
import { assume, type Estimate, FROM_MEMORY, times } from '../engine/bench/result';
import { celsiusOf, lengthWords, minutesBetween } from '../engine/clock';
import type { Clock } from '../engine/entry';
import type { Advice, Topic } from './advice';
import { addedMetals, chargedOf, type Job } from './job';
import { clockOf, furnaceOf, moltenOf, slagGrams, usualSuperheat } from './molten';
import { rangeWords, termWords } from './words';

export const meltingTimes: Topic = (job) => {
  const { verb, head, gear } = job.entry;
  const logged = loggedOf(job);
  // Of what was done only a clock can say that it was too quick.
  if (!job.inFull && !logged) return [];
  const furnace = furnaceOf(job);
  const to = furnace?.powerWatts !== undefined && (verb === 'melt' || verb === 'cast') ? targetCelsius(job) : undefined;
  const charge = to === undefined ? undefined : chargeToHeat(job);
  if (!furnace || to === undefined || !charge) return [];
  const heat = heatJoules({ ...charge, fromCelsius: ROOM_CELSIUS, toCelsius: to });
  const time = heat.value && meltingTime(heat.value, furnace.powerWatts!, furnace.heating);
  if (!heat.value || !time?.value) return [];
  const { leastMinutes, usualMinutes } = time.value;
  const says = (): string =>
    `${rangeWords(overThousand(heat.value), 'kJ')} bring the charge to ${to.toFixed(0)} °C: at least ${minuteWords(leastMinutes)} in ${furnace.name}${usualMinutes ? `, rather ${usualMinutes.high < 2 ? rangeWords(times(usualMinutes, 60), 's') : rangeWords(usualMinutes, 'min')}` : ''}.`;
  const working: Advice['working'] = () => ({
    says: says(),
    rows: [
      ...[...charge.metalGrams]
        .filter(([, grams]) => grams > 0.005)
        .map(([symbol, grams]) => heatRowOf(symbol, grams, to)),
      ...(charge.slagGrams > 0
        ? [
            `slag              ${termWords(charge.slagGrams, 'g')} × ${SLAG_JOULES_PER_GRAM.low / 1000}..${SLAG_JOULES_PER_GRAM.high / 1000} kJ/g`,
          ]
        : []),
      `heat              ${rangeWords(overThousand(heat.value), 'kJ')}, from ${ROOM_CELSIUS} °C`,
      `power             ${(furnace.powerWatts! / 1000).toFixed(1)} kW`,
      `least             least heat/power = ${minuteWords(leastMinutes)}`,
      ...(logged
        ? [`by the clock      ${lengthWords(logged.minutes)}, from ${logged.from.time} to ${logged.to.time}`]
        : []),
    ],
    assumed: [
      ...heat.assumed,
      ...(charge.metalGrams.size > 1
        ? [assume('each metal as if it melted at its own point; for an alloy 5 % either way', FROM_MEMORY)]
        : []),
      ...time.assumed,
    ],
  });
  const at = logged?.from.place ?? gear.find(({ word }) => word === 'furnace')?.item.place ?? head;
  const isQuick = logged !== undefined && logged.minutes + CLOCK_MINUTES < leastMinutes;
  return [
    {
      topic: 'melting time',
      at,
      ...(job.planned && !logged ? { label: `at least ${minuteWords(leastMinutes)} to melt` } : {}),
      rank: 'extra',
      working,
      wrong: isQuick
        ? [
            {
              code: 'too-quick',
              place: logged.to.place,
              says: `${lengthWords(logged.minutes)} after it was charged, and ${furnace.name} needs at least ${minuteWords(leastMinutes)} for this charge with all of its power. Is a time wrong, or the furnace another?`,
              related: [{ place: logged.from.place, says: 'charged here' }],
            },
          ]
        : [],
    },
  ];
};

const ROOM_CELSIUS = 20;

/** `Ag  231 g × (0.2616 × 942 + 104.7 + 0.31 × 4)/1000 = 81.4 kJ`: solid, melting, liquid. */
const heatRowOf = (symbol: string, grams: number, toCelsius: number): string => {
  const parts = heatParts(symbol, ROOM_CELSIUS, toCelsius);
  if (!parts) return `${symbol.padEnd(18)}${termWords(grams, 'g')}`;
  const { solid, solidKelvin, fusion, liquid, liquidKelvin } = parts;
  const joules = solid * solidKelvin + fusion + liquid * liquidKelvin;
  const after = `${liquidKelvin < 0 ? '−' : '+'} ${liquid} × ${Math.abs(liquidKelvin).toFixed(0)}`;
  const sum =
    fusion > 0 ? `${solid} × ${solidKelvin.toFixed(0)} + ${fusion} ${after}` : `${solid} × ${solidKelvin.toFixed(0)}`;
  return `${symbol.padEnd(18)}${termWords(grams, 'g')} × (${sum})/1000 = ${termWords((grams * joules) / 1000, 'kJ')}`;
};
/** Two clock times to the minute. */
const CLOCK_MINUTES = 1;

const overThousand = ({ low, best, high }: Estimate): Estimate => ({
  low: low / 1000,
  best: best / 1000,
  high: high / 1000,
});

const minuteWords = (minutes: number): string =>
  minutes < 1
    ? `${Math.max(1, Math.floor(60 * minutes))} s`
    : `${minutes < 10 ? Number(minutes.toFixed(1)) : Math.floor(minutes)} min`;

/** As it was poured; else by its liquidus and what is usual above it. */
const targetCelsius = (job: Job): number | undefined => {
  const poured = clockOf(job, 'poured');
  const read = poured && celsiusOf(poured);
  if (read !== undefined) return read;
  const molten = moltenOf(job);
  return molten && molten.range.liquidusCelsius.best + usualSuperheat(job).kelvin.low;
};

/** Metals as far as they are known, and slag: what is not known is left out, and so the least stays the least. */
const chargeToHeat = (
  job: Job,
): { readonly metalGrams: ReadonlyMap<string, number>; readonly slagGrams: number } | undefined => {
  const charged = chargedOf(job);
  if (!charged) return undefined;
  const metals = new Map([...charged.metals].map(([symbol, { best }]) => [symbol, best]));
  for (const [symbol, grams] of addedMetals(job)) metals.set(symbol, (metals.get(symbol) ?? 0) + grams);
  const slag = slagGrams(job);
  return metals.size > 0 || slag > 0 ? { metalGrams: metals, slagGrams: slag } : undefined;
};

/** From `charged` to the first that says that it was all liquid. */
const loggedOf = (job: Job): { readonly from: Clock; readonly to: Clock; readonly minutes: number } | undefined => {
  const { clocks } = job.entry;
  const start = clocks.findIndex(({ events }) => events.includes('charged'));
  const from = clocks[start];
  const to = clocks.slice(start + 1).find(({ events }) => events.includes('molten') || events.includes('poured'));
  const minutes = from && to && minutesBetween(from, to);
  return from && to && minutes !== undefined ? { from, to, minutes } : undefined;
};

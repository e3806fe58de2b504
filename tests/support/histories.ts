/**
 * Made-up journals of one connected history each, from a truth that balances: castings, divisions, blendings, weighed and assayed as a shop
 * would, each reading with the error that its scale or laboratory truly has. One reading may be made wrong.
 */
import { normal, type Random, seeded } from './random';

export const HISTORY_WORKSHOP = `shop: { name: Tarn End }
scales:
  bench: { division: 0.01 g, capacity: 2000 g, repeatability: 0.006 g }
`;

/** Standard uncertainty that the product reckons for such a scale: rounding at load and zero, and repeatability. */
export const BENCH_U = Math.hypot(0.01 / Math.sqrt(6), 0.006);
/** Of a determination, as it is stated beside it. */
export const ASSAY_U = 0.0005;

export interface MadeReading {
  readonly kind: 'mass' | 'fineness';
  /** Of the weight, or of the head of the assay; from 0. */
  readonly line: number;
  readonly metal: string | undefined;
  readonly u: number;
}

export interface MadeJournal {
  readonly text: string;
  readonly readings: readonly MadeReading[];
}

/** `error` grams, or mass fraction, put on the reading of that index. */
export interface Wrong {
  readonly index: number;
  readonly error: number;
}

interface Lot {
  readonly name: string;
  readonly mass: number;
  readonly gold: number;
  readonly silver: number;
}

interface Making {
  readonly random: Random;
  readonly lines: string[];
  readonly readings: MadeReading[];
  readonly wrong: Wrong | undefined;
  day: number;
  lots: number;
}

/** A journal of `steps` steps. The same seed gives the same truth and the same honest errors, whatever is wrong. */
export const madeJournal = (seed: number, steps = 8, wrong?: Wrong): MadeJournal => {
  const making: Making = { random: seeded(seed), lines: [], readings: [], wrong, day: 0, lots: 0 };
  let open: Lot[] = [receive(making), receive(making)];
  for (let step = 0; step < steps; step++) open = takeStep(making, open, step);
  // All that is left is blended, so that the history is one, and sent off.
  nextDay(making);
  if (open.length > 1) open = [blend(making, open)];
  for (const lot of open) {
    nextDay(making);
    line(making, `ship V${lot.name} to harbour-refiner`);
    weighed(making, `  in ${lot.name} `, lot.mass, ' on bench');
  }
  return { text: `${making.lines.join('\n')}\n`, readings: making.readings };
};

const takeStep = (making: Making, open: readonly Lot[], step: number): Lot[] => {
  const { random } = making;
  nextDay(making);
  const kind = random.next();
  const heavy = open.findIndex(({ mass }) => mass > 60);
  if (kind < 0.3 && heavy >= 0) return [...open.filter((_, at) => at !== heavy), ...split(making, open[heavy]!, step)];
  if (kind < 0.55 && open.length > 1) return [...open.slice(2), blend(making, open.slice(0, 2))];
  if (kind < 0.65) return [...open, receive(making)];
  const [first, ...others] = open;
  return [...others, cast(making, first!, step)];
};

const nextDay = (making: Making): void => {
  const [month, day] = [Math.floor(making.day / 28) + 1, (making.day % 28) + 1];
  making.lines.push('', `2026-${`${month}`.padStart(2, '0')}-${`${day}`.padStart(2, '0')}`);
  making.day++;
};

const line = ({ lines }: Making, text: string): number => lines.push(text) - 1;

const nameOf = (making: Making): string => {
  making.lots++;
  return `A${making.lots}`;
};

/** The error of the reading that comes next, if it is the wrong one. */
const wrongBy = ({ wrong, readings }: Making): number => (wrong?.index === readings.length ? wrong.error : 0);

const weighed = (making: Making, before: string, mass: number, after: string): void => {
  const { random, readings } = making;
  const load = mass + 0.006 * normal(random) + 0.01 * (random.next() - 0.5) + wrongBy(making);
  const at = line(making, `${before}${Math.max(0.01, load).toFixed(2)} g${after}`);
  readings.push({ kind: 'mass', line: at, metal: undefined, u: BENCH_U });
};

/** Weighed seven times of ten where it goes in, else taken as it is. */
const into = (making: Making, lot: Lot): void => {
  if (making.random.next() < 0.7) weighed(making, `  in ${lot.name} `, lot.mass, ' on bench');
  else line(making, `  in ${lot.name}`);
};

const assay = (making: Making, lot: Lot): void => {
  const { random, readings } = making;
  const at = line(making, `assay ${lot.name} by fire`);
  const figures = (['Au', 'Ag'] as const).map((metal) => {
    const share = (metal === 'Au' ? lot.gold : lot.silver) / lot.mass;
    const figure = share + ASSAY_U * normal(random) + wrongBy(making);
    readings.push({ kind: 'fineness', line: at, metal, u: ASSAY_U });
    return `${metal} ${(100 * figure).toFixed(3)} ±${(100 * ASSAY_U).toFixed(2)} % standard`;
  });
  line(making, `  ${figures.join(', ')}`);
};

const receive = (making: Making): Lot => {
  const { random } = making;
  const mass = 40 + 160 * random.next();
  const gold = mass * (0.4 + 0.4 * random.next());
  const lot = { name: nameOf(making), mass, gold, silver: (mass - gold) * (0.3 + 0.5 * random.next()) };
  if (making.day === 0) nextDay(making);
  weighed(making, `receive ${lot.name} `, mass, ' on bench');
  if (random.next() < 0.8) assay(making, lot);
  return lot;
};

/** Gold loses up to 0.3 %, silver up to 0.7 %, the rest a little: all within what such a heat usually loses. */
const cast = (making: Making, lot: Lot, step: number): Lot => {
  const { random } = making;
  line(making, `cast C${step}`);
  into(making, lot);
  const gold = lot.gold * (1 - 0.003 * random.next());
  const silver = lot.silver * (1 - 0.007 * random.next());
  const base = (lot.mass - lot.gold - lot.silver) * (1 - 0.004 * random.next());
  const out = { name: nameOf(making), mass: gold + silver + base, gold, silver };
  weighed(making, `  out ${out.name} `, out.mass, ' bar on bench');
  if (random.next() < 0.7) assay(making, out);
  return out;
};

const split = (making: Making, lot: Lot, step: number): Lot[] => {
  const { random } = making;
  line(making, `split Y${step}`);
  into(making, lot);
  const share = 0.3 + 0.4 * random.next();
  const parts = [share, 1 - share].map((part) => ({
    name: nameOf(making),
    mass: lot.mass * part,
    gold: lot.gold * part,
    silver: lot.silver * part,
  }));
  for (const part of parts) weighed(making, `  out ${part.name} `, part.mass, ' on bench');
  for (const part of parts) if (random.next() < 0.4) assay(making, part);
  return parts;
};

const blend = (making: Making, lots: readonly Lot[]): Lot => {
  line(making, `blend J${making.lots}`);
  for (const lot of lots) into(making, lot);
  const sum = (of: (lot: Lot) => number): number => lots.reduce((total, lot) => total + of(lot), 0);
  const out = {
    name: nameOf(making),
    mass: sum(({ mass }) => mass),
    gold: sum(({ gold }) => gold),
    silver: sum(({ silver }) => silver),
  };
  weighed(making, `  out ${out.name} `, out.mass, ' on bench');
  return out;
};

/** Pairs of branches of a made journal: a common page, and what two hands made of it. */
import type { Random } from '../support/random';

export interface Pair {
  readonly base: string;
  readonly ours: string;
  readonly theirs: string;
  /** The name that both sides used or changed; none where their work is apart. */
  readonly collides: string | undefined;
}

interface Day {
  readonly date: string;
  readonly entries: string[];
}

type Page = Day[];

const textOf = (page: Page): string =>
  `${[...page]
    .sort((a, b) => (a.date < b.date ? -1 : 1))
    .map(({ date, entries }) => [date, ...entries].join('\n\n'))
    .join('\n\n')}\n`;

const copy = (page: Page): Page => page.map(({ date, entries }) => ({ date, entries: [...entries] }));

const grams = (random: Random): string =>
  `${random.whole(1500, 9000) / 100}`.padEnd(5, '0').replace(/^(\d+)$/, '$1.00');

const fixed = (value: number): string => value.toFixed(2);

const received = (lot: string, random: Random): string =>
  `receive ${lot} ${fixed(Number(grams(random)))} g from beck-side`;

/** A lot that comes in and is cast, with a loss that is usual. */
const cast = (name: string, random: Random): string[] => {
  const weight = Number(grams(random));
  return [
    `receive L-${name} ${fixed(weight)} g from beck-side`,
    `cast ${name}\n  in L-${name} ${fixed(weight)} g\n  out B-${name} ${fixed(weight - 0.02)} g bar`,
  ];
};

const dayOf = (page: Page, date: string): Day => {
  const known = page.find((day) => day.date === date);
  if (known) return known;
  const made: Day = { date, entries: [] };
  page.push(made);
  return made;
};

const DATES = ['2026-05-04', '2026-05-05', '2026-05-06', '2026-05-11', '2026-05-12', '2026-05-13'];

const basePage = (random: Random): Page => {
  const page: Page = [];
  for (let at = 1; at <= random.whole(2, 6); at++)
    dayOf(page, random.pick(DATES.slice(0, 4))).entries.push(...cast(`C${at}`, random));
  dayOf(page, '2026-05-04').entries.push('note opened');
  return page;
};

/** New entries under old and new days; a note put to an entry that is this hand's own; an entry taken out. */
const work = (page: Page, hand: string, random: Random): void => {
  for (let at = 1; at <= random.whole(1, 4); at++)
    dayOf(page, random.pick(DATES)).entries.push(...cast(`${hand}${at}`, random));
  const parity = hand === 'P' ? 0 : 1;
  const own = page.flatMap((day) =>
    day.entries.flatMap((entry, at) =>
      Number(/^cast C(\d+)\n/.exec(entry)?.[1] ?? -1) % 2 === parity ? [{ day, at }] : [],
    ),
  );
  if (own.length > 0 && random.next() < 0.7) {
    const { day, at } = random.pick(own);
    day.entries[at] += random.next() < 0.5 ? '\n  note looked at again' : '  # looked at again';
  }
  if (random.next() < 0.5) dayOf(page, random.pick(DATES)).entries.push(`note ${hand} was here ${random.whole(1, 99)}`);
};

export const apart = (random: Random): Pair => {
  const base = basePage(random);
  const [ours, theirs] = [copy(base), copy(base)];
  work(ours, 'P', random);
  work(theirs, 'Q', random);
  return { base: textOf(base), ours: textOf(ours), theirs: textOf(theirs), collides: undefined };
};

const PLANTS = ['same step', 'same lot', 'same weight', 'gone and changed', 'same lot, other days'] as const;

export const colliding = (random: Random): Pair => {
  const base = basePage(random);
  const [ours, theirs] = [copy(base), copy(base)];
  work(ours, 'P', random);
  work(theirs, 'Q', random);
  const plant = random.pick(PLANTS);
  const date = random.pick(DATES);
  if (plant === 'same step') {
    for (const page of [ours, theirs]) dayOf(page, date).entries.push(...cast('X9', random));
    return { base: textOf(base), ours: textOf(ours), theirs: textOf(theirs), collides: 'X9' };
  }
  if (plant === 'same lot' || plant === 'same lot, other days') {
    dayOf(ours, date).entries.push(received('X8', random));
    dayOf(theirs, plant === 'same lot' ? date : '2026-05-20').entries.push(
      received('X8', random).replace(/\d\.\d\d g/, '9.99 g'),
    );
    return { base: textOf(base), ours: textOf(ours), theirs: textOf(theirs), collides: 'X8' };
  }
  const name = 'C1';
  const change = (page: Page, to: (entry: string) => string | undefined): void => {
    for (const day of page) {
      const at = day.entries.findIndex((entry) => entry.startsWith(`cast ${name}\n`));
      if (at < 0) continue;
      const made = to(day.entries[at]!);
      if (made === undefined) day.entries.splice(at, 1);
      else day.entries[at] = made;
    }
  };
  change(ours, (entry) => entry.replace(/(\d\d) g bar/, '11 g bar'));
  change(theirs, (entry) => (plant === 'same weight' ? entry.replace(/(\d\d) g bar/, '12 g bar') : undefined));
  return { base: textOf(base), ours: textOf(ours), theirs: textOf(theirs), collides: name };
};

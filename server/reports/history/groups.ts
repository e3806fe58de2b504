/** Losses of weight and recoveries of metal, put together by kind of step and by what they were done with. */
import { spread } from '../../engine/accounts/inexact';
import type { Done, Grouping } from '../../engine/longview/done';
import { FEWEST_FOR_SPREAD, type Summary, summaryOf } from '../../engine/longview/summary';
import { decimal } from '../../quantity/decimal';
import { placesFor, showDigits, showPlaces } from '../../quantity/show';
import { type Cell, type Column, count, figure, NOTHING, type Table, word } from '../table';

export interface Group {
  readonly verb: string;
  /** Of the grouping; undefined where the record does not say. */
  readonly of: string | undefined;
  readonly steps: readonly Done[];
}

/**
 * By verb first: a drying and a melt of one furnace have nothing in common. In the order of the record, what is not said last. Without the kinds
 * of step of which the record never says it, but where it says it of none: a drying has no recipe.
 */
export const groupsBy = (done: readonly Done[], by: Grouping): readonly Group[] => {
  const groups = allBy(done, by);
  const said = new Set(groups.flatMap(({ verb, of }) => (of === undefined ? [] : [verb])));
  return said.size === 0 ? groups : groups.filter(({ verb }) => said.has(verb));
};

const allBy = (done: readonly Done[], by: Grouping): readonly Group[] => {
  const groups = new Map<string, Group & { steps: Done[] }>();
  for (const one of done) {
    const { verb } = one.step.entry;
    const of = by === 'kind' ? undefined : one.groups[by];
    const key = JSON.stringify([verb, of ?? null]);
    const known = groups.get(key) ?? { verb, of, steps: [] };
    groups.set(key, known);
    known.steps.push(one);
  }
  const verbs = [...new Set([...groups.values()].map(({ verb }) => verb))];
  const rank = ({ verb, of }: Group): number => 2 * verbs.indexOf(verb) + (of === undefined ? 1 : 0);
  return [...groups.values()].sort((a, b) => rank(a) - rank(b) || compareText(a.of ?? '', b.of ?? ''));
};

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** A share of one step, and its standard uncertainty. */
export interface Share {
  readonly share: number;
  readonly u: number;
}

/** What is worked out of a group's figures. */
interface Figures {
  readonly shares: readonly Share[];
  /** All together, each gram alike. */
  readonly overall: number | undefined;
}

const COLUMNS = (by: Grouping, what: string): readonly Column[] => [
  { key: 'step', head: 'step' },
  ...(by === 'kind' ? [] : [{ key: by, head: by }]),
  { key: 'steps', head: 'steps', right: true },
  { key: 'median', head: `usual ${what}`, right: true },
  { key: 'spread', head: 'spread', right: true },
  { key: 'low', head: '95 % from', right: true },
  { key: 'high', head: 'to', right: true },
  { key: 'least', head: 'least', right: true },
  { key: 'most', head: 'most', right: true },
  { key: 'overall', head: 'overall', right: true },
  { key: 'left_out', head: 'not known', right: true },
];

/** Weight missing after gas, slag and what was seen to be lost, of all that went in. */
export const lossTable = (done: readonly Done[], by: Grouping): Table => ({
  key: 'losses',
  title: `loss of weight by ${by === 'kind' ? 'kind of step' : by}`,
  ...tableOf(groupsBy(done, by), by, 'loss', ({ steps }) => {
    const known = steps.filter(({ loss }) => loss);
    const went = total(known, ({ wentGrams }) => wentGrams);
    return {
      shares: known.map(({ loss }) => loss!),
      overall: went > 0 ? total(known, ({ lostGrams }) => lostGrams) / went : undefined,
    };
  }),
});

/** What of a metal charged is in the main products, where both are known without a guess. */
export const recoveryTable = (done: readonly Done[], by: Grouping, metal: string): Table => {
  const groups = groupsBy(done, by);
  const { notes, ...table } = tableOf(groups, by, 'recovery', ({ steps }) => {
    const known = steps.flatMap((step) => {
      const [one, recovery] = [step.metal(metal), recoveryOf(step, metal)];
      return recovery && one?.won ? [{ recovery, won: one.won, charged: one.charged }] : [];
    });
    const charged = total(known, (one) => one.charged.value);
    return {
      shares: known.map(({ recovery }) => recovery),
      overall: charged > 0 ? total(known, ({ won }) => won.value) / charged : undefined,
    };
  });
  return {
    key: `recovery_${metal.toLowerCase()}`,
    title: `recovery of ${metal} by ${by === 'kind' ? 'kind of step' : by}`,
    ...table,
    notes: [
      ...notes,
      ...throughAnother(
        groups.flatMap(({ steps }) => steps),
        metal,
      ),
    ],
  };
};

/** A melt whose button is known by the bead alone, and the cupelling of a button that is known by the ash, share one gap between them. */
export const throughAnother = (done: readonly Done[], metal: string): readonly string[] => {
  const known = done.filter((one) => recoveryOf(one, metal));
  const through = known.filter((one) => one.metal(metal)!.throughAnother).length;
  if (through === 0) return [];
  const who =
    through === known.length ? (through === 1 ? 'This one' : `All ${through}`) : `${through} of ${known.length}`;
  return [
    `${who} ${through === 1 ? 'knows' : 'know'} one side through another step, by what such a step usually keeps: good to tell groups apart, not for what this step alone keeps.`,
  ];
};

export const recoveryOf = (done: Done, metal: string): Share | undefined => {
  const recovery = done.metal(metal)?.recovery;
  return recovery && { share: recovery.value, u: spread(recovery) };
};

const total = <One>(all: readonly One[], of: (one: One) => number): number => all.reduce((so, one) => so + of(one), 0);

const tableOf = (
  groups: readonly Group[],
  by: Grouping,
  what: string,
  figuresOf: (group: Group) => Figures,
): Pick<Table, 'columns' | 'rows' | 'notes'> => {
  const made = groups.map((group) => ({ group, figures: figuresOf(group) }));
  const shown = made.filter(({ figures }) => figures.shares.length > 0);
  const silent = made.length - shown.length;
  const few = shown.filter(({ figures }) => figures.shares.length < FEWEST_FOR_SPREAD + 1).length;
  return {
    columns: COLUMNS(by, what),
    rows: shown.map(({ group, figures }) => rowOf(group, by, figures)),
    notes: [
      ...(made.length === 0 ? ['No step was done in this time.'] : []),
      ...(few > 0
        ? [
            `${few === shown.length ? 'All' : few} of these rest on five steps or fewer: too few for an interval of 95 %.`,
          ]
        : []),
      ...(silent > 0 ? [`Of ${silent} ${silent === 1 ? 'group' : 'groups'} no ${what} is known without a guess.`] : []),
    ],
  };
};

const rowOf = ({ verb, of, steps }: Group, by: Grouping, { shares, overall }: Figures): readonly Cell[] => {
  const summary = summaryOf(shares.map((one) => one.share))!;
  const places = placesOf(summary, shares);
  const share = (value: number | undefined): Cell =>
    value === undefined ? NOTHING : figure(percent(value, places), value);
  return [
    word(verb),
    ...(by === 'kind' ? [] : [of === undefined ? figure('not said', undefined) : word(of)]),
    count(summary.count),
    share(summary.median),
    summary.spread === undefined ? NOTHING : figure(spreadWords(summary.spread, places), summary.spread),
    share(summary.interval?.low),
    share(summary.interval?.high),
    share(summary.least),
    share(summary.most),
    share(overall),
    count(steps.length - summary.count),
  ];
};

/**
 * As far as the middle one is known: by its interval, without one by how far all scatter; and no finer than a single one, of whose error all
 * may have the same part. At most four.
 */
export const placesOf = ({ spread: deviation, interval, least, most }: Summary, shares: readonly Share[]): number => {
  const sorted = shares.map(({ u }) => u).sort((a, b) => a - b);
  const scatter = interval ? (interval.high - interval.low) / 2 : 2 * (deviation ?? (most - least) / 2);
  const reach = Math.max(scatter, 2 * (sorted[sorted.length >> 1] ?? 0));
  return reach > 0 ? Math.min(4, placesFor(100 * reach)) : 2;
};

/** To the same place; one too small for it to its own first digit, for what is there is never nothing. */
const spreadWords = (share: number, places: number): string => {
  const shown = percent(share, places);
  return share > 0 && !/[1-9]/.test(shown) ? `${showDigits(decimal(100 * share), 1)} %` : shown;
};

export const percent = (share: number, places: number): string => `${showPlaces(decimal(100 * share), places)} %`;

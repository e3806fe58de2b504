/** Every picture there is, by the question that it answers. */
import type { Inexact } from '../engine/accounts/inexact';
import type { Passage } from '../engine/accounts/passage';
import { type Segment, segmentsOf } from '../engine/accounts/segments';
import { totalOf } from '../engine/accounts/stock';
import type { Step } from '../engine/book';
import type { Entry } from '../engine/entry';
import type { Grouping } from '../engine/longview/done';
import { metalFlow } from '../engine/longview/flow';
import { metalRunning } from '../engine/longview/running';
import { chartSettings } from '../engine/longview/series';
import { recoveryOf, throughAnother } from '../reports/history/groups';
import { comparisonsOf, stepsOf } from '../reports/history/history';
import { runningTable } from '../reports/history/running';
import { metalWords } from '../reports/words';
import { accountsOf } from '../workspace/accounts';
import { inOrder } from '../workspace/order';
import type { Workspace } from '../workspace/workspace';
import { assayPicture } from './assays';
import { flowPicture } from './flow';
import { nothingToShow, type Picture } from './frame';
import { heatPicture } from './heat';
import { spreadPicture } from './spread';
import { stockPicture } from './stock';
import { unaccountedPicture } from './unaccounted';

export const PICTURES = ['flow', 'unaccounted', 'recovery', 'loss', 'stock', 'assays', 'heat'] as const;
export type PictureKind = (typeof PICTURES)[number];

export interface PictureQuestion {
  readonly kind: PictureKind;
  /** One metal; for the stock without it gold and silver. */
  readonly metal?: string | undefined;
  readonly by?: Grouping | undefined;
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  /** The flow of this lot, from what it was made of to where it went. */
  readonly lot?: string | undefined;
  /** The heat of this step. */
  readonly step?: string | undefined;
  /** Assays against this party alone. */
  readonly party?: string | undefined;
}

/** A picture, or a sentence on what was asked for that is not there. */
export const pictureOf = (workspace: Workspace, question: PictureQuestion): Picture | string => {
  const metal = question.metal ?? 'Au';
  switch (question.kind) {
    case 'flow':
      return flow(workspace, question, metal);
    case 'unaccounted':
      return unaccounted(workspace, question, metal);
    case 'recovery':
    case 'loss':
      return spread(workspace, question, metal);
    case 'stock':
      return stock(workspace, question);
    case 'assays':
      return assays(workspace, question, metal);
    case 'heat':
      return heat(workspace, question);
  }
};

/** Behind `of`: `the whole record`, `the days 2026-05-01 to 2026-05-31`. */
const periodWords = ({ from, to }: PictureQuestion): string => {
  if (from === undefined && to === undefined) return 'the whole record';
  if (from === to) return `the day ${from}`;
  if (from === undefined) return `the days up to ${to}`;
  return to === undefined ? `the days from ${from} on` : `the days ${from} to ${to}`;
};

const unaccounted = (workspace: Workspace, question: PictureQuestion, metal: string): Picture => {
  const { limits } = workspace.workshop;
  const settings = chartSettings(limits);
  const running = metalRunning(metal, stepsOf(workspace, question), settings, limits.coverage);
  return unaccountedPicture(running, settings, runningTable(running, limits.coverage).notes);
};

const spread = (workspace: Workspace, question: PictureQuestion, metal: string): Picture => {
  const { kind, by = 'kind' } = question;
  const what = by === 'kind' ? 'kind of step' : by;
  const done = stepsOf(workspace, question);
  const common = {
    by,
    below: `Each point is one step of ${periodWords(question)}; the bar is the middle, with its interval of 95 %.`,
  };
  if (kind === 'loss')
    return spreadPicture(done, {
      ...common,
      key: `loss-${by}`,
      title: `Loss of weight by ${what}`,
      share: ({ loss }) => loss,
      metal: undefined,
      nothing: 'No step has a loss that is known without a guess.',
      notes: () => [],
    });
  return spreadPicture(done, {
    ...common,
    key: `recovery-${metal}-${by}`,
    title: `Recovery of ${metalWords(metal)} by ${what}`,
    share: (one) => recoveryOf(one, metal),
    metal,
    nothing: `No step has ${metalWords(metal)} known on both sides without a guess: assay what goes in and what comes out.`,
    notes: (shown) => throughAnother(shown, metal),
  });
};

/** More days than these are drawn by every so many. */
const MOST_DAYS = 90;

const stock = (workspace: Workspace, { metal, from, to }: PictureQuestion): Picture => {
  const metals = metal === undefined ? ['Au', 'Ag'] : [metal];
  const accounts = accountsOf(workspace);
  const all = new Set<string>();
  for (const page of workspace.pages.values()) {
    for (const { date, prefix } of page.entries) {
      if (date && prefix !== 'plan' && date >= (from ?? '') && (to === undefined || date <= to)) all.add(date);
    }
  }
  const dates = [...all].sort();
  const every = Math.ceil(dates.length / MOST_DAYS);
  const days = dates
    .filter((_, at) => at % every === 0 || at === dates.length - 1)
    .map((date) => {
      const holdings = accounts.stock(date);
      const totals = metals.map((one) => [one, totalOf(holdings, one)] as const);
      return {
        date,
        grams: new Map<string, Inexact>(totals.map(([one, { grams }]) => [one, grams])),
        unknown: new Map(totals.map(([one, { unknown }]) => [one, unknown])),
      };
    });
  return stockPicture(days, metals);
};

const assays = (workspace: Workspace, question: PictureQuestion, metal: string): Picture | string => {
  const { party } = question;
  const all = comparisonsOf(workspace, question).filter((one) => one.metal === metal);
  const found = all.filter((one) => party === undefined || one.party === party);
  if (party !== undefined && found.length === 0)
    return `No lot has an assay of our own and one of ${party} for ${metalWords(metal)}.`;
  const [most] = found.sort((a, b) => b.pairs.length - a.pairs.length);
  if (most) return assayPicture(most, periodWords(question));
  return nothingToShow(
    `assays-${metal}`,
    `${metal}: our assays against others`,
    'No lot has an assay of our own and one of another.',
  );
};

const heat = (workspace: Workspace, { step }: PictureQuestion): Picture | string => {
  if (step === undefined) return 'A heat wants its step: `--step M57`.';
  const entries: Entry[] = [...workspace.pages.values()]
    .flatMap((page) => page.byStep.get(step) ?? [])
    .filter(({ prefix, broken }) => !broken && (prefix === undefined || prefix === 'more'))
    .sort(inOrder(workspace.pages));
  return entries.length > 0 ? heatPicture(entries) : `No step is named ${step}.`;
};

const flow = (workspace: Workspace, question: PictureQuestion, metal: string): Picture | string => {
  const { lot, from, to } = question;
  const accounts = accountsOf(workspace);
  const story = lot === undefined ? undefined : workspace.book.lot(lot);
  if (lot !== undefined && !story?.births.length) return `No lot is named ${lot}.`;
  const { lineage } = accounts.metals;
  const passages = stepsOf(workspace, question).map(({ step }) => lineage.passage(step));
  const own = story && wayOf(segmentsOf(story).all, lineage);
  const drawn = own ? passages.filter(({ step }) => own.has(step)) : passages;
  return flowPicture(
    metalFlow({
      metal,
      passages: drawn,
      metals: accounts.metals,
      book: workspace.book,
      holdings: accounts.stock(to),
      isWithin: (date = '') => date >= (from ?? '') && (to === undefined || date <= to),
      together: lot === undefined,
    }),
    lot ?? periodWords(question),
  );
};

type Lineage = ReturnType<typeof accountsOf>['metals']['lineage'];

/** The steps that a lot came of and went through: back and on, not sideways. */
const wayOf = (segments: readonly Segment[], lineage: Lineage): ReadonlySet<Step> => {
  const steps = new Set<Step>();
  const seen = { back: new Set<Segment>(), on: new Set<Segment>() };
  const walk = (segment: Segment, side: 'back' | 'on'): void => {
    if (seen[side].has(segment)) return;
    seen[side].add(segment);
    if (side === 'back') {
      const { was, passage } = lineage.origin(segment);
      if (was) walk(was, 'back');
      if (passage) take(passage, 'back');
      return;
    }
    const renamed = lineage.renamedTo(segment);
    if (renamed) walk(renamed, 'on');
    for (const { passage } of lineage.uses(segment)) take(passage, 'on');
  };
  const take = (passage: Passage, side: 'back' | 'on'): void => {
    steps.add(passage.step);
    for (const { flow } of side === 'back' ? passage.inputs : passage.outputs) {
      const next = lineage.segment(flow);
      if (next) walk(next, side);
    }
  };
  for (const segment of segments) {
    walk(segment, 'back');
    walk(segment, 'on');
  }
  return steps;
};

/** Where the work can hurt: what the bench says of a step, each kind once a day, and always of a plan. Never a permission. */

import { memo } from '../engine/accounts/memo';
import { limitsOf } from '../engine/bench/exposure';
import { type Caution, cautionsFor, DEFERS } from '../engine/bench/hazards';
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import { fitting } from '../reports/figures';
import { type KeptByMetals, keptByMetals } from '../workspace/accounts';
import { inOrder } from '../workspace/order';
import type { Workspace } from '../workspace/workspace';
import type { Working } from './advice';
import { type Job, jobOf } from './job';
import { situationOf } from './situation';

const kept: KeptByMetals<Map<Entry, readonly Caution[]>> = memo();

/** All that a step sets off. */
export const cautionsOf = (job: Job): readonly Caution[] => {
  if (job.planned) return cautionsFor(situationOf(job));
  const ofAccount = keptByMetals(kept, job.workspace, job.account, () => new Map());
  const known = ofAccount.get(job.entry);
  if (known) return known;
  const made = cautionsFor(situationOf(job));
  ofAccount.set(job.entry, made);
  return made;
};

const versions = memo<Workspace, Map<Entry, readonly Caution[]>>();

/** Each entry is asked once in a version of the journal, however many stand below it on its day. */
const ofVersion = (job: Job): readonly Caution[] => {
  const known = versions.get(job.workspace) ?? new Map<Entry, readonly Caution[]>();
  versions.set(job.workspace, known);
  const before = known.get(job.entry);
  if (before) return before;
  const made = cautionsOf(job);
  known.set(job.entry, made);
  return made;
};

/** Those that no entry above it on the same day has set off; of a plan all. */
export const newCautions = (job: Job): readonly Caution[] => {
  const own = cautionsOf(job);
  if (job.planned || own.length === 0) return own;
  const said = new Set(earlierThatDay(job).flatMap((one) => ofVersion(one).map(({ code }) => code)));
  return own.filter(({ code }) => !said.has(code));
};

const earlierThatDay = ({ workspace, entry }: Job): readonly Job[] => {
  const isEarlier = inOrder(workspace.pages);
  const day = [...workspace.pages.values()].flatMap((page) => daysOf(page).get(entry.date) ?? NONE);
  return day
    .filter((one) => one.anchor !== entry.anchor && isEarlier(one, entry) < 0)
    .flatMap((one) => jobOf(workspace, one) ?? []);
};

const NONE: readonly Entry[] = [];

const days = memo<JournalPage, ReadonlyMap<string | undefined, readonly Entry[]>>();

const daysOf = (page: JournalPage): ReadonlyMap<string | undefined, readonly Entry[]> => {
  const known = days.get(page);
  if (known) return known;
  const made = new Map<string | undefined, Entry[]>();
  for (const entry of page.entries) {
    const day = made.get(entry.date);
    if (day) day.push(entry);
    else made.set(entry.date, [entry]);
  }
  days.set(page, made);
  return made;
};

/** `lead fume`. */
export const cautionName = ({ code }: Caution): string => code.replaceAll('-', ' ');

export const cautionLabel = (cautions: readonly Caution[]): string => {
  const names = cautions.map(cautionName);
  const more = names.length > 1 ? [`caution: ${names[0]} and ${names.length - 1} more`] : [];
  return fitting(`caution: ${names.join(', ')}`, ...more, `caution: ${names[0]}`);
};

/** What hurts, the published limits of what may be breathed, and whence both are. */
export const cautionWorking = (one: Caution): Working => ({
  says: `Caution, ${cautionName(one)}. ${one.says}`,
  rows: one.limits
    .flatMap(limitsOf)
    .map(({ substance, kind, value, unit, source }) => `${substance}: ${kind} ${value} ${unit} (${source})`),
  assumed: [],
  todo: `${DEFERS} Source: ${one.source}.`,
});

export const cautionsAt = (workspace: Workspace, entry: Entry): readonly Caution[] => {
  const job = jobOf(workspace, entry);
  return job ? cautionsOf(job) : [];
};

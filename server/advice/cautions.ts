/** Where the work can hurt: what the bench says of a step, each kind once a day, and always of a plan. Never a permission. */

import { memo } from '../engine/accounts/memo';
import { leadLimitMicrograms, limitsOf } from '../engine/bench/exposure';
import { type Caution, cautionsFor, DEFERS } from '../engine/bench/hazards';
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import { fitting } from '../reports/figures';
import { type KeptByMetals, keptByWeights } from '../workspace/by-metals';
import { inOrder } from '../workspace/order';
import type { Workspace } from '../workspace/workspace';
import type { Working } from './advice';
import { type Job, jobOf } from './job';
import { situationOf } from './situation';

const kept: KeptByMetals<Map<Entry, readonly Caution[]>> = memo();

/** All that a step sets off. */
export const cautionsOf = (job: Job): readonly Caution[] => {
  if (job.planned) return cautionsFor(situationOf(job));
  const ofAccount = keptByWeights(kept, job.workspace, job.account, () => new Map());
  const known = ofAccount.get(job.entry);
  if (known) return known;
  const made = cautionsFor(situationOf(job));
  ofAccount.set(job.entry, made);
  return made;
};

/** Those that no entry above it on the same day has set off; of a plan all. */
export const newCautions = (job: Job): readonly Caution[] =>
  job.planned ? cautionsOf(job) : (dayOf(job).get(job.entry.anchor) ?? NO_CAUTIONS);

const NO_CAUTIONS: readonly Caution[] = [];

/** What each entry of a day is the first to set off, by the section that it stands in. */
type Day = ReadonlyMap<object, readonly Caution[]>;

const versions = memo<Workspace, Map<string | undefined, Day>>();

/** The day of a job, worked out once in a version of the journal. */
const dayOf = ({ workspace, entry: { date } }: Job): Day => {
  const known = versions.get(workspace) ?? new Map<string | undefined, Day>();
  versions.set(workspace, known);
  const before = known.get(date);
  if (before) return before;
  const said = new Set<string>();
  const made = new Map<object, readonly Caution[]>();
  const entries: Entry[] = [];
  for (const page of workspace.pages.values()) {
    if (page.firstDate <= (date ?? '') && (date ?? '') <= page.lastDate)
      entries.push(...(daysOf(page).get(date) ?? NONE));
  }
  for (const entry of entries.sort(inOrder(workspace.pages))) {
    const fresh = cautionsAt(workspace, entry).filter(({ code }) => !said.has(code));
    for (const { code } of fresh) said.add(code);
    if (fresh.length > 0) made.set(entry.anchor, fresh);
  }
  known.set(date, made);
  return made;
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

/** The limit of lead falls with the hours. */
const LONG_SHIFT: readonly string[] = [10, 12].flatMap((hours) => {
  const found = leadLimitMicrograms(hours);
  if (found.value === undefined) return [];
  const [by] = found.assumed;
  return [`lead: OSHA PEL over ${hours} h ${(found.value / 1000).toFixed(3)} mg/m3, ${by?.says} (${by?.source})`];
});

/** What hurts, the published limits of what may be breathed, and whence both are. */
export const cautionWorking = (one: Caution): Working => ({
  says: `Caution, ${cautionName(one)}. ${one.says}`,
  rows: [
    ...one.limits
      .flatMap(limitsOf)
      .map(({ substance, kind, value, unit, source }) => `${substance}: ${kind} ${value} ${unit} (${source})`),
    ...(one.limits.includes('lead') ? LONG_SHIFT : []),
  ],
  assumed: [],
  todo: `${DEFERS} Source: ${one.source}.`,
});

export const cautionsAt = (workspace: Workspace, entry: Entry): readonly Caution[] => {
  const job = jobOf(workspace, entry);
  return job ? cautionsOf(job) : [];
};

/** All questions that the bench asks. A new one is a file beside this, and a line here. */
import { memo } from '../engine/accounts/memo';
import type { Entry } from '../engine/entry';
import { type KeptByMetals, keptByMetals } from '../workspace/accounts';
import type { Advice, Topic } from './advice';
import { alloy } from './alloy';
import { cupelBead } from './cupel-bead';
import { cupelHeats } from './cupel-heat';
import { cupelLead } from './cupel-lead';
import { cupelLoad } from './cupel-load';
import { density } from './density';
import { inquarting } from './inquart';
import type { Job } from './job';
import { meltingTimes } from './melting-time';
import { mercury } from './mercury';
import { offTarget } from './off-target';
import { parting } from './parting';
import { pour } from './pour';
import { silverDropped } from './silver-back';

const TOPICS: readonly Topic[] = [
  cupelLead,
  cupelLoad,
  cupelHeats,
  cupelBead,
  inquarting,
  parting,
  silverDropped,
  alloy,
  offTarget,
  pour,
  meltingTimes,
  mercury,
  density,
];

const NONE: readonly Advice[] = [];

type OfEntries = Map<Entry, readonly Advice[]>;

const kept: KeptByMetals<OfEntries> = memo();

/** All that the bench has to say of an entry. Kept as long as the entry's account, and what is known of its lots, stay. */
export const adviceOn = (job: Job): readonly Advice[] => {
  if (job.planned) return ask(job);
  const ofAccount = keptByMetals(kept, job.workspace, job.account, () => new Map());
  const known = ofAccount.get(job.entry);
  if (known) return known;
  const made = ask(job);
  ofAccount.set(job.entry, made);
  return made;
};

const ask = (job: Job): readonly Advice[] => {
  const all = TOPICS.flatMap((topic) => topic(job));
  return all.length > 0 ? all : NONE;
};

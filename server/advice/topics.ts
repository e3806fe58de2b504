/** All questions that the bench asks. A new one is a file beside this, and a line here. */
import { memo } from '../engine/accounts/memo';
import type { Entry } from '../engine/entry';
import { type KeptByMetals, keptByWeights } from '../workspace/by-metals';
import type { Workspace } from '../workspace/workspace';
import type { Advice, Topic } from './advice';
import { alloy } from './alloy';
import { inAquaRegia } from './aqua-regia';
import { asBefore } from './as-before';
import { chloride } from './chloride';
import { collector } from './collector';
import { crucible } from './crucible';
import { cupelBead } from './cupel-bead';
import { cupelHeats } from './cupel-heat';
import { cupelLead } from './cupel-lead';
import { cupelLoad } from './cupel-load';
import { cupelSigns } from './cupel-signs';
import { density } from './density';
import { driven } from './driven-off';
import { expectedLoss } from './expected-loss';
import { flux } from './flux';
import { gas } from './gas';
import { goldDropped } from './gold-back';
import { inquarting } from './inquart';
import type { Job } from './job';
import { leadCollected } from './lead-button';
import { meltingTimes } from './melting-time';
import { mercury } from './mercury';
import { missing } from './missing';
import { mould } from './mould';
import { noMetal } from './no-metal';
import { offTarget } from './off-target';
import { partWanted } from './part-wanted';
import { parting } from './parting';
import { pour } from './pour';
import { products } from './products';
import { sampling } from './sampling';
import { silverDropped } from './silver-back';
import { slag } from './slag';
import { slagAgain } from './slag-again';
import { noSuchDegree } from './slag-aim';
import { strangers } from './strangers';
import { sulphur } from './sulphur';
import { tooHeavy } from './too-heavy';

const TOPICS: readonly Topic[] = [
  missing,
  noMetal,
  cupelLead,
  cupelLoad,
  cupelHeats,
  cupelBead,
  cupelSigns,
  strangers,
  inquarting,
  parting,
  inAquaRegia,
  silverDropped,
  goldDropped,
  tooHeavy,
  alloy,
  partWanted,
  sulphur,
  chloride,
  collector,
  leadCollected,
  noSuchDegree,
  slagAgain,
  flux,
  slag,
  crucible,
  gas,
  mould,
  products,
  driven,
  asBefore,
  expectedLoss,
  offTarget,
  pour,
  meltingTimes,
  mercury,
  density,
  sampling,
];

const NONE: readonly Advice[] = [];

type OfEntries = Map<Entry, readonly Advice[]>;

const kept: KeptByMetals<OfEntries> = memo();

const keptOfPlans = new WeakMap<Workspace, OfEntries>();

/** A journal in which a plan is done is its own: nothing is handed on from it. */
const ofPlan = ({ workspace }: Job): OfEntries => {
  const known = keptOfPlans.get(workspace);
  if (known) return known;
  const made: OfEntries = new Map();
  keptOfPlans.set(workspace, made);
  return made;
};

/** All that the bench has to say of an entry; in short it is kept as long as the entry's account, and what is known of its lots, stay. */
export const adviceOn = (job: Job): readonly Advice[] => {
  if (job.inFull && !job.planned) return ask(job);
  const ofAccount = job.planned
    ? ofPlan(job)
    : keptByWeights(kept, job.workspace, job.account, (): OfEntries => new Map());
  const known = ofAccount.get(job.entry);
  if (known) return known;
  const all = ask(job);
  const made = job.inFull ? all : inShort(all);
  ofAccount.set(job.entry, made);
  return made;
};

const ask = (job: Job): readonly Advice[] => TOPICS.flatMap((topic) => topic(job));

/** What is amiss, and what has a word at the end of a line: the rest is for whoever asks for it. */
const inShort = (all: readonly Advice[]): readonly Advice[] => {
  const told = all.filter(({ label, wrong = [] }) => label !== undefined || wrong.length > 0);
  return told.length > 0 ? told : NONE;
};

/** What a plan still waits for: the figure that is not written, and what it would give. */
import type { Flow } from '../engine/entry';
import { targetOf } from '../engine/target';
import { listWords } from '../reports/words';
import { acidWritten } from './acid-of';
import type { Advice, Topic } from './advice';
import { drivenFrom } from './driven-off';
import { goldMeans, goldToDrop } from './gold-back';
import { chargedOf, contentsOf, type Job } from './job';
import { moltenOf } from './molten';
import { wantedPart } from './part-wanted';
import { dissolvedMetal, volumeOf } from './silver-back';
import { openAdds } from './smelt';
import { openAdditions } from './target';

export const missing: Topic = (job) => {
  const gives = job.planned ? GIVES.get(job.entry.verb) : undefined;
  if (gives === undefined) return [];
  const { flows, head } = job.entry;
  if (!flows.some(({ word }) => word === 'in'))
    return [
      waiting(head, undefined, 'Nothing goes in yet', `Write what goes in, such as \`in B 61 g\`, to have ${gives}.`),
    ];
  const waits = job.entry.verb === 'drop' ? ofSolution(job, gives) : ofCharge(job, gives);
  const isWeighed = job.step?.inputs.every(({ mass, volume }) => mass ?? volume) === true;
  return waits.length > 0 || !isWeighed ? waits : ofOpen(job);
};

/** What is worked out once the charge is known. */
const GIVES: ReadonlyMap<string, string> = new Map([
  ['melt', 'flux, crucible, mould, button and slag'],
  ['cast', 'crucible, mould and bar'],
  ['cupel', 'lead, cupel and bead'],
  ['part', 'acid, gold and silver'],
  ['dissolve', 'acid and solution'],
  ['drop', 'what to add, and what comes down'],
  ['blend', 'what they hold together'],
  ['roast', 'what it loses'],
  ['retort', 'what it loses'],
  ['burn', 'what it loses'],
  ['dry', 'what it loses'],
]);

const TOPIC = 'missing';

/** Lines of `add` whose amount no question of the bench answers: shown where it stays so. */
const ofOpen = (job: Job): readonly Advice[] =>
  openAdds(job.entry).map((flow) => ({
    topic: `${TOPIC} ${flow.place.start}`,
    at: flow.place,
    label: 'not reckoned: write how much',
    short: 'write how much',
    rank: 'extra',
    working: () => ({
      says: `How much ${flow.material!.name} is wanted here is not reckoned.`,
      assumed: [],
      todo: 'Write what you take, or take the line out: what comes of the charge is told then.',
    }),
  }));

const waiting = (at: Advice['at'], label: string | undefined, says: string, todo: string): Advice => ({
  topic: TOPIC,
  at,
  ...(label === undefined ? {} : { label }),
  rank: 'doubt',
  working: () => ({ says: `${says}.`, assumed: [], todo }),
});

const ofCharge = (job: Job, gives: string): readonly Advice[] => {
  // Of which lot how much is wanted for the target is worked out.
  if (wantedPart(job)) return [];
  const unweighed = knownLots(job).filter(({ mass }) => !mass);
  if (unweighed.length > 0)
    return [
      notWritten(
        unweighed.map(({ flow }) => flow),
        'weight',
        '61 g',
        gives,
      ),
    ];
  const { verb } = job.entry;
  if (verb === 'part' || verb === 'dissolve') return ofAcid(job);
  if (verb === 'cupel') return ofBead(job);
  if (verb === 'cast' || targetOf(job.entry)) return ofPour(job);
  return DRIVES.has(verb) ? ofFeed(job) : [];
};

/** What leaves a feed in the heat is told by its make; with the material that says it. */
const DRIVES: ReadonlyMap<string, string> = new Map([
  ['roast', 'sulphide-concentrate'],
  ['retort', 'amalgam'],
  ['burn', 'sweeps'],
]);

const ofFeed = (job: Job): readonly Advice[] => {
  if (drivenFrom(job)) return [];
  const [first] = knownLots(job);
  if (!first || (job.step?.added.length ?? 0) > 0) return [];
  const unknown = knownLots(job).filter(({ flow }) => !job.workspace.book.make(flow)?.material);
  const names = listWords((unknown.length > 0 ? unknown : [first]).map(({ flow }) => flow.lot!.name));
  const says =
    unknown.length > 0
      ? `What ${names} is made of is not known, so what leaves and what stays is only told as usual`
      : `Nothing in the make of ${names} is known to leave, so what stays is only told as usual`;
  const also = job.entry.verb === 'retort' ? ', or `expect Hg 60 %`' : '';
  return [
    waiting(
      first.flow.place,
      undefined,
      says,
      `Say it where it came in: \`material ${DRIVES.get(job.entry.verb)}\`${also}, or a material of your own in workshop.yaml with what it holds.`,
    ),
  ];
};

/** So much of the weight known leaves little open. */
const ALL_KNOWN = 0.95;

/** Room is told by weight alone; the heat of the pour is not. */
const ofPour = (job: Job): readonly Advice[] => {
  const [first] = knownLots(job);
  const charged = chargedOf(job, 'before');
  // How the metals that the plan leaves open share is told at its target.
  if (!first || !charged || moltenOf(job) || openAdditions(job).length > 0) return [];
  const known = [...charged.metals.values()].reduce((so, { best }) => so + best, 0);
  if (known > ALL_KNOWN * charged.grams.best)
    return [
      waiting(
        first.flow.place,
        undefined,
        'Of this alloy no liquidus is reckoned: that of gold, silver and copper is known',
        'Take the heat of the pour from who supplied the metal.',
      ),
    ];
  return [
    waiting(
      first.flow.place,
      undefined,
      'Not all that it holds is known, so its liquidus and the heat of the pour are not told',
      'Assay it, or write `expect Au 75 %, Ag 12.5 %, Cu 12.5 %` where it came in, to have them.',
    ),
  ];
};

/** Of a lot that nothing makes that is said, and no weight is asked. */
const knownLots = ({ step, workspace }: Job) =>
  (step?.inputs ?? []).filter(({ flow: { lot } }) => lot && (workspace.book.lot(lot.name)?.births.length ?? 0) > 0);

const notWritten = (lots: readonly Flow[], what: string, example: string, gives: string): Advice => {
  const names = listWords(lots.map(({ lot }) => lot!.name));
  return waiting(
    lots[0]!.place,
    `${what} not written`,
    `The ${what} of ${names} is not written`,
    `Write it where ${lots.length > 1 ? 'they come' : 'it comes'} in or behind \`in\`, as in \`in ${lots[0]!.lot!.name} ${example}\`, to have ${gives}.`,
  );
};

/** Acid is for silver and base metal: they have to be known. */
const ofAcid = (job: Job): readonly Advice[] => {
  const { verb, flows } = job.entry;
  const charged = chargedOf(job, 'before');
  if (!charged) return [];
  const [first] = flows.filter(({ word }) => word === 'in');
  if (verb === 'dissolve' && acidWritten(job).isMixed) return ofGold(charged.metals.has('Au'), job, first);
  const names = namesWithout(job, 'Ag');
  if (!charged.metals.has('Ag'))
    return [
      waiting(
        first!.place,
        'silver not known',
        `How much silver is in ${names} is not known`,
        `Assay it, or write \`expect Au 25 %, Ag 74 %\` where it came in, to have ${GIVES.get(verb)}.`,
      ),
    ];
  const hasAcid = flows.some(({ word }) => word === 'add');
  const gold = charged.metals.get('Au');
  if (verb === 'part' || hasAcid || (gold && gold.best <= 0.01 * charged.grams.best)) return [];
  return [
    waiting(
      job.entry.head,
      'acid not named',
      'Which acid it is dissolved in is not written',
      'Write `add nitric-acid ?` to have how much; nitric acid leaves gold. For gold write `add hydrochloric-acid ?` and `add nitric-acid ?`.',
    ),
  ];
};

/** Two acids together are for gold. */
const ofGold = (isKnown: boolean, job: Job, first: Flow | undefined): readonly Advice[] =>
  isKnown || !first
    ? []
    : [
        waiting(
          first.place,
          'gold not known',
          `How much gold is in ${namesWithout(job, 'Au')} is not known`,
          `Assay it, or write \`expect Au 90 %, Ag 4 %\` where it came in, to have ${GIVES.get(job.entry.verb)}.`,
        ),
      ];

const namesWithout = (job: Job, metal: string): string =>
  listWords(
    knownLots(job)
      .filter((input) => !contentsOf(job, input, 'before')?.metals.has(metal))
      .map(({ flow }) => flow.lot!.name),
  );

/** Lead is told by weight alone; the bead is not. */
const ofBead = (job: Job): readonly Advice[] => {
  const charged = chargedOf(job, 'before');
  if (!charged || charged.precious) return [];
  const [first] = job.entry.flows.filter(({ word }) => word === 'in');
  return [
    waiting(
      first!.place,
      undefined,
      'What it holds of gold and silver is not known, so the bead is not told',
      'Assay it, or write `expect Au 60 %, Ag 30 %` where it came in, to have the bead and a closer weight of lead.',
    ),
  ];
};

/** Copper or salt is for silver in a volume, copperas and its like for gold. */
const ofSolution = (job: Job, gives: string): readonly Advice[] => {
  const lots = knownLots(job);
  if (lots.length === 0 || goldToDrop(job) || (dissolvedMetal(job, 'Ag') && !goldMeans(job))) return [];
  const solid = lots.find(({ mass }) => mass !== undefined);
  if (solid) {
    const name = solid.flow.lot!.name;
    return [
      waiting(
        solid.flow.place,
        'no solution',
        `${name} is weighed, and metal is brought down from a solution`,
        `Dissolve it first, and write the volume that comes of it, as in \`dissolve V1, in ${name}, out L 0.9 L solution\`.`,
      ),
    ];
  }
  const unmeasured = lots.filter((input) => !volumeOf(job, input)).map(({ flow }) => flow);
  if (unmeasured.length > 0) return [notWritten(unmeasured, 'volume', '0.9 L', gives)];
  const names = listWords(lots.map(({ flow }) => flow.lot!.name));
  const [metal, example] = goldMeans(job) ? ['gold', 'Au 90 %'] : ['silver', 'Ag 90 %'];
  return [
    waiting(
      lots[0]!.flow.place,
      `${metal} not known`,
      `How much ${metal} is in ${names} is not known`,
      `Assay what was dissolved in it, or write \`expect ${example}\` where that came in, to have ${gives}.`,
    ),
  ];
};

/** Cupellation: base metal gone, and from the bead backwards what gold and silver there was; what a weighed cupel gained. */

import { BEAD_TOPIC, silverKept, UNFINISHED } from '../../advice/cupel-bead';
import { jobOf } from '../../advice/job';
import { adviceOn } from '../../advice/topics';
import { rangeWords, workingMarkdown } from '../../advice/words';
import { fromMeasured, sum, times } from '../../engine/accounts/inexact';
import { PRECIOUS } from '../../engine/accounts/known';
import { between, type Estimate } from '../../engine/bench/result';
import type { FlowWeight, Step } from '../../engine/book';
import { isMetalKind } from '../../engine/charge';
import type { Entry, Gear } from '../../engine/entry';
import { findMaterial } from '../../engine/shelf';
import { gained } from '../../engine/weigh';
import type { Workshop } from '../../engine/workshop';
import { decimal } from '../../quantity/decimal';
import { add, type Measured, scale, subtract } from '../../quantity/measured';
import { showMass, showQuantity } from '../../quantity/show';
import { fitting, shareWords, sizeOf } from '../../reports/figures';
import { asMeasured } from '../../reports/fine';
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { type SumRow, sumLines } from '../../reports/sum';
import { chargeOf } from '../../reports/wording';
import { flowWords } from '../../reports/words';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { balanceMarkdown } from '../balance';
import { type Draft, RANK, type Subject } from './draft';

/** Of the whole entry; none where its balance has something graver to say. */
export const cupelDrafts = ({ workspace, account, entry }: Subject): Draft[] => {
  const { step } = account;
  if (entry.verb !== 'cupel' || !step) return [];
  const found = removedIn(step, workspace);
  const isInDoubt = step.verdict === 'gain' || step.verdict === 'high' || step.verdict === 'open';
  if (!found || isInDoubt) return [];
  return [
    {
      at: entry.head,
      label: isUnfinished(workspace, entry) ? unfinishedLabel(found) : labelOf(found),
      tooltip: (now) => tooltipOf(found, step, now),
      family: 'cupel',
      rank: RANK.balance,
    },
  ];
};

interface Removed {
  /** What went in as lots, without the shelf. */
  readonly charged: Measured;
  readonly beads: Measured;
  /** Gold and silver added from the shelf, as for inquarting, less what the cupel keeps of them. */
  readonly noble: Measured | undefined;
  /** That share of them, 0 to 1. */
  readonly kept: number;
  /** Gold plus silver of the beads by their assay; none where it is their weight. */
  readonly assayed: Measured | undefined;
  /** Gold plus silver that the lots held before, as far as the bead tells. */
  readonly before: Measured;
  readonly gone: Measured;
}

const removedIn = (step: Step, workspace: Workspace): Removed | undefined => {
  const metal = step.outputs.filter(({ flow }) => isMetalKind(flow.kind));
  const beads = totalOf(metal);
  const charged = totalOf(step.inputs);
  const added = step.added.map((flow) => nobleIn(flow, workspace.workshop));
  if (!beads || !charged?.value.greaterThan(0) || added.includes('unknown')) return undefined;
  const nobles = added.filter((mass) => mass !== undefined && mass !== 'unknown');
  // What the cupel kept of them is no base metal of the button; nor is more of it gone than is missing.
  const whole = nobles.length > 0 ? add(...nobles) : undefined;
  const short = whole ? add(charged, whole).value.minus(beads.value).div(whole.value).toNumber() : 0;
  const kept = whole ? Math.min(keptIn(step, workspace), Math.max(0, short)) : 0;
  const noble = kept > 0 ? scale(whole!, decimal(1 - kept)) : whole;
  const assayed = preciousIn(metal, workspace);
  const held = assayed ?? beads;
  const before = noble ? subtract(held, noble) : held;
  const after = noble ? subtract(beads, noble) : beads;
  return { charged, beads, noble, kept, assayed, before, gone: subtract(charged, after) };
};

const keptIn = ({ entry }: Step, workspace: Workspace): number => {
  const job = workspace.whole ? jobOf(workspace, entry) : undefined;
  return job ? silverKept(job) : 0;
};

/** By the assays of all beads, which may say that lead or copper is left in them. */
const preciousIn = (beads: readonly FlowWeight[], workspace: Workspace): Measured | undefined => {
  if (!workspace.whole) return undefined;
  const { metals } = accountsOf(workspace);
  const held = beads.map(({ flow, mass }) => {
    const segment = metals.lineage.segment(flow);
    const both = segment && metals.own(segment).get(PRECIOUS);
    return mass && both?.share && both.ground === 'assayed' ? times(fromMeasured(mass), both.share) : undefined;
  });
  return held.every((one) => one !== undefined) ? asMeasured(sum(held)) : undefined;
};

/** All masses together; none where one of them is not known. */
const totalOf = (flows: readonly FlowWeight[]): Measured | undefined => {
  const masses = flows.flatMap(({ mass }) => mass ?? []);
  return masses.length > 0 && masses.length === flows.length ? add(...masses) : undefined;
};

/** Gold and silver of what was added from the shelf; `unknown` where they cannot be told. */
const nobleIn = ({ flow, mass }: FlowWeight, workshop: Workshop): Measured | 'unknown' | undefined => {
  const material = flow.material && findMaterial(workshop, flow.material.name);
  if (!material) return 'unknown';
  const share = material.composition
    .filter(({ what }) => what === 'Au' || what === 'Ag')
    .reduce((sum, { fraction }) => sum + fraction, 0);
  if (share === 0) return undefined;
  if (!mass) return 'unknown';
  // Fine metal keeps the figure as it was read.
  return share === 1 ? mass : scale(mass, decimal(share));
};

const labelOf = ({ charged, before, gone }: Removed): string => {
  const size = showMass(sizeOf(gone));
  if (gone.value.isNegative()) return fitting(`bead ${size} heavier than what went in`, `bead ${size} heavier`);
  const share = shareWords(before, charged);
  return fitting(`${size} base metal gone, Au+Ag ${share}`, `${size} gone, Au+Ag ${share}`);
};

/** By the assays of the charge the bead holds lead or base metal: its weight is no gold and silver. */
const isUnfinished = (workspace: Workspace, entry: Entry): boolean => {
  const job = jobOf(workspace, entry);
  return (
    workspace.whole &&
    job !== undefined &&
    adviceOn(job).some(({ wrong = [] }) => wrong.some(({ code }) => code === UNFINISHED))
  );
};

const unfinishedLabel = ({ gone }: Removed): string => `${showMass(sizeOf(gone))} gone, the bead is not finished`;

const tooltipOf = (found: Removed, step: Step, workspace: Subject['workspace']): string => {
  const { charged, beads, noble, kept, assayed, before, gone } = found;
  const rows: SumRow[] = [
    ...step.inputs.map(({ flow, mass }) => ({ sign: '+', word: `in ${flowWords(flow)}`, mass }) as const),
    ...(noble
      ? [
          {
            sign: '+',
            word: kept > 0 ? 'gold and silver added, less what the cupel keeps' : 'gold and silver added',
            mass: noble,
          } as const,
        ]
      : []),
    { sign: '-', word: 'bead', mass: beads },
    { sign: '=', word: 'base metal gone', mass: gone },
  ];
  const says = gone.value.isNegative()
    ? 'The bead is heavier than what went in: lead was left in it, or a weight is wrong. Drive it again and weigh once more.'
    : `Gold plus silver before, reckoned backwards from the bead${assayed ? `, which holds ${showQuantity(assayed, 'g')} of them by its assay` : ''}: ${showQuantity(before, 'g')}, ${shareWords(before, charged)} of what went in. What the cupel drank of them is not counted${kept > 0 ? `, but ${(100 * kept).toFixed(1)} % of what was added` : ''}.`;
  const balance = step.absorbed ? balanceMarkdown(step, workspace) : undefined;
  return paragraphs(escapeMarkdown(says), fenced(sumLines(rows)), drunkMarkdown(workspace, step), balance);
};

/** What the bench says of the gold and silver that the cupel drank. */
const drunkMarkdown = (workspace: Subject['workspace'], { entry }: Step): string | undefined => {
  const job = jobOf(workspace, entry, true);
  const told = job && adviceOn(job).find(({ topic }) => topic === BEAD_TOPIC);
  return told && workingMarkdown(told.working());
};

/** What a vessel that was weighed before and after has taken up, on its own line. */
export const vesselDrafts = ({ workspace, account, entry }: Subject): Draft[] =>
  entry.gear.flatMap((gear) => {
    const gain = gainOf(gear, workspace.workshop);
    if (!gain) return [];
    const gone = account.step && metalGone(account.step);
    const size = showMass(sizeOf(gain));
    const verb = gain.value.isNegative() ? 'lost' : 'gained';
    const expected = gone && expectedGain(account.step!, gone);
    const label = gone
      ? fitting(
          ...(expected ? [`${size} gained, ${rangeWords(expected, 'g')} expected`] : []),
          `${size} ${verb}, ${showMass(gone)} metal gone`,
          `${size} ${verb}`,
        )
      : `${size} ${verb}`;
    const tooltip = (): string => vesselTooltip(gain, gone, expected);
    return [{ at: gear.item.place, label, tooltip, family: 'cupel', rank: RANK.weight }];
  });

const gainOf = ({ word, item, said }: Gear, workshop: Workshop): Measured | undefined => {
  if (!said.before || !said.after || (word !== 'cupel-body' && word !== 'crucible')) return undefined;
  return gained(said, workshop, item.name);
};

/** Metal that is no longer there, lead included. */
const metalGone = (step: Step): Measured | undefined => {
  const beads = totalOf(step.outputs.filter(({ flow }) => isMetalKind(flow.kind)));
  const all = [...step.inputs, ...step.added];
  if (step.entry.verb !== 'cupel' || !beads || all.some(({ mass }) => !mass)) return undefined;
  const gone = subtract(chargeOf(step), beads);
  return gone.value.greaterThan(0) ? gone : undefined;
};

/** What the cupel should have taken up: the metal that is gone, less what fumes at the most, to all of it as oxides. */
const expectedGain = ({ usual, absorbed }: Step, gone: Measured): Estimate | undefined => {
  if (!usual || !absorbed) return undefined;
  const metal = gone.value.toNumber();
  return between(Math.max(0, metal - usual.high), metal - usual.low);
};

const vesselTooltip = (gain: Measured, gone: Measured | undefined, expected: Estimate | undefined): string => {
  if (!gone) return escapeMarkdown(`The vessel weighs ${showQuantity(gain, 'g')} more than before.`);
  return escapeMarkdown(
    `The cupel gained ${showQuantity(gain, 'g')}; ${showQuantity(gone, 'g')} of metal left the charge.${expected ? ` That makes ${rangeWords(expected, 'g')} in the cupel:` : ''} litharge weighs 1.08 times its lead, copper oxide 1.25 times its copper (IUPAC atomic weights); up to 15 % leaves as fume (from memory).`,
  );
};

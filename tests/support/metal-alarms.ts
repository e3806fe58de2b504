/** Balances of metal in made journals: how often an honest one is said not to close, and how often a wrong assay is found. */
import { spread } from '../../server/engine/accounts/inexact';
import { findingsOf } from '../../server/rules/findings';
import { accountsOf } from '../../server/workspace/accounts';
import { WORKSHOP_FILE } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { HISTORY_WORKSHOP, type MadeJournal, madeJournal } from './histories';
import { seeded } from './random';
import { workspaceOf } from './workspace';

const PAGE = 'page.melt';

const workspaceWith = ({ text }: MadeJournal): Workspace =>
  workspaceOf({ [PAGE]: text, [WORKSHOP_FILE]: HISTORY_WORKSHOP });

const codesOf = (workspace: Workspace): ReadonlySet<string> =>
  new Set(findingsOf(workspace, PAGE, 'all').map(({ code }) => code));

const BALANCE_CODES: readonly string[] = ['fine-missing', 'fine-gained'];

export interface MetalAlarms {
  /** Balances of metal of steps whose products were assayed, on no guess; and of them beyond two and three standard uncertainties. */
  readonly balances: number;
  readonly beyond2: number;
  readonly beyond3: number;
  /** Histories with a finding of a metal balance, and of a suspect reading or one of these. */
  readonly told: number;
  readonly orSuspect: number;
}

export const metalAlarms = (count: number, seed: number, steps: number): MetalAlarms => {
  const so = { balances: 0, beyond2: 0, beyond3: 0, told: 0, orSuspect: 0 };
  for (let each = 0; each < count; each++) {
    const workspace = workspaceWith(madeJournal(seed + each, steps));
    for (const times of timesOf(workspace)) {
      so.balances++;
      if (times > 2) so.beyond2++;
      if (times > 3) so.beyond3++;
    }
    const codes = codesOf(workspace);
    const isTold = BALANCE_CODES.some((code) => codes.has(code));
    if (isTold) so.told++;
    if (isTold || codes.has('suspect-reading')) so.orSuspect++;
  }
  return so;
};

/** Of each balance that is judged: what is unaccounted for, in standard uncertainties. */
const timesOf = (workspace: Workspace): readonly number[] => {
  const { balances, metals } = accountsOf(workspace);
  return workspace.pages.get(PAGE)!.entries.flatMap((entry) => {
    const step = workspace.book.step(entry);
    const isAssayed = step?.outputs.some(({ flow }) => {
      const segment = metals.lineage.segment(flow);
      return segment !== undefined && metals.own(segment).size > 0;
    });
    if (!step || !isAssayed || step.verdict === 'gain' || step.verdict === 'high') return [];
    return balances(step)
      .filter(({ ground }) => ground !== 'guessed')
      .map(({ unaccounted }) => Math.abs(unaccounted.value) / spread(unaccounted));
  });
};

export interface MetalFound {
  readonly trials: number;
  /** By a metal balance; by any finding at all. */
  readonly byBalance: number;
  readonly byAny: number;
}

/** One assay figure of each history off by so many times its uncertainty, in histories that have no finding without it. */
export const metalFound = (count: number, seed: number, times: number, steps: number): MetalFound => {
  const random = seeded(seed);
  const so = { trials: 0, byBalance: 0, byAny: 0 };
  for (let each = 0; so.trials < count; each++) {
    const clean = madeJournal(seed + each, steps);
    const assays = clean.readings.flatMap(({ kind, u }, index) => (kind === 'fineness' ? [{ index, u }] : []));
    if (assays.length === 0) continue;
    const { index, u } = random.pick(assays);
    const error = (random.next() < 0.5 ? -1 : 1) * times * u;
    const before = codesOf(workspaceWith(clean));
    const after = codesOf(workspaceWith(madeJournal(seed + each, steps, { index, error })));
    if ([...before].some((code) => BALANCE_CODES.includes(code) || code === 'suspect-reading')) continue;
    so.trials++;
    if (BALANCE_CODES.some((code) => after.has(code))) so.byBalance++;
    if ([...after].some((code) => !before.has(code))) so.byAny++;
  }
  return so;
};

/** What the rules on connected histories say, kept with each history. */
import type { History } from '../engine/accounts/history';
import type { Account } from '../engine/book';
import type { Workshop } from '../engine/workshop';
import type { Section } from '../syntax/tree';
import { accountsOf } from '../workspace/accounts';
import { historyIn } from '../workspace/histories';
import type { Workspace } from '../workspace/workspace';
import { RULES } from './catalogue';
import type { HistoryMatch, Look, Rule } from './rule';

const historyRules = RULES.filter((rule) => rule.history);

export const HISTORY_CODES: ReadonlySet<string> = new Set(historyRules.map(({ code }) => code));
/** Longer ones take more than a moment: they are left to the command line. */
export const MOST_STEPS = 200;

interface OfHistory {
  readonly workshop: Workshop;
  readonly matches: readonly { readonly rule: Rule; readonly match: HistoryMatch }[];
}

const historyMatches = new WeakMap<History, OfHistory>();
export const matchesOf = (workspace: Workspace, history: History, look: Look): OfHistory['matches'] => {
  const known = historyMatches.get(history);
  if (known?.workshop === look.workshop) return known.matches;
  const accounts = accountsOf(workspace);
  const matches = historyRules.flatMap((rule) =>
    [...rule.history!({ history, accounts, look })].map((match) => ({ rule, match })),
  );
  historyMatches.set(history, { workshop: look.workshop, matches });
  return matches;
};

/** Whether all that hangs together with these lots suspects a reading in an entry that speaks of one of them. */
export const isSuspected = (workspace: Workspace, { lots }: Account, look: Look): boolean => {
  const all = new Set([...lots.keys()].flatMap((lot) => historyIn(workspace, lot) ?? []));
  return [...all]
    .flatMap((history) => matchesOf(workspace, history, look))
    .flatMap(({ match: { place, causes } }) => [place, ...causes])
    .some(({ anchor }) => {
      const entry = workspace.pages.get(anchor.file)?.bySection.get(anchor as Section);
      return entry !== undefined && [...workspace.book.account(entry).lots.keys()].some((lot) => lots.has(lot));
    });
};

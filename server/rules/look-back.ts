/** Rules about the record looked back on: worked out once for a workspace, and found again by the section that they stand in. */
import type { Section } from '../syntax/tree';
import { accountsOf } from '../workspace/accounts';
import { longViewOf } from '../workspace/long-view';
import type { Workspace } from '../workspace/workspace';
import { RULES } from './catalogue';
import type { HistoryMatch, Rule } from './rule';

export interface LookBackMatch {
  readonly rule: Rule;
  readonly match: HistoryMatch;
}

const lookBackRules = RULES.filter(({ lookBack }) => lookBack);

/** Told by the record alone. */
export const LOOK_BACK_CODES: ReadonlySet<string> = new Set(lookBackRules.map(({ code }) => code));

type BySection = ReadonlyMap<object, readonly LookBackMatch[]>;

interface Kept {
  plain?: BySection;
  metals?: BySection;
}

const kept = new WeakMap<Workspace, Kept>();

/** Of one section; `withMetals` also by rules that ask for the metals of all steps, which takes its time. None while pages are to come. */
export const lookBackMatches = (
  workspace: Workspace,
  section: Section,
  withMetals: boolean,
): readonly LookBackMatch[] => {
  if (!workspace.whole) return NONE;
  const known = kept.get(workspace) ?? {};
  kept.set(workspace, known);
  known.plain ??= matchesOf(
    workspace,
    lookBackRules.filter((rule) => !rule.asksForMetals),
  );
  if (withMetals) {
    known.metals ??= matchesOf(
      workspace,
      lookBackRules.filter((rule) => rule.asksForMetals),
    );
  }
  return [...(known.plain.get(section) ?? NONE), ...((withMetals && known.metals?.get(section)) || NONE)];
};

const NONE: readonly LookBackMatch[] = [];

const matchesOf = (workspace: Workspace, rules: readonly Rule[]): BySection => {
  const { book, workshop } = workspace;
  const subject = {
    view: longViewOf(workspace),
    accounts: accountsOf(workspace),
    look: { book, workshop },
  };
  const bySection = new Map<object, LookBackMatch[]>();
  for (const rule of rules) {
    for (const match of rule.lookBack!(subject)) {
      const { anchor } = match.place;
      const all = bySection.get(anchor);
      if (all) all.push({ rule, match });
      else bySection.set(anchor, [{ rule, match }]);
    }
  }
  return bySection;
};

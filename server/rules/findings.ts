/**
 * All that is wrong, by file and by entry. Results are kept with the values that they rest on (a section, an account, a lot's story), which
 * are made anew when anything below them changes: so nothing is ever stale, and a keystroke costs only what it changed.
 */

import { placeInPlan, planBefore, planOf } from '../advice/plans';
import { memo } from '../engine/accounts/memo';
import type { Account, LotStory } from '../engine/book';
import type { Entry } from '../engine/entry';
import { type Accepted, acceptedIn } from '../journal/accepted';
import type { JournalPage } from '../journal/page';
import { recordOf } from '../record/breaks';
import { draftOf } from '../record/draft';
import { isSeal } from '../record/periods';
import { fileStatesOf } from '../record/proofs';
import type { Section } from '../syntax/tree';
import { type Place, placeIn } from '../text/place';
import { overlaps } from '../text/span';
import { accountsOf } from '../workspace/accounts';
import { type KeptByMetals, keptByMetals } from '../workspace/by-metals';
import { historyIn } from '../workspace/histories';
import { locate, type Workspace } from '../workspace/workspace';
import { wrongsOf } from './bench';
import { capped } from './capped';
import { RULES } from './catalogue';
import { withCrucible } from './crucible-before';
import { isSuspected, MOST_STEPS, matchesOf } from './history-matches';
import { withLeftBehind } from './left-behind';
import { lookBackMatches } from './look-back';
import { mergeMarker } from './merge-marker';
import { mergeMatch } from './merge-words';
import { nameUsedTwice, twoPlans } from './name-used-twice';
import { nearName } from './near-name';
import { plansInACircle } from './plans-in-a-circle';
import { withReadings } from './read-since';
import { type Finding, finding, type Look } from './rule';
import { isTooLate, silence } from './silence';
import { unknownLot } from './unknown-lot';

const byCode = new Map(RULES.map((rule) => [rule.code, rule]));

const entryRules = RULES.filter((rule) => rule.entry);
const lotRules = RULES.filter((rule) => rule.lot);

const pageRules = RULES.filter((rule) => rule.page);

/** Whether connected histories are looked at as a whole: not while somebody types, and the longest not in the editor. */
export type Histories = 'none' | 'short' | 'all';

/** Every finding of a file, in the order of the text. */
export const findingsOf = (workspace: Workspace, file: string, histories: Histories = 'all'): readonly Finding[] => {
  const looking = lookingThrough(workspace, file, histories);
  for (;;) {
    const { done, value } = looking.next();
    if (done) return value;
  }
};

/** The same a section at a time, for who must let others in meanwhile. */
export function* lookingThrough(
  workspace: Workspace,
  file: string,
  histories: Histories,
): Generator<undefined, readonly Finding[], undefined> {
  if (workspace.workshopFile?.file === file) return workshopFindings(workspace);
  const page = workspace.pages.get(file);
  if (!page) return [];
  const found: Finding[] = [];
  for (const section of page.page.sections) {
    found.push(...sectionFindings(workspace, page, section, histories));
    yield;
  }
  found.push(...ofPage(page));
  const start = (of: Finding): number => locate(workspace, of.place).start;
  return found.sort((a, b) => start(a) - start(b));
}

/** Those that stand in one section of a page, in the order of the text; without whole histories. */
export const findingsIn = (workspace: Workspace, page: JournalPage, section: Section): readonly Finding[] =>
  [
    ...sectionFindings(workspace, page, section, 'none'),
    ...ofPage(page).filter(({ place }) => place.anchor === section),
  ].sort((a, b) => a.place.start - b.place.start);

const ofPage = (page: JournalPage): readonly Finding[] =>
  keptFor(pageFindings, page, () =>
    pageRules.flatMap((rule) => [...rule.page!(page)].map((match) => finding(rule, match))),
  );

const pageFindings = new WeakMap<JournalPage, readonly Finding[]>();

const formFindings = new WeakMap<Section, readonly Finding[]>();
const accountFindings = new WeakMap<Account, readonly Finding[]>();

const lotFindings = new WeakMap<LotStory, readonly Finding[]>();

const keptFor = <Key extends object>(
  kept: WeakMap<Key, readonly Finding[]>,
  key: Key,
  make: () => readonly Finding[],
): readonly Finding[] => {
  const known = kept.get(key);
  if (known) return known;
  const list = make();
  const made = list.length > 0 ? list : NONE;
  kept.set(key, made);
  return made;
};

const NONE: readonly Finding[] = [];

/** What is said of one section: a day, an entry, a block of merge markers. */
export const sectionFindings = (
  workspace: Workspace,
  page: JournalPage,
  section: Section,
  histories: Histories,
): readonly Finding[] => {
  const entry = page.bySection.get(section);
  if (entry) return entryFindings(workspace, entry, histories);
  return capped([...silence(ofFormOrMerge(workspace, section), [], false), ...ofRecord(workspace, section, undefined)]);
};

/** Every finding that stands in an entry, its accepted ones taken out. */
export const entryFindings = (
  workspace: Workspace,
  entry: Entry,
  histories: Histories = 'none',
): readonly Finding[] => {
  const section = entry.anchor as Section;
  if (entry.prefix === 'plan')
    return capped(silence([...ofForm(section), ...ofPlan(workspace, entry)], acceptedIn(section), true));
  const look: Look = { workshop: workspace.workshop, book: workspace.book };
  const account = workspace.book.account(entry);
  const own = [
    ...ofAccount(account, look),
    ...[...account.lots.values()].flatMap((story) => ofLot(story, look)),
    ...ofMetals(workspace, account, look),
  ].filter(({ place }) => place.anchor === section);
  const computed = [...own, ...ofOtherParts(workspace, account, look, section).filter((one) => !isAmong(one, own))];
  const all = [...ofForm(section), ...(histories === 'none' ? computed : lookedBack(workspace, account, computed))];
  const ofHistory =
    histories === 'none'
      ? NONE
      : [
          ...ofHistories(workspace, account, look, histories, section),
          ...ofLookingBack(workspace, account, look, histories, section),
        ];
  const kept = silence([...all, ...ofHistory], acceptedIn(section), histories === 'all' && workspace.whole);
  const told = histories === 'none' ? kept : withLeftBehind(workspace, entry, kept);
  return capped([
    ...told.filter(({ code }) => !isTooLate(workspace, entry, byCode.get(code)!)),
    ...ofRecord(workspace, section, entry),
  ]);
};

/** What stands on other pages and tells where to look. */
const lookedBack = (workspace: Workspace, account: Account, findings: readonly Finding[]): readonly Finding[] =>
  withReadings(workspace, account.entry, withCrucible(workspace, account, findings));

const ofAccount = (account: Account, look: Look): readonly Finding[] =>
  keptFor(accountFindings, account, () =>
    entryRules.flatMap((rule) => [...rule.entry!(account, look)].map((match) => finding(rule, match))),
  );

/** What is told of a step at its first part may stand in a later one, or in a correction of it. */
const ofOtherParts = (workspace: Workspace, { parts }: Account, look: Look, section: Section): readonly Finding[] =>
  parts
    .flatMap(({ anchor }) => {
      const other = anchor === section ? undefined : workspace.pages.get(anchor.file)?.bySection.get(anchor as Section);
      const account = other && workspace.book.account(other);
      return account ? [...ofAccount(account, look), ...ofMetals(workspace, account, look)] : NONE;
    })
    .filter(({ place }) => place.anchor === section);

const isAmong = (one: Finding, list: readonly Finding[]): boolean =>
  list.some(({ code, place, says }) => code === one.code && says === one.says && overlaps(place, one.place));

const recordRules = RULES.filter((rule) => rule.record);

/** A comment is outside of a seal: it silences nothing that a seal says. */
const ofRecord = (workspace: Workspace, section: Section, entry: Entry | undefined): readonly Finding[] => {
  if (!workspace.whole) return NONE;
  const breaks = recordOf(workspace).breaks.get(section) ?? [];
  const files = entry ? fileStatesOf(workspace, entry) : [];
  if (breaks.length === 0 && files.length === 0 && !(entry && isSeal(entry))) return NONE;
  const { remembered } = workspace;
  const written = () => draftOf(workspace, entry?.ofDate ?? '');
  const subject = { section, entry, breaks, files, remembered, written };
  return recordRules.flatMap((rule) => [...rule.record!(subject)].map((match) => finding(rule, match)));
};

const planRules = RULES.filter((rule) => rule.plan);

const PLAN_CODES: ReadonlySet<string> = new Set(RULES.filter(({ ofPlans }) => ofPlans).map(({ code }) => code));

/** What would be wrong if it were done so; at the lines of the plan. */
const ofPlan = (workspace: Workspace, entry: Entry): readonly Finding[] => [
  ...(workspace.whole ? sameName(workspace, entry) : NONE),
  ...asIfDone(workspace, entry),
];

const sameName = (workspace: Workspace, entry: Entry): readonly Finding[] => {
  const before = entry.name && planBefore(workspace, entry);
  return before ? [finding(nameUsedTwice, twoPlans(entry.name!, entry.verb, before))] : NONE;
};

const asIfDone = (workspace: Workspace, entry: Entry): readonly Finding[] => {
  const plan = workspace.whole ? planOf(workspace, entry) : undefined;
  if (!plan) return NONE;
  const found = entryFindings(plan.job.workspace, plan.job.entry).filter(({ code }) => PLAN_CODES.has(code));
  const look: Look = { workshop: workspace.workshop, book: workspace.book };
  const near = [...nearName.entry!(workspace.book.account(entry), look)].map((match) => finding(nearName, match));
  const here = planRules.flatMap((rule) => [...rule.plan!(entry, workspace)].map((match) => finding(rule, match)));
  const told = found.flatMap(({ fixes: _, ...one }) => {
    const place = placeInPlan(plan, one.place);
    // What plans that wait for each other are to make is made by none of them, or too late.
    if (here.some(({ code, place: other }) => code === plansInACircle.code && overlaps(other, place))) return [];
    const meant = one.code === unknownLot.code && near.find((other) => overlaps(other.place, place));
    return meant || { ...one, place };
  });
  return here.length > 0 ? [...told, ...here] : told;
};

/** Two sides say more than that there are two. */
const ofFormOrMerge = (workspace: Workspace, section: Section): readonly Finding[] => {
  const match = section.kind === 'conflict' ? mergeMatch(workspace, section) : undefined;
  return match ? [finding(mergeMarker, match)] : ofForm(section);
};

const ofForm = (section: Section): readonly Finding[] =>
  keptFor(formFindings, section, () =>
    section.problems.map((problem) => {
      const rule = byCode.get(problem.code)!;
      const said = rule.problem!(problem, section);
      return finding(rule, { place: placeIn(section, problem), ...said });
    }),
  );

const ofLot = (story: LotStory, look: Look): readonly Finding[] =>
  keptFor(lotFindings, story, () =>
    lotRules.flatMap((rule) => [...rule.lot!(story, look)].map((match) => finding(rule, match))),
  );

const metalRules = RULES.filter((rule) => rule.metal);

const metalFindings: KeptByMetals<readonly Finding[]> = memo();

/** What is known of a lot may change with any page, while its entries' accounts stay. */
const ofMetals = (workspace: Workspace, account: Account, look: Look): readonly Finding[] => {
  const { entry: written, parts } = account;
  if (!workspace.whole || written.broken) return NONE;
  // A price speaks of no lot, and is held against the prices before it.
  if (account.lots.size === 0 && written.verb !== 'quote') return NONE;
  if (written.prefix && written.prefix !== 'more') return NONE;
  return keptByMetals(metalFindings, workspace, account, () => {
    const accounts = accountsOf(workspace);
    const entry = parts.find(({ anchor }) => anchor === written.anchor) ?? written;
    const subject = { workspace, account, entry, accounts, look };
    const list = [
      ...metalRules.flatMap((rule) => [...rule.metal!(subject)].map((match) => finding(rule, match))),
      ...wrongsOf(workspace, entry).map(({ code, ...match }) => finding(byCode.get(code)!, match)),
    ];
    return list.length > 0 ? list : NONE;
  });
};

/** One cause is told once: nothing, where anything else is wrong in an entry in which the cause may lie. */
const ofHistories = (
  workspace: Workspace,
  account: Account,
  look: Look,
  histories: Histories,
  section: Section,
): readonly Finding[] => {
  if (!workspace.whole || account.lots.size === 0) return NONE;
  const all = new Set([...account.lots.keys()].flatMap((lot) => historyIn(workspace, lot) ?? []));
  return [...all]
    .filter(({ steps }) => histories === 'all' || steps.length <= MOST_STEPS)
    .flatMap((history) => matchesOf(workspace, history, look))
    .filter(({ match }) => match.place.anchor === section && !match.causes.some((place) => isTold(workspace, place)))
    .map(({ rule, match: { causes: _, ...match } }) => finding(rule, match));
};

/** What the record tells when it is looked back on; of metals not where a reading of the same lots is suspected already. */
const ofLookingBack = (
  workspace: Workspace,
  account: Account,
  look: Look,
  histories: Histories,
  section: Section,
): readonly Finding[] =>
  lookBackMatches(workspace, section, histories === 'all')
    .filter(({ match }) => !match.causes.some((place) => isTold(workspace, place)))
    .filter(({ rule }) => !rule.asksForMetals || !isSuspected(workspace, account, look))
    .map(({ rule, match: { causes: _, ...match } }) => finding(rule, match));

const isTold = (workspace: Workspace, { anchor }: Place): boolean => {
  const entry = workspace.pages.get(anchor.file)?.bySection.get(anchor as Section);
  if (!entry) return false;
  const account = workspace.book.account(entry);
  const parts = [entry, ...account.parts.filter((part) => part.anchor !== entry.anchor)];
  return parts.some((part) => {
    const written = workspace.pages.get(part.anchor.file)?.bySection.get(part.anchor as Section);
    return written !== undefined && entryFindings(workspace, written).some(({ severity }) => severity !== 'hint');
  });
};

const workshopFindings = (workspace: Workspace): readonly Finding[] =>
  (workspace.workshopFile?.problems ?? []).map((problem) => ({ atOnce: false, ...problem }));

/** What has been accepted in a file, for reports. */
export const acceptedOf = (page: JournalPage): readonly Accepted[] => page.page.sections.flatMap(acceptedIn);

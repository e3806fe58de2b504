/** Computed figures at the ends of lines: one to a line, the answer first, the sum behind it in the tooltip. */
import { memo } from '../engine/accounts/memo';
import type { Account } from '../engine/book';
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import { LONGEST_LABEL } from '../reports/figures';
import { escapeMarkdown } from '../reports/markdown';
import type { Section } from '../syntax/tree';
import { lean } from '../text/lists';
import type { Place } from '../text/place';
import type { Span } from '../text/span';
import { type KeptByMetals, keptByMetals } from '../workspace/by-metals';
import type { Workspace } from '../workspace/workspace';
import { markDoubt } from './doubt';
import { balanceDrafts } from './hints/balance';
import { benchDrafts } from './hints/bench';
import { cautionDrafts } from './hints/caution';
import { chargeDrafts } from './hints/charge';
import { correctedDrafts } from './hints/corrected';
import { cupelDrafts, vesselDrafts } from './hints/cupel';
import { type Draft, type HintFamily, isWanted, type Subject, type WantedHints } from './hints/draft';
import { fineDrafts } from './hints/fine';
import { handoverDrafts } from './hints/handover';
import { planHints } from './hints/plan';
import { receiveDrafts } from './hints/receive';
import { sellingDrafts } from './hints/selling';
import { solvedDrafts } from './hints/solved';
import { weightDrafts } from './hints/weights';

export { HINT_LEVELS, type HintFamily, type HintLevel, type WantedHints } from './hints/draft';

export interface Hint {
  /** The end of its line, in the file's text. */
  readonly offset: number;
  /** At most 40 characters, the answer first; `~` marks what rests on a guess. */
  readonly label: string;
  /** Markdown, made when asked for: the sum line by line, then what it rests on, then what to do. */
  readonly tooltip: () => string;
  readonly family: HintFamily;
  readonly entry: Entry;
  /** Where the other weight stands that it speaks of. */
  readonly other?: Place;
}

/** The hints of a file in a range of offsets, in the order of the text; those that are wanted, or all. */
export const hintsOf = (workspace: Workspace, file: string, range?: Span, wanted?: WantedHints): readonly Hint[] => {
  const page = workspace.pages.get(file);
  if (!page) return [];
  return sectionsIn(page, range).flatMap((section) => sectionHints(workspace, page, section, range, wanted));
};

/** Those of one section of a page. */
export const sectionHints = (
  workspace: Workspace,
  page: JournalPage,
  section: Section,
  range?: Span,
  wanted?: WantedHints,
): readonly Hint[] => {
  const entry = page.bySection.get(section);
  if (!entry) return [];
  const start = page.page.starts.get(section)!;
  return entryHints(workspace, entry, wanted)
    .map((hint) => ({ ...hint, offset: start + hint.offset }))
    .filter(({ offset }) => !range || (range.start <= offset && offset <= range.end));
};

/** Of one entry; offsets count from its section's start. */
export const entryHints = (workspace: Workspace, entry: Entry, wanted?: WantedHints): readonly Hint[] => {
  if (entry.prefix === 'plan') return wanted?.has('plan') === false ? [] : ofPlan(workspace, entry, wanted);
  const noRests = OF_METALS.every((family) => wanted?.has(family) === false);
  const rests = noRests ? NO_DRAFTS : fineOf(workspace, entry);
  const cautions = wanted?.has('caution') === false ? NO_DRAFTS : cautionsIn(workspace, entry);
  return linesOf({ own: draftsOf(workspace, entry), rests, cautions }, entry, wanted).map(
    ({ offset, label, family, other, tooltip }): Hint => ({
      offset,
      label,
      family,
      tooltip: () => tooltip(workspace),
      entry,
      ...(other && { other }),
    }),
  );
};

/** What a line says, whatever the journal then is of which its tooltip tells. */
interface Line extends Pick<Hint, 'offset' | 'label' | 'family' | 'other'> {
  readonly tooltip: (workspace: Workspace) => string;
}

interface Drafts {
  readonly own: readonly Draft[];
  readonly rests: readonly Draft[];
  readonly cautions: readonly Draft[];
}

interface Lines extends Drafts {
  readonly wanted: WantedHints | undefined;
  readonly lines: readonly Line[];
}

const keptLines = new WeakMap<readonly Draft[], Lines>();

/** Kept with an entry's own drafts, which stay the same as long as nothing in them changes. */
const linesOf = ({ own, rests, cautions }: Drafts, entry: Entry, wanted: WantedHints | undefined): readonly Line[] => {
  const known = keptLines.get(own);
  // Cautions are looked for anew each time: where there are any, so are the lines.
  const quiet = cautions.length === 0 && known?.cautions.length === 0;
  if (quiet && known?.rests === rests && known.wanted === wanted) return known.lines;
  const drafts = new Map<number, Draft[]>();
  const { text } = entry.anchor as Section;
  for (const draft of [...own, ...rests, ...cautions]) {
    if (wanted && !isWanted(draft, wanted)) continue;
    const end = lineEnd(text, draft.at.start);
    drafts.set(end, [...(drafts.get(end) ?? []), draft]);
  }
  const lines = [...drafts].sort(([a], [b]) => a - b).map(([offset, ofLine]) => ({ ...joined(ofLine), offset }));
  keptLines.set(own, { own, rests, cautions, wanted, lines });
  return lines;
};

/** Families that rest on what is known of metals. */
const OF_METALS: readonly HintFamily[] = ['fine', 'bench', 'cupel', 'selling'];

/** Nothing can be told of it while pages are still to come. */
const ofPlan = (workspace: Workspace, entry: Entry, wanted?: WantedHints): readonly Hint[] => {
  if (!workspace.whole) return [];
  const hints = planHints(workspace, entry, (done, as) => entryHints(done, as, wanted));
  return hints.map((hint) => ({ ...hint, family: 'plan', entry }));
};

const sectionsIn = ({ page }: JournalPage, range: Span | undefined): readonly Section[] => {
  if (!range) return page.sections;
  return page.sections.filter((section) => {
    const start = page.starts.get(section)!;
    return start <= range.end && range.start <= start + section.text.length;
  });
};

const lineEnd = (text: string, at: number): number => {
  let end = at;
  while (end < text.length && text[end] !== '\n' && text[end] !== '\r') end++;
  return end;
};

const SEPARATOR = ' · ';

/** What a line says: the weightiest first, and what else still fits. Nothing is lost from the tooltip. */
const joined = (drafts: readonly Draft[]): Omit<Line, 'offset'> => {
  const [first, ...rest] = [...drafts].sort((a, b) => a.rank - b.rank);
  const said: string[] = [first!.label];
  for (const { label, short } of rest) {
    const fits = [label, short ?? label].find((words) => [...said, words].join(SEPARATOR).length <= LONGEST_LABEL);
    if (fits !== undefined) said.push(fits);
  }
  const all = [first!, ...rest];
  const tooltip = (workspace: Workspace): string =>
    all.map((draft) => tooltipOf(draft, said, workspace)).join('\n\n---\n\n');
  const other = all.find((draft) => draft.other)?.other;
  return { label: said.join(SEPARATOR), tooltip, family: first!.family, ...(other ? { other } : {}) };
};

/** A label that did not fit is said at the head of its tooltip. */
const tooltipOf = ({ label, tooltip }: Draft, said: readonly string[], workspace: Workspace): string =>
  said.includes(label) ? tooltip(workspace) : `**${escapeMarkdown(label)}**\n\n${tooltip(workspace)}`;

const kept = new WeakMap<Account, readonly Draft[]>();

/** Kept with the account, which is made anew when anything that they rest on changes. */
const draftsOf = (workspace: Workspace, entry: Entry): readonly Draft[] => {
  const account = workspace.book.account(entry);
  const known = kept.get(account);
  if (known) return known;
  const made = keepable(madeOwn(workspace, entry), entry, madeOwn);
  kept.set(account, made);
  return made;
};

const madeOwn = (workspace: Workspace, entry: Entry): readonly Draft[] => {
  const account = workspace.book.account(entry);
  return isCounted(entry) ? makeDrafts({ workspace, account, entry: countedEntry(account, entry) }) : NO_DRAFTS;
};

type MakeDrafts = (workspace: Workspace, entry: Entry) => readonly Draft[];

/**
 * Drafts that may be kept from edit to edit: their tooltips are made of drafts that are made anew, where somebody asks for one. Else each kept
 * draft would hold the workspace that it was made of, that one the drafts in it, and so on through all edits of the day.
 */
const keepable = (drafts: readonly Draft[], entry: Entry, make: MakeDrafts): readonly Draft[] =>
  lean(drafts.map((draft, index) => ({ ...draft, tooltip: tooltipAnew(entry, make, index) })));

const tooltipAnew =
  (entry: Entry, make: MakeDrafts, index: number): Draft['tooltip'] =>
  (now) =>
    draftsNow(now, entry, make)[index]?.tooltip(now) ?? '';

/** By what makes them. */
type Last = Map<MakeDrafts, { readonly entry: Entry; readonly drafts: readonly Draft[] }>;

const lastOf = new WeakMap<Workspace, Last>();

/** Kept for the entry that was asked for last: it is asked line by line. */
const draftsNow = (now: Workspace, entry: Entry, make: MakeDrafts): readonly Draft[] => {
  const last: Last = lastOf.get(now) ?? new Map();
  lastOf.set(now, last);
  const known = last.get(make);
  if (known?.entry === entry) return known.drafts;
  const drafts = make(now, entry);
  last.set(make, { entry, drafts });
  return drafts;
};

const keptFine: KeptByMetals<readonly Draft[]> = memo();

/** Of fine metal, and what a bead's assay tells: what is known of a lot may change with any page. */
const fineOf = (workspace: Workspace, entry: Entry): readonly Draft[] => {
  const account = workspace.book.account(entry);
  if (!isCounted(entry) || account.lots.size === 0) return NO_DRAFTS;
  return keptByMetals(keptFine, workspace, account, () => keepable(madeFine(workspace, entry), entry, madeFine));
};

const madeFine = (workspace: Workspace, entry: Entry): readonly Draft[] => {
  const account = workspace.book.account(entry);
  const subject = { workspace, account, entry: countedEntry(account, entry) };
  const cupelled = markDoubt(cupelDrafts(subject), account);
  const drafts = [...cupelled, ...fineDrafts(subject), ...benchDrafts(subject), ...sellingDrafts(subject)];
  return drafts.filter(({ at }) => at.anchor === entry.anchor);
};

/** What was said above it on its day is in no account of its own: asked anew each time. */
const cautionsIn = (workspace: Workspace, entry: Entry): readonly Draft[] => {
  const account = workspace.book.account(entry);
  return isCounted(entry) ? cautionDrafts({ workspace, account, entry: countedEntry(account, entry) }) : NO_DRAFTS;
};

const NO_DRAFTS: readonly Draft[] = [];

const isCounted = ({ broken, prefix }: Entry): boolean => !broken && (prefix === undefined || prefix === 'more');

/** The entry with its corrections. */
const countedEntry = ({ parts }: Account, entry: Entry): Entry =>
  parts.find((part) => part.anchor === entry.anchor) ?? entry;

const makeDrafts = (subject: Subject): readonly Draft[] => {
  // Whether a cupellation speaks for itself hangs on its weights; what it says, on assays that may stand on any page.
  const ofStep = [...solvedDrafts(subject), ...(cupelDrafts(subject).length > 0 ? [] : balanceDrafts(subject))];
  return [
    ...correctedDrafts(subject),
    ...handoverDrafts(subject),
    ...markDoubt(ofStep, subject.account),
    ...weightDrafts(subject),
    ...vesselDrafts(subject),
    ...receiveDrafts(subject),
    ...chargeDrafts(subject),
  ].filter(({ at }) => at.anchor === subject.entry.anchor);
};

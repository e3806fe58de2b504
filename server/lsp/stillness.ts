/**
 * What is shown while someone types. Two workspaces are at hand: `live` has the last keystroke, `settled` stands as it was before. In the
 * entry being typed, what the live one says at once is shown; everywhere else what the settled one says, moved to where its entry now
 * stands. So nothing else on the screen blinks. The two differ in the text of the file being typed in, and in no other.
 */

import type { JournalPage } from '../journal/page';
import { findingsIn, type Histories } from '../rules/findings';
import type { Finding } from '../rules/rule';
import type { Section } from '../syntax/tree';
import { firstWhere } from '../text/lists';
import type { Place } from '../text/place';
import { overlaps, type Span, shift } from '../text/span';
import { locate, type Workspace } from '../workspace/workspace';
import { stoodFindings } from './stood';

export interface Typing {
  readonly file: string;
  /** Where the section being typed starts in the live text. */
  readonly start: number;
  /** Where the last keystroke ended. */
  readonly caret: number;
  /** Findings that stood in the section before it was touched: those that still hold stay. */
  readonly stood: ReadonlySet<string>;
  /** The token at the caret has rested long enough to be judged. */
  readonly rested: boolean;
}

export interface View {
  readonly live: Workspace;
  readonly settled: Workspace;
  readonly typing: Typing | undefined;
}

/** A finding with its place in today's text. */
export interface Shown {
  readonly finding: Finding;
  readonly range: Span;
  readonly related: readonly (Span & { readonly file: string; readonly says: string })[];
}

/**
 * The findings of a file as they are to be seen now, in the order of the text. Histories are looked at in what has settled alone, and so only
 * after a pause.
 */
export const shownFindings = (view: View, file: string, histories: Histories = 'short'): readonly Shown[] => {
  const { typing } = view;
  const settled = stoodFindings(view.settled, file, histories);
  if (typing?.file !== file || !view.live.pages.has(file)) return settled.flatMap((finding) => shown(view, finding));
  const page = view.live.pages.get(file)!;
  const section = sectionAt(page, typing.start);
  const elsewhere = settled
    .flatMap((finding) => shown(view, finding))
    .filter(({ range }) => sectionAt(page, range.start) !== section);
  const here = liveFindings(view, file, section).filter((finding) => isSaidNow(view, typing, finding));
  return [...elsewhere, ...here.flatMap((finding) => shown(view, finding))].sort(
    (a, b) => a.range.start - b.range.start,
  );
};

/** True while findings of the file wait for the typing to end. */
export const isWithholding = (view: View, file: string): boolean => {
  const { typing } = view;
  const page = view.live.pages.get(file);
  if (typing?.file !== file || !page) return false;
  const section = sectionAt(page, typing.start);
  return liveFindings(view, file, section).some((finding) => !isSaidNow(view, typing, finding));
};

/** What a finding is known by from one keystroke to the next: its rule and the line that it stands on. */
export const standingIn = (workspace: Workspace, page: JournalPage, section: Section): ReadonlySet<string> =>
  new Set(findingsIn(workspace, page, section).map((finding) => markOf(section, finding)));

/** The section that holds an offset; the last one where the text ends. */
export const sectionAt = (page: JournalPage, offset: number): Section | undefined => {
  const { sections, starts } = page.page;
  return sections[Math.max(0, firstWhere(sections, (section) => starts.get(section)! > offset) - 1)];
};

/** Where a place of either workspace stands in today's text; none when its text is no more. */
export const placeToday = (view: View, place: Place): (Span & { readonly file: string }) | undefined => {
  const { file } = place.anchor;
  const live = view.live.pages.get(file);
  if (view.typing?.file !== file || !live) return locate(view.settled, place);
  const start = startsToday(view.settled.pages.get(file), live).get(place.anchor);
  return start === undefined ? undefined : { file, ...shift(place, start) };
};

/** Where the sections of both pages stand in the live text; for one that has only lost or gained blank lines at its end, where its heir does. */
export const startsToday = (settled: JournalPage | undefined, live: JournalPage): ReadonlyMap<object, number> => {
  const known = startsOf.get(live);
  if (known && known.settled === settled) return known.starts;
  const starts = new Map<object, number>(live.page.starts);
  if (settled && settled !== live) addHeirs(settled, live, starts);
  startsOf.set(live, { settled, starts });
  return starts;
};

const startsOf = new WeakMap<JournalPage, { settled: JournalPage | undefined; starts: ReadonlyMap<object, number> }>();

const addHeirs = (settled: JournalPage, live: JournalPage, starts: Map<object, number>): void => {
  const fresh = live.page.sections.filter((section) => !settled.page.starts.has(section));
  const heirs = new Map(fresh.map((section) => [section.text.trimEnd(), section]));
  for (const section of settled.page.sections) {
    if (live.page.starts.has(section)) continue;
    const heir = heirs.get(section.text.trimEnd());
    if (heir) starts.set(section, live.page.starts.get(heir)!);
  }
};

/** Of the section being typed alone: what an edit changes elsewhere is not looked at before the pause. */
const liveFindings = ({ live }: View, file: string, section: Section | undefined): readonly Finding[] =>
  section ? findingsIn(live, live.pages.get(file)!, section) : [];

/** Said of the section being typed: what cannot be true whatever follows, and what stood there before and still holds. */
const isSaidNow = (view: View, typing: Typing, finding: Finding): boolean => {
  const page = view.live.pages.get(typing.file)!;
  const { start, end } = locate(view.live, finding.place);
  if (!typing.rested && overlaps({ start, end }, tokenAt(page.page.text, typing.caret))) return false;
  return finding.atOnce || typing.stood.has(markOf(finding.place.anchor as Section, finding));
};

const shown = (view: View, finding: Finding): Shown[] => {
  const range = placeToday(view, finding.place);
  if (!range) return [];
  const related = (finding.related ?? []).flatMap(({ place, says }) => {
    const today = placeToday(view, place);
    return today ? [{ ...today, says }] : [];
  });
  return [{ finding, range, related }];
};

const markOf = (section: Section, { code, place }: Finding): string => {
  const start = section.text.lastIndexOf('\n', place.start - 1) + 1;
  const end = section.text.indexOf('\n', place.start);
  return `${code} ${section.text.slice(start, end < 0 ? undefined : end).trim()}`;
};

/** The run of characters without a blank that the caret stands in or behind. */
export const tokenAt = (text: string, caret: number): Span => {
  let start = caret;
  let end = caret;
  while (start > 0 && !isGap(text.charCodeAt(start - 1))) start--;
  while (end < text.length && !isGap(text.charCodeAt(end))) end++;
  return { start, end };
};

const isGap = (code: number): boolean => code <= 32 || code === 0xa0;

/** Where the record differs from what its seals closed. */
import type { Section } from '../syntax/tree';
import { isSameList } from '../text/lists';
import type { WorkshopDocument } from '../workshop/read';
import type { Workspace } from '../workspace/workspace';
import { otherSealOf } from './apart';
import { filesNamedBy, pathFromRoot } from './files';
import { compareLists } from './lists';
import { type SealEntry, type Sealed, type Slice, sealsOf, slicesIn, UNDATED } from './periods';
import { fileAsSealed, heldBy, isDigest, markOfSeal, marksOf, type Period, periodOf, saidBy, WORKSHOP } from './seal';
import type { Thing } from './shop';
import { type Decided, decidedBy, type Turned, turnedIn } from './turned';

export type Break =
  /** An entry, or the text of a day, reads otherwise than when it was sealed; `mark` is what it had then. */
  | { readonly kind: 'changed'; readonly seal: SealEntry; readonly at: Sealed; readonly mark: string }
  /** Was not there; `by` is another seal that closes it, where one does. */
  | ({ readonly kind: 'appeared'; readonly seal: SealEntry; readonly at: Sealed } & Beside)
  /** Stood under another day, or elsewhere in its day. */
  | { readonly kind: 'moved'; readonly seal: SealEntry; readonly at: Sealed; readonly from: string }
  /** Stands as it was sealed, but the names of the pages put it behind another entry now, and that tells something else of a lot. */
  | { readonly kind: 'turned'; readonly seal: SealEntry; readonly at: Sealed; readonly decided: Decided }
  /** What is gone, all of it at once: one cut takes a page. */
  | { readonly kind: 'vanished'; readonly seal: SealEntry; readonly gone: readonly Gone[] }
  /** A thing of the workshop file reads otherwise, and had this mark; `thing` is none where one is gone, `mark` where it is new. */
  | {
      readonly kind: 'workshop';
      readonly seal: SealEntry;
      readonly thing: Thing | undefined;
      readonly mark: string | undefined;
    }
  /**
   * The digest does not hold, though no mark says what changed: where it is `named` that all entries are as they were, the seal's own lines or the
   * seal before it are not; else the seal has no marks.
   */
  | { readonly kind: 'chain'; readonly seal: SealEntry; readonly named: boolean }
  /** The seal before it is not the one that it was chained to: gone, made anew, or come since. `was` and `standing` are none where there was or is none. */
  | {
      readonly kind: 'before';
      readonly seal: SealEntry;
      readonly was: string | undefined;
      readonly standing: SealEntry | undefined;
    }
  /** Its marks are not those of what it closes, and that is as it was sealed. */
  | { readonly kind: 'marks'; readonly seal: SealEntry }
  /** Not a digest. */
  | { readonly kind: 'unreadable'; readonly seal: SealEntry }
  /** Closes a day that another seal closes already. */
  | { readonly kind: 'twice'; readonly seal: SealEntry; readonly first: SealEntry };

/** What tells how an entry that was not there can stand. */
interface Beside {
  readonly by?: SealEntry | undefined;
  /** The last seal, where that is another one. */
  readonly last?: SealEntry | undefined;
  /** The last section under the first day of its page that no seal closes. */
  readonly open?: Section | undefined;
  /** An entry of its verb and name that is sealed. */
  readonly like?: Sealed | undefined;
}

export interface Gone {
  readonly day: string;
  /** What it stood behind in its day, where anything stood before it. */
  readonly behind: Sealed | undefined;
  readonly mark: string;
}

export interface Checked {
  readonly seal: SealEntry;
  readonly period: Period;
  readonly breaks: readonly Break[];
  /** What stands in another order; what that decides may change with any page. */
  readonly turned?: readonly Turned[];
}

/** The record as its seals see it. */
export interface TrustedRecord {
  readonly seals: readonly Checked[];
  /** By the section at which each is told. */
  readonly breaks: ReadonlyMap<Section, readonly Break[]>;
}

const NO_RECORD: TrustedRecord = { seals: [], breaks: new Map() };
const records = new WeakMap<Workspace, TrustedRecord>();

/** Checks every seal; what has not changed since the last check of a seal is not reckoned again. */
export const recordOf = (workspace: Workspace): TrustedRecord => {
  const known = records.get(workspace);
  if (known) return known;
  const made = sealsOf(workspace).length === 0 ? NO_RECORD : makeRecord(workspace);
  records.set(workspace, made);
  return made;
};

const makeRecord = (workspace: Workspace): TrustedRecord => {
  const seals: Checked[] = [];
  let before: SealEntry | undefined;
  for (const seal of sealsOf(workspace)) {
    if (before?.upTo === seal.upTo) {
      const breaks: readonly Break[] = [{ kind: 'twice', seal, first: before }];
      seals.push({ seal, period: periodOf(workspace, before, seal.upTo), breaks });
      continue;
    }
    seals.push(withTurned(workspace, checked(workspace, before, seal)));
    before = seal;
  }
  const breaks = new Map<Section, Break[]>();
  for (const found of toldOf(seals)) {
    const one = found.kind === 'appeared' ? withBeside(found, besideOf(workspace, found, seals)) : found;
    const section = sectionOf(one);
    breaks.set(section, [...(breaks.get(section) ?? []), one]);
  }
  return { seals, breaks };
};

type Appeared = Extract<Break, { kind: 'appeared' }>;

const closedElsewhere = new WeakMap<Appeared, Appeared>();

const besideOf = (workspace: Workspace, { at, seal }: Appeared, seals: readonly Checked[]): Beside => {
  const last = seals.at(-1)?.seal ?? seal;
  const { verb, name, prefix } = at.entry ?? {};
  const period = seals.find((one) => one.seal === seal)?.period.sealed ?? [];
  const isLike = ({ section, entry }: Sealed): boolean =>
    section !== at.section && entry?.verb === verb && entry?.name?.name === name?.name && entry?.prefix === prefix;
  return {
    by: otherSealOf(at, seal, sealsOf(workspace)),
    last: last === seal ? undefined : last,
    open: at.entry && openEnd(workspace, at.section.file, last.upTo),
    like: name ? period.find(isLike) : undefined,
  };
};

const openEnd = ({ pages }: Workspace, file: string, upTo: string): Section | undefined => {
  const sections = pages.get(file)?.page.sections ?? [];
  const from = sections.findIndex(({ kind, date }) => kind === 'day' && date !== undefined && date > upTo);
  if (from < 0) return undefined;
  const next = sections.findIndex(({ kind }, index) => index > from && kind !== 'entry');
  return sections.at(next < 0 ? -1 : next - 1);
};

/** The same object as long as what it rests on is. */
const withBeside = (one: Appeared, beside: Beside): Appeared => {
  const known = closedElsewhere.get(one);
  const isSame =
    known?.by === beside.by &&
    known?.last === beside.last &&
    known?.open === beside.open &&
    known?.like?.section === beside.like?.section;
  const made = known && isSame ? known : { ...one, ...beside };
  closedElsewhere.set(one, made);
  return made;
};

const withTurned = (workspace: Workspace, of: Checked): Checked => {
  if (!of.turned || of.turned.length === 0 || isMerging(workspace)) return of;
  const told = decidedBy(workspace, of.turned).map((decided) => {
    const made: Break = turnedBreaks.get(decided) ?? { kind: 'turned', seal: of.seal, at: decided.first, decided };
    turnedBreaks.set(decided, made);
    return made;
  });
  return told.length === 0 ? of : { ...of, breaks: [...of.breaks, ...told] };
};

const turnedBreaks = new WeakMap<Decided, Break>();

/** A value of the workshop file is in force over many seals: that it changed is told at the first of them. */
const toldOf = (seals: readonly Checked[]): readonly Break[] => {
  const things = new Set<Thing | undefined>();
  return seals
    .flatMap(({ breaks }) => breaks)
    .filter((one) => {
      if (one.kind !== 'workshop') return true;
      const isNew = !things.has(one.thing);
      things.add(one.thing);
      return isNew;
    });
};

/** Where the hand will mend it. */
const sectionOf = (one: Break): Section => ('at' in one ? one.at.section : one.seal.section);

/** What a check rests on. */
interface Ground {
  readonly before: SealEntry | undefined;
  readonly slices: readonly Slice[];
  readonly workshopFile: WorkshopDocument | undefined;
}

const last = new WeakMap<Section, { readonly ground: Ground; readonly checked: Checked }>();

const checked = (workspace: Workspace, before: SealEntry | undefined, seal: SealEntry): Checked => {
  const { workshopFile } = workspace;
  const ground = { before, slices: slicesIn(workspace, before?.upTo, seal.upTo), workshopFile };
  const known = last.get(seal.section);
  if (known?.checked.seal === seal && isSameGround(known.ground, ground)) return known.checked;
  const period = periodOf(workspace, before, seal.upTo, saidBy(seal.section).marks);
  const breaks = breaksOf(workspace, before, seal, period);
  const isMarked = saidBy(seal.section).marks.size > 0;
  const made = { seal, period, breaks, turned: isMarked ? turnedIn(workspace, period.sealed) : [] };
  last.set(seal.section, { ground, checked: made });
  return made;
};

const isSameGround = (a: Ground, b: Ground): boolean =>
  a.before === b.before &&
  a.workshopFile === b.workshopFile &&
  a.slices.length === b.slices.length &&
  a.slices.every((slice, index) => slice === b.slices[index] || isSameList(slice, b.slices[index]!));

/** An unfinished merge takes entries away; what is missing is told of it once it is finished. */
const isMerging = ({ pages }: Workspace): boolean => [...pages.values()].some(({ mentions }) => mentions.length > 0);

const breaksOf = (
  workspace: Workspace,
  before: SealEntry | undefined,
  seal: SealEntry,
  period: Period,
): readonly Break[] => {
  const label = seal.entry.digest?.name;
  if (label === undefined) return [];
  if (!isDigest(label)) return [{ kind: 'unreadable', seal }];
  const found = byMarks(seal, period);
  const { before: chained } = saidBy(seal.section);
  // A seal before it that has no digest closes nothing, and says so itself.
  const isChained = chained === markOfSeal(period.chainedTo) || (before !== undefined && !before.entry.digest);
  const all: readonly Break[] = isChained
    ? found
    : [{ kind: 'before', seal, was: chained, standing: before }, ...withoutThoseBefore(seal, before, found)];
  const isHeld = (): boolean =>
    heldBy(period, saidBy(seal.section), label) !== undefined && hasItsFiles(workspace, seal, period);
  if (all.length === 0) {
    if (!isHeld()) return [{ kind: 'chain', seal, named: saidBy(seal.section).marks.size > 0 }];
    markedTruly.add(seal.section);
    return [];
  }
  if (!markedTruly.has(seal.section) && isHeld()) return [{ kind: 'marks', seal }];
  return isMerging(workspace) ? all.filter(({ kind }) => !WAITS.has(kind)) : all;
};

/** Seals whose marks were seen to be those of what they close: where they differ later, it is not they that changed. */
const markedTruly = new WeakSet<Section>();

const WAITS: ReadonlySet<Break['kind']> = new Set(['vanished', 'before']);

/** What a seal that is gone had closed falls to the next one, which never knew it, and one that came takes from it: that is said once, of the seal. */
const withoutThoseBefore = (
  { section }: SealEntry,
  standing: SealEntry | undefined,
  found: readonly Break[],
): readonly Break[] => {
  const [first = ''] = [...saidBy(section).marks.keys()].filter((day) => day !== WORKSHOP && day !== UNDATED).sort();
  return found.flatMap((one): readonly Break[] => {
    if (one.kind === 'workshop') return [];
    if (one.kind === 'appeared') return one.at.date !== '' && one.at.date >= first ? [one] : [];
    if (one.kind !== 'vanished') return [one];
    const gone = one.gone.filter(({ day }) => day !== UNDATED && day > (standing?.upTo ?? ''));
    return gone.length > 0 ? [{ ...one, gone }] : [];
  });
};

/** Every file that the period names has its digest in the seal: else nothing would show that it was changed. */
const hasItsFiles = (workspace: Workspace, { section }: SealEntry, { sealed }: Period): boolean => {
  const { files } = saidBy(section);
  return sealed.every(({ entry }) =>
    (entry ? filesNamedBy(entry) : []).every(({ path }) =>
      fileAsSealed(workspace, files, pathFromRoot(workspace, entry!.anchor.file, path), path),
    ),
  );
};

const byMarks = (seal: SealEntry, period: Period): readonly Break[] => {
  const then = saidBy(seal.section).marks;
  if (then.size === 0) return [];
  const now = marksOf(period);
  const sealedOn = grouped(period.sealed);
  const days = [...new Set([...then.keys(), ...now.keys()])].filter((day) => day !== WORKSHOP).sort();
  const differences = days.flatMap((day) => {
    const items = sealedOn.get(day) ?? [];
    return compareLists(then.get(day) ?? [], now.get(day) ?? []).map((one) => ({
      day,
      was: one.was,
      at: one.now === undefined ? undefined : items[one.now.index],
      mark: one.now?.value,
      behind: one.behind === undefined ? undefined : items[one.behind],
    }));
  });
  const gone = new Map(
    differences.flatMap(({ was, at, day }) => (was !== undefined && !at ? [[was, day] as const] : [])),
  );
  const come = new Set(differences.flatMap(({ was, at, mark }) => (was === undefined && at ? [mark] : [])));
  const missing: Gone[] = [];
  const ofEntries: Break[] = differences.flatMap(({ day, was, at, mark, behind }): readonly Break[] => {
    if (at && was !== undefined) return [{ kind: 'changed', seal, at, mark: was }];
    if (at) {
      const from = gone.get(mark!);
      return [from === undefined ? { kind: 'appeared', seal, at } : { kind: 'moved', seal, at, from }];
    }
    if (was !== undefined && !come.has(was)) missing.push({ day, behind, mark: was });
    return [];
  });
  if (missing.length > 0) ofEntries.push({ kind: 'vanished', seal, gone: missing });
  const ofShop = compareLists(then.get(WORKSHOP) ?? [], now.get(WORKSHOP) ?? []);
  // Entries that changed name other things: what follows from that is not told again.
  if (ofEntries.length > 0 && ofShop.every(({ was, now: is }) => was === undefined || is === undefined))
    return ofEntries;
  return [
    ...ofEntries,
    ...ofShop.map(
      ({ was, now: is }): Break => ({ kind: 'workshop', seal, thing: is && period.things[is.index], mark: was }),
    ),
  ];
};

const grouped = (sealed: readonly Sealed[]): ReadonlyMap<string, readonly Sealed[]> => {
  const groups = new Map<string, Sealed[]>();
  for (const one of sealed) {
    const day = one.date || UNDATED;
    const list = groups.get(day);
    if (list) list.push(one);
    else groups.set(day, [one]);
  }
  return groups;
};

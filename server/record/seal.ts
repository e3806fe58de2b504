/**
 * A seal: the digest of a period in its canonical form, chained to the seal before, and beside it the beginnings of the digests of every entry,
 * so that what changed can be named. The text that is hashed is stated in LANGUAGE.md, line by line.
 */
import type { Section } from '../syntax/tree';
import type { Workspace } from '../workspace/workspace';
import { canonicalLines, FORM, MARK_LENGTH, markOf, markOfLines } from './canonical';
import { filesNamedIn } from './files';
import { inRecordOrder, type SealEntry, type Sealed, sealsOf, slicesIn, UNDATED } from './periods';
import { sha256 } from './sha256';
import { inForce, type Thing, thingLines, thingsOf } from './shop';
import { usesIn } from './uses';

/** What a period holds now. */
export interface Period {
  /** The day that the seal before closes; none for the first. */
  readonly after: string | undefined;
  /** The digest as the seal before bears it; none for the first, and where that one has none yet. */
  readonly chainedTo: string | undefined;
  readonly upTo: string;
  readonly sealed: readonly Sealed[];
  readonly things: readonly Thing[];
}

/** A photo or paper with its digest; `path` from the journal's folder, with forward slashes. */
export interface FileDigest {
  readonly path: string;
  readonly digest: string;
}

/** Marks of one day, or of the workshop file, in order. */
export type MarksByDay = ReadonlyMap<string, readonly string[]>;

export const WORKSHOP = 'workshop';
const BEFORE = 'before';

/** The period that a seal of this day closes: after the last seal of an earlier day. */
export const periodUpTo = (workspace: Workspace, upTo: string): Period => {
  const before = sealsOf(workspace).findLast((seal) => seal.upTo < upTo);
  return periodOf(workspace, before, upTo);
};

/** `marks`: of a seal that stands. */
export const periodOf = (
  workspace: Workspace,
  before: SealEntry | undefined,
  upTo: string,
  marks?: MarksByDay,
): Period => {
  const sealed = inRecordOrder(workspace, slicesIn(workspace, before?.upTo, upTo), marks);
  return {
    after: before?.upTo,
    chainedTo: before?.entry.digest?.name,
    upTo,
    sealed,
    things: thingsUsed(sealed, thingsOf(workspace.workshopFile)),
  };
};

const thingsUsed = (sealed: readonly Sealed[], things: readonly Thing[]): readonly Thing[] => {
  if (things.length === 0) return [];
  const used = new Set<string>();
  for (const { section } of sealed) for (const key of usesIn(section)) used.add(key);
  return inForce(things, used);
};

/** What a seal holds beside the entries of its period. */
export interface Beside {
  readonly files: readonly FileDigest[];
  /** Digests of seals that it was openly made anew instead of. */
  readonly replaces: readonly string[];
  /** Why, of one that was; sealed with it. None in a seal that was made before reasons were. */
  readonly because: string | undefined;
}

/** The text whose SHA-256 a seal is. */
export const canonicalText = (
  { after, chainedTo, upTo, sealed, things }: Period,
  { files, replaces, because }: Beside,
): string => {
  const lines = [
    `fineweight seal ${FORM}`,
    `up to ${upTo}`,
    after === undefined ? 'after nothing' : `after ${after} ${chainedTo ?? 'without digest'}`,
    ...replaces.toSorted().map((digest) => `replaces ${digest}`),
    ...(replaces.length > 0 && because !== undefined ? [`because ${because}`] : []),
    ...[...files].sort((a, b) => (a.path < b.path ? -1 : 1)).map(({ path, digest }) => `file ${path} ${digest}`),
    ...things.flatMap((thing) => thingLines(thing, upTo)),
    'record',
  ];
  let day: string | undefined;
  for (const one of sealed) {
    if (one.date !== day) lines.push(one.date || UNDATED);
    day = one.date;
    for (const line of canonicalLines(one.section)) lines.push(line);
  }
  return lines.map((line) => `${line}\n`).join('');
};

/** `s1-` and 64 figures. */
export const digestOf = (period: Period, beside: Beside): string => `${FORM}-${sha256(canonicalText(period, beside))}`;

/** What a seal holds, as it was sealed: seals were once made without their reason. None where it does not hold. */
export const heldBy = (period: Period, said: Beside, label: string | undefined): Beside | undefined => {
  const old = { ...said, because: undefined };
  return [said, old].find((beside) => digestOf(period, beside) === label);
};

export const isDigest = (label: string): boolean => /^s1-[0-9a-f]{64}$/.test(label);

/** The marks of all days that have something, and of the workshop's things. */
export const marksOf = ({ sealed, things, upTo }: Period): MarksByDay => {
  const marks = new Map<string, string[]>();
  const add = (day: string, mark: string): void => {
    const list = marks.get(day);
    if (list) list.push(mark);
    else marks.set(day, [mark]);
  };
  for (const thing of things) add(WORKSHOP, markOfLines(thingLines(thing, upTo)));
  for (const { date, section } of sealed) add(date || UNDATED, markOf(section));
  return marks;
};

/** Marks on one line at the most: a line is read at a glance, and a day of many entries has several. */
const MARKS_IN_LINE = 8;

/** The lines below a seal's first. */
export const sealLines = (period: Period, { files, replaces }: Beside): readonly string[] => [
  ...replaces.map((digest) => `  replaces ${digest}`),
  ...files.map(({ path, digest }) => `  file "${path}" digest ${digest}`),
  ...(period.chainedTo === undefined ? [] : [`  marks ${BEFORE} ${markOfSeal(period.chainedTo)}`]),
  ...[...marksOf(period)].flatMap(([day, marks]) => chunksOf(marks).map((some) => `  marks ${day} ${some.join(' ')}`)),
];

/** The beginning of a seal's digest, by which the seal after it knows it. */
export const markOfSeal = (label: string | undefined): string | undefined =>
  label?.slice(FORM.length + 1, FORM.length + 1 + MARK_LENGTH);

const chunksOf = (marks: readonly string[]): readonly (readonly string[])[] => {
  const chunks: (readonly string[])[] = [];
  for (let at = 0; at < marks.length; at += MARKS_IN_LINE) chunks.push(marks.slice(at, at + MARKS_IN_LINE));
  return chunks;
};

/** What a seal says below its first line. */
export interface Said extends Beside {
  readonly marks: MarksByDay;
  /** The mark of the seal before, as it was then. */
  readonly before: string | undefined;
}

const read = new WeakMap<Section, Said>();

export const saidBy = (section: Section): Said => {
  const known = read.get(section);
  if (known) return known;
  const marks = new Map<string, string[]>();
  const files: FileDigest[] = [];
  const replaces: string[] = [];
  let because: string | undefined;
  for (const { word, values, filled } of section.lines.flatMap(({ pieces }) => pieces)) {
    const [first] = values;
    if (word?.text.toLowerCase() === 'marks' && first?.shape === 'text') {
      const [day = '', ...list] = first.text.split(/\s+/);
      marks.set(day, [...(marks.get(day) ?? []), ...list]);
    }
    if (word?.text.toLowerCase() === 'because' && first?.shape === 'text')
      because ??= first.text.replace(/\s+/g, ' ').trim();
    const [name, digest] = filled;
    if (word?.text.toLowerCase() === 'replaces' && name?.shape === 'word') replaces.push(name.word.text);
    if (word?.text.toLowerCase() === 'file' && name?.shape === 'word' && digest?.shape === 'word')
      files.push({ path: name.word.text, digest: digest.word.text });
  }
  const before = marks.get(BEFORE)?.[0];
  marks.delete(BEFORE);
  const said = { marks, before, files, replaces, because };
  read.set(section, said);
  return said;
};

/** The files that a period's entries name, from the journal's folder. */
export const filesOf = (workspace: Workspace, { sealed }: Period): readonly string[] =>
  filesNamedIn(
    workspace,
    sealed.flatMap(({ entry }) => entry ?? []),
  );

/** In whatever folder. */
export const isNamedSo = ({ path }: FileDigest, written: string): boolean =>
  path === written || path.endsWith(`/${written}`);

/**
 * The file of a seal that an entry names: by its path; where page and file were moved together, one that was sealed in another folder under the
 * path as written, before all the one that has its digest.
 */
export const fileAsSealed = (
  { proofs }: Workspace,
  files: readonly FileDigest[],
  path: string,
  written: string,
): FileDigest | undefined => {
  const own = files.find((one) => one.path === path);
  if (own) return own;
  const moved = files.filter((one) => isNamedSo(one, written));
  return moved.find(({ digest }) => digest === proofs.get(path)) ?? moved[0];
};

/** `fineweight record`: how the record stands: its seals, what was corrected, gaps in its numbers, and what was written long after its day. */

import type { Entry } from '../engine/entry';
import { recordOf } from '../record/breaks';
import { gapsIn } from '../record/numbering';
import { mendedIn } from '../reports/corrections';
import { stepWords } from '../reports/words';
import { visible } from '../text/visible';
import { linesOf } from '../workspace/lines';
import { inOrder } from '../workspace/order';
import { locate, type Workspace } from '../workspace/workspace';
import type { Outcome } from './check';
import { askGit } from './git';
import type { Opened, OpenJournal } from './journals';
import type { Paint } from './paint';
import { whereWords } from './print';
import { withFiles } from './proofs';
import { replacedLines } from './replaced';
import { goneSeals, shortDigest, whereStood } from './seals-gone';
import { unknownHistory } from './seals-in-git';

export interface RecordOptions {
  /** Written more than so many days after its day an entry is late. */
  readonly days: number;
  readonly paint: Paint;
}

export const record = (opened: Opened, { days, paint }: RecordOptions): Outcome => {
  const texts = withFiles(opened).journals.map((journal) => recordText(journal, days, paint));
  const isBroken = opened.journals.some(
    ({ workspace }) => recordOf(workspace).breaks.size > 0 || goneSeals(workspace).own.length > 0,
  );
  return { text: texts.join('\n'), exit: opened.failures.length > 0 ? 2 : isBroken ? 1 : 0 };
};

const recordText = ({ workspace }: OpenJournal, days: number, paint: Paint): string => {
  const part = (title: string, lines: readonly string[], none: string): readonly string[] => [
    paint('bold', title),
    ...(lines.length > 0 ? lines : [none]).map((line) => `  ${visible(line)}`),
    '',
  ];
  const late = lateIn(workspace, days);
  return [
    ...part('Seals', sealLines(workspace), 'Nothing is sealed.'),
    ...part('Corrected, taken back, and gone on with after a seal', mendLines(workspace), 'Nothing.'),
    ...part('Gaps in numbering', gapLines(workspace), 'None.'),
    ...part(
      `Written more than ${days} days after their day`,
      late ?? [],
      late ? 'None that git shows.' : 'Not known: the pages are in no git repository.',
    ),
  ].join('\n');
};

const sealLines = (workspace: Workspace): readonly string[] => {
  const { seals } = recordOf(workspace);
  const { own, lost } = goneSeals(workspace);
  const gone = [
    ...own.map((one) => `up to ${one.upTo}: GONE, ${shortDigest(one.digest)} stood in ${whereStood(one)}`),
    ...lost.map((one) => `up to ${one.upTo}: gone with its journal, ${shortDigest(one.digest)} stood in ${one.path}`),
    ...[unknownHistory(workspace.root) ?? []].flat(),
  ];
  const lines = seals.flatMap(({ seal, period, breaks }) => {
    const count = period.sealed.filter(({ entry }) => entry).length;
    const label = seal.entry.digest?.name;
    const digest = label === undefined ? 'no digest' : shortDigest(label);
    const state = seal.entry.digest
      ? breaks.length === 0
        ? 'holds'
        : `BROKEN in ${breaks.length}`
      : 'closes nothing yet';
    return [
      `up to ${seal.upTo}: ${count} ${count === 1 ? 'entry' : 'entries'}, ${digest}, ${state}`,
      ...replacedLines(workspace, seal),
    ];
  });
  const last = seals.at(-1)?.seal.upTo ?? '';
  const open = [...workspace.pages.values()].flatMap(({ entries }) =>
    entries.filter(({ date = '', prefix, verb }) => date > last && prefix !== 'plan' && verb !== 'seal'),
  );
  return lines.length > 0 && open.length > 0
    ? [...lines, ...gone, `open since: ${open.length} ${open.length === 1 ? 'entry' : 'entries'}`]
    : [...lines, ...gone];
};

/** Each correction with both readings; one that changes nothing says so. */
const mendLines = (workspace: Workspace): readonly string[] => {
  const all = mendedIn(workspace);
  const seals = recordOf(workspace).seals.map(({ seal }) => seal.upTo);
  return [...workspace.pages.values()]
    .flatMap(({ entries }) => entries)
    .filter(({ prefix, broken }) => !broken && prefix !== undefined && prefix !== 'plan')
    .sort(inOrder(workspace.pages))
    .flatMap((by) => {
      if (by.prefix === 'more') return moreLine(workspace, by, seals);
      const own = all.filter((one) => one.by === by);
      if (own.length === 0)
        return [`${by.date ?? ''} ${by.prefix} ${stepWords(by)} changes nothing (${whereWords(workspace, by.head)})`];
      return own.map(({ says, place }) => `${says.replace(/\.$/, '')} (${whereWords(workspace, place)})`);
    });
};

/** A part of a sealed entry that was written under a day after the seal. */
const moreLine = (workspace: Workspace, by: Entry, seals: readonly string[]): readonly string[] => {
  const [first] = workspace.book.account(by).parts;
  const { date = '' } = first ?? by;
  if (!first || !seals.some((upTo) => date <= upTo && upTo < (by.date ?? ''))) return [];
  const why = by.said.because === undefined ? '' : `, because ${by.said.because}`;
  return [`${stepWords(first)} of ${date}, gone on with on ${by.date}${why} (${whereWords(workspace, by.head)})`];
};

const gapLines = (workspace: Workspace): readonly string[] =>
  gapsIn(workspace).map(({ verb, missing, count, before, after }) => {
    const names = count > 2 ? `${missing[0]} to ${missing[1]}` : missing.join(' and ');
    return `no ${verb} ${names} between ${before.name!.name} of ${before.date ?? 'no day'} and ${after.name!.name} of ${after.date ?? 'no day'}`;
  });

interface Late {
  readonly entry: Entry;
  readonly date: string;
  readonly on: string;
  readonly after: number;
  readonly commit: string;
}

/**
 * By the day on which git first has an entry's first line as it is; none where there is no git. What came with the first commit was written elsewhere
 * before, by all that git can show: one line tells of all of it.
 */
const lateIn = (workspace: Workspace, days: number): readonly string[] | undefined => {
  const { root } = workspace;
  if (askGit(root, ['rev-parse', '--is-inside-work-tree'])?.trim() !== 'true') return undefined;
  const first = firstCommits(root);
  const late = [...workspace.pages].flatMap(([file, { entries }]) => {
    const written = linesInGit(root, file);
    return entries.flatMap((entry): Late[] => {
      const line = linesOf(workspace, file).positionOf(locate(workspace, entry.head).start).line;
      const { on, commit } = written.get(line) ?? {};
      const { date, verb, prefix, broken } = entry;
      if (on === undefined || commit === undefined || date === undefined) return [];
      const after = daysBetween(date, on);
      if (after <= days || verb === 'seal' || prefix === 'plan' || broken) return [];
      return [{ entry, date, on, after, commit }];
    });
  });
  const brought = late.filter(({ commit }) => first.has(commit));
  const isImport = brought.length > 1;
  const alone = isImport ? late.filter((one) => !brought.includes(one)) : late;
  return [
    ...(isImport ? [importLine(brought)] : []),
    ...alone.map(
      ({ entry, date, on, after }) =>
        `${entry.prefix ? `${entry.prefix} ` : ''}${stepWords(entry)} of ${date} came on ${on}, ${after} days after (${whereWords(workspace, entry.head)})`,
    ),
  ];
};

const importLine = (all: readonly Late[]): string => {
  const dates = all.map(({ date }) => date).sort();
  const on = all.map((one) => one.on).sort();
  return `${all.length} entries, of ${dates[0] === dates.at(-1) ? dates[0] : `${dates[0]} to ${dates.at(-1)}`}, came with the first commit, of ${on[0]}: when they were written git cannot show`;
};

/** Those that the repository, and the pages of a folder, begin with. */
const firstCommits = (root: string): ReadonlySet<string> => {
  const ofRepository = askGit(root, ['rev-list', '--max-parents=0', 'HEAD']) ?? '';
  const ofPages = askGit(root, ['log', '--reverse', '--format=%H', '--', ':(icase)*.melt']) ?? '';
  return new Set([...ofRepository.split(/\s+/), ofPages.split('\n')[0] ?? ''].filter((one) => one !== ''));
};

/** By line, from 1: the commit that it comes from, and its day. What is not committed has none. */
const linesInGit = (
  root: string,
  file: string,
): ReadonlyMap<number, { readonly on: string; readonly commit: string }> => {
  const told =
    askGit(root, ['blame', '--line-porcelain', '-w', '--no-textconv', '--no-ignore-revs-file', '--', file]) ?? '';
  const lines = new Map<number, { readonly on: string; readonly commit: string }>();
  let line = 0;
  let commit = '';
  for (const row of told.split('\n')) {
    const head = /^([0-9a-f]+) \d+ (\d+)/.exec(row);
    if (head) [line, commit] = [Number(head[2]), head[1]!];
    const time = /^author-time (\d+)$/.exec(row);
    if (time && !/^0+$/.test(commit))
      lines.set(line, { on: new Date(Number(time[1]) * 1000).toISOString().slice(0, 10), commit });
  }
  return lines;
};

const daysBetween = (from: string, to: string): number => Math.round((Date.parse(to) - Date.parse(from)) / 86_400_000);

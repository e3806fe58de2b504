/** A seal as it would be written now. */
import { parsePage } from '../syntax/parse';
import { dayNumber, isDate } from '../text/calendar';
import type { Workspace } from '../workspace/workspace';
import { sealsOf } from './periods';
import { UNREAD } from './proofs';
import { digestOf, type FileDigest, filesOf, type Period, periodUpTo, saidBy, sealLines } from './seal';

export type SealDraft =
  | { readonly kind: 'ready'; readonly digest: string; readonly lines: readonly string[] }
  /** Files that the period names and that are not there, or that nothing is known of here. */
  | { readonly kind: 'waiting'; readonly missing: readonly string[]; readonly unknown: readonly string[] }
  /** A seal before it has no digest yet to be chained to. */
  | { readonly kind: 'unchained'; readonly before: string };

/** The digest and the lines of a seal up to a day; `replaces` are seals that it is openly made anew instead of. */
export const draftOf = (
  workspace: Workspace,
  upTo: string,
  replaces: readonly string[] = [],
  because?: string,
): SealDraft => {
  const period = periodUpTo(workspace, upTo);
  if (period.after !== undefined && period.chainedTo === undefined) return { kind: 'unchained', before: period.after };
  const files = filesOf(workspace, period);
  const missing = files.filter((path) => workspace.proofs.get(path) === null);
  const unknown = files.filter((path) => (workspace.proofs.get(path) ?? UNREAD) === UNREAD && !missing.includes(path));
  if (missing.length > 0 || unknown.length > 0) return { kind: 'waiting', missing, unknown };
  const beside = { files: digestsOf(workspace, files), replaces, because };
  return { kind: 'ready', digest: digestOf(period, beside), lines: sealLines(period, beside) };
};

/** A quarter: who seals by the month or the quarter is nearer, and a slip in the year is farther. */
const MOST_DAYS_AHEAD = 92;

/** Why a day is no day to seal up to, and what to do; whatever is wrong in what it would close. */
export const unfitDay = (workspace: Workspace, upTo: string): string | undefined => {
  const last = sealsOf(workspace).at(-1);
  if (last && last.upTo >= upTo)
    return last.entry.digest
      ? `The record is sealed up to ${last.upTo} already.`
      : `There is a \`seal ${last.upTo}\` without its digest: take it out, or let its quick fix in the editor write it.`;
  if (periodUpTo(workspace, upTo).sealed.length === 0) return `There is nothing to be sealed up to ${upTo}.`;
  return tooFarAhead(workspace, upTo);
};

/** Until then no new entry could be written any more. */
const tooFarAhead = ({ pages }: Workspace, upTo: string): string | undefined => {
  const last = [...pages.values()].reduce((so, { lastDate }) => (lastDate > so ? lastDate : so), '');
  if (!isDate(last) || dayNumber(upTo) - dayNumber(last) <= MOST_DAYS_AHEAD) return undefined;
  return `The last day written is ${last}. Sealed up to ${upTo}, nothing new could be written before that day: seal up to one nearer to it.`;
};

const digestsOf = ({ proofs }: Workspace, paths: readonly string[]): readonly FileDigest[] =>
  paths.map((path) => ({ path, digest: proofs.get(path)! }));

/** The whole entry, without a line end behind it. */
export const draftText = (
  upTo: string,
  { digest, lines }: Extract<SealDraft, { kind: 'ready' }>,
  because?: string,
): string =>
  [`seal ${upTo} digest ${digest}`, ...(because === undefined ? [] : [`  because ${because}`]), ...lines].join('\n');

/** A reason as a page says it again: on one line, without what would be a comment there. */
export const reasonAsRead = (because: string): string | undefined => {
  const line = because.replace(/\s+/g, ' ').trim();
  const { sections } = parsePage('page.melt', `seal 2000-01-01\n  because ${line}\n`);
  return sections[0] && saidBy(sections[0]).because;
};

export type { Period };

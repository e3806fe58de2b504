/** A seal as it would be written now. */
import type { Workspace } from '../workspace/workspace';
import { digestOf, type FileDigest, filesOf, type Period, periodUpTo, sealLines } from './seal';

export type SealDraft =
  | { readonly kind: 'ready'; readonly digest: string; readonly lines: readonly string[] }
  /** Files that the period names and that are not there, or that nothing is known of here. */
  | { readonly kind: 'waiting'; readonly missing: readonly string[]; readonly unknown: readonly string[] }
  /** A seal before it has no digest yet to be chained to. */
  | { readonly kind: 'unchained'; readonly before: string };

/** The digest and the lines of a seal up to a day. */
export const draftOf = (workspace: Workspace, upTo: string): SealDraft => {
  const period = periodUpTo(workspace, upTo);
  if (period.after !== undefined && period.chainedTo === undefined) return { kind: 'unchained', before: period.after };
  const files = filesOf(workspace, period);
  const missing = files.filter((path) => workspace.proofs.get(path) === null);
  const unknown = files.filter((path) => !workspace.proofs.has(path));
  if (missing.length > 0 || unknown.length > 0) return { kind: 'waiting', missing, unknown };
  const digests = digestsOf(workspace, files);
  return { kind: 'ready', digest: digestOf(period, digests), lines: sealLines(workspace, period, digests) };
};

const digestsOf = ({ proofs }: Workspace, paths: readonly string[]): readonly FileDigest[] =>
  paths.map((path) => ({ path, digest: proofs.get(path)! }));

/** The whole entry, without a line end behind it. */
export const draftText = (upTo: string, { digest, lines }: Extract<SealDraft, { kind: 'ready' }>): string =>
  [`seal ${upTo} digest ${digest}`, ...lines].join('\n');

export type { Period };

/** The outcome of `check --format json`: a stable shape. New fields may come; those here keep their names and meaning. */
import { fixesOf, type LocatedEdit } from '../features/fixes';
import { findingsOf } from '../rules/findings';
import type { Finding, Severity } from '../rules/rule';
import type { Span } from '../text/span';
import { linesOf } from '../workspace/lines';
import { locate, type Workspace } from '../workspace/workspace';
import type { Opened, OpenJournal } from './journals';
import { shortPath } from './journals';
import { type Counts, countsOf } from './print';

/** Lines and columns count from 1, columns in UTF-16 units; an end is behind the last character. */
export interface JsonRange {
  /** As seen from the working folder; whole where it is elsewhere. */
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

export interface JsonFinding extends JsonRange {
  /** The rule's code: `fineweight explain CODE` tells it in full. */
  readonly code: string;
  readonly severity: Severity;
  readonly says: string;
  /** Rests on a guess. */
  readonly unsure: boolean;
  readonly related: readonly (JsonRange & { readonly says: string })[];
  readonly fixes: readonly {
    readonly title: string;
    /** Changes only white space or the case of words. */
    readonly safe: boolean;
    readonly preferred: boolean;
    readonly edits: readonly (JsonRange & { readonly text: string })[];
  }[];
}

export interface JsonReport {
  /** Grows when a field changes its name or meaning. */
  readonly version: 1;
  /** Pages and workshop files that were checked. */
  readonly files: readonly string[];
  readonly findings: readonly JsonFinding[];
  readonly counts: Counts;
  /** Sentences on what could not be read; the exit code is then 2. */
  readonly failures: readonly string[];
}

export const reportOf = ({ journals, failures }: Opened): JsonReport => {
  const found = journals.flatMap(foundIn);
  return {
    version: 1,
    files: journals.flatMap(({ asked }) => asked.map(shortPath)),
    findings: found.map(({ workspace, finding }) => toJson(workspace, finding)),
    counts: countsOf(found.map(({ finding }) => finding)),
    failures,
  };
};

/** What is told of a journal's files, in order. */
export const foundIn = ({ workspace, asked, found }: OpenJournal) =>
  asked.flatMap((file) =>
    (found ? (found.get(file) ?? []) : findingsOf(workspace, file)).map((finding) => ({ workspace, finding })),
  );

export const rangeIn = (workspace: Workspace, { file, start, end }: Span & { readonly file: string }): JsonRange => {
  const lines = linesOf(workspace, file);
  const [from, to] = [lines.positionOf(start), lines.positionOf(end)];
  return { file: shortPath(file), line: from.line, column: from.column, endLine: to.line, endColumn: to.column };
};

const toJson = (workspace: Workspace, finding: Finding): JsonFinding => ({
  ...rangeIn(workspace, locate(workspace, finding.place)),
  code: finding.code,
  severity: finding.severity,
  says: finding.says,
  unsure: finding.unsure ?? false,
  related: (finding.related ?? []).map(({ place, says }) => ({
    ...rangeIn(workspace, locate(workspace, place)),
    says,
  })),
  fixes: fixesOf(workspace, finding).map(({ title, safe, preferred, edits }) => ({
    title,
    safe,
    preferred,
    edits: edits.map((edit: LocatedEdit) => ({ ...rangeIn(workspace, edit), text: edit.text })),
  })),
});

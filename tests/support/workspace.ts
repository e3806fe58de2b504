/** Pages of text to a workspace. */

import { spread } from '../../server/engine/accounts/inexact';
import { segmentsOf } from '../../server/engine/accounts/segments';
import { findingsOf, type Histories } from '../../server/rules/findings';
import type { Finding } from '../../server/rules/rule';
import { accountsOf } from '../../server/workspace/accounts';
import { emptyWorkspace, WORKSHOP_FILE, withProofs, withTexts } from '../../server/workspace/update';
import { locate, type Workspace } from '../../server/workspace/workspace';

export const workspaceOf = (pages: Readonly<Record<string, string>>): Workspace =>
  withTexts(emptyWorkspace('test'), new Map(Object.entries(pages)));

/** One page, and what is needed with it: a workshop file, digests of files, another page. */
export const pageWorkspace = (
  page: string,
  workshop?: string,
  files: Readonly<Record<string, string | null>> = {},
  beside?: string,
): Workspace => {
  const workspace = workspaceOf({
    ...(beside === undefined ? {} : { 'other.melt': beside }),
    'page.melt': page,
    ...(workshop === undefined ? {} : { [WORKSHOP_FILE]: workshop }),
  });
  return withProofs(workspace, new Map(Object.entries(files)));
};

/** `code at "text"`, for each finding of a file. */
export const said = (workspace: Workspace, file = 'page.melt'): string[] =>
  findingsOf(workspace, file).map((finding) => `${finding.code} at "${textOf(workspace, finding)}"`);

export const textOf = (workspace: Workspace, finding: Finding): string => {
  const { file, start, end } = locate(workspace, finding.place);
  const text = workspace.pages.get(file)?.page.text ?? workspace.workshopFile?.text ?? '';
  return text.slice(start, end);
};

/** A page after a fix. */
export const fixed = (workspace: Workspace, finding: Finding, index = 0): string => {
  const fix = finding.fixes?.[index];
  if (!fix) throw new Error(`${finding.code} has no fix ${index}`);
  let text = workspace.pages.get('page.melt')!.page.text;
  const edits = fix.edits
    .map((edit) => ({ ...locate(workspace, edit.at), text: edit.text }))
    .sort((a, b) => b.start - a.start);
  for (const edit of edits) text = text.slice(0, edit.start) + edit.text + text.slice(edit.end);
  return text;
};

/** All findings, balances and stories of a journal, as text: two workspaces that say the same are alike in it. */
export const everything = (workspace: Workspace, histories: Histories = 'all'): string[] => [
  ...[...workspace.pages.keys()].sort().flatMap((file) => [
    ...findingsOf(workspace, file, histories).map((finding) => {
      const { start, end } = locate(workspace, finding.place);
      const others = (finding.related ?? []).map((other) => JSON.stringify(locate(workspace, other.place)));
      return `${file} ${start}-${end} ${finding.code} ${finding.says} ${others} ${(finding.fixes ?? []).map(({ title }) => title)}`;
    }),
    ...workspace.pages.get(file)!.entries.map((entry) => {
      const step = workspace.book.step(entry);
      return `${entry.verb} ${entry.name?.name} ${step?.verdict} ${step?.unaccounted?.value} ${step?.solved?.mass.value} ${step?.carries} ${step?.usual?.high} ${step?.usual?.why}`;
    }),
  ]),
  ...[...workspace.book.lotNames()].sort().map((name) => {
    const story = workspace.book.lot(name)!;
    return `${name} ${story.left?.value} ${story.gone} ${story.events.map(({ kind }) => kind)}`;
  }),
];

/** What is known of the metals of every lot in every stretch of its story, and whose it is. */
export const everyMetal = (workspace: Workspace): string[] => {
  const { metals, owners } = accountsOf(workspace);
  return [...workspace.book.lotNames()].sort().flatMap((name) =>
    segmentsOf(workspace.book.lot(name)!).all.map((segment) => {
      const known = [...metals.best(segment)].map(
        ([metal, { share, low, high, ground }]) =>
          `${metal} ${share?.value.toPrecision(9)} ${share && spread(share).toPrecision(9)} ${low} ${high} ${ground}`,
      );
      return `${name} ${[...owners(segment).owners].join('+')} ${known.sort().join(', ')}`;
    }),
  );
};

/** Which diagnostics the client has, and which it is to get: only what changed, with the version that it was made for. */
import type { Diagnostic, PublishDiagnosticsParams } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { JournalPage } from '../journal/page';
import type { Histories } from '../rules/findings';
import { REST_ON_WHOLE_RECORD } from '../rules/whole-record';
import type { Workspace } from '../workspace/workspace';
import { type DiagnosticStyle, failureDiagnostic, type Sheet, toDiagnostic } from './convert';
import { journalOf, type Session, viewOf } from './session';
import { isWithholding, type Shown, shownFindings } from './stillness';
import { lookThrough } from './stood';

export interface Published {
  readonly uri: string;
  /** The diagnostics as sent. */
  readonly json: string;
  readonly diagnostics: readonly Diagnostic[];
  /** Files that its related places stand in. */
  readonly relatedTo: ReadonlySet<string>;
}

/** By file. */
export type PublishedByFile = Map<string, Published>;

/** A file's lines in today's text: those of the open buffer, else of the disk. */
export const sheetOf = (session: Session, file: string): Sheet | undefined => {
  const open = session.open.get(file);
  if (open) return { uri: open.uri, lines: open.lines, version: open.lines.version };
  const workspace = journalOf(session, file)?.live;
  const lines = workspace && linesOf(workspace, file);
  return lines && { uri: file, lines, version: undefined };
};

const linesOf = (workspace: Workspace, file: string): TextDocument | undefined => {
  const page = workspace.pages.get(file);
  if (page) return linesOfPage(page);
  const shop = workspace.workshopFile;
  return shop?.file === file ? TextDocument.create(file, 'yaml', 0, shop.text) : undefined;
};

const pageLines = new WeakMap<JournalPage, TextDocument>();

const linesOfPage = (page: JournalPage): TextDocument => {
  const known = pageLines.get(page);
  if (known) return known;
  const lines = TextDocument.create(page.file, 'melt', 0, page.page.text);
  pageLines.set(page, lines);
  return lines;
};

/** Files whose related places point into one of the given files, and the given ones. */
export const withRelated = (published: PublishedByFile, files: readonly string[]): ReadonlySet<string> => {
  const wanted = new Set(files);
  for (const [file, { relatedTo }] of published) {
    if (files.some((one) => relatedTo.has(one))) wanted.add(file);
  }
  return wanted;
};

/** What is to be sent for a file now; none when the client has it, or when it would be empty and soon not be. */
export const publicationOf = (
  session: Session,
  published: PublishedByFile,
  file: string,
  style: DiagnosticStyle,
): PublishDiagnosticsParams | undefined => {
  const sheet = sheetOf(session, file);
  const had = published.get(file);
  const uri = sheet?.uri ?? had?.uri ?? file;
  const shown = shownIn(session, file);
  const diagnostics = diagnosticsOf(session, file, sheet, shown, style);
  if (diagnostics.length === 0 && had && isAboutToSpeak(session, file)) return undefined;
  const json = JSON.stringify(diagnostics);
  if (had ? had.json === json && had.uri === uri : diagnostics.length === 0 && !session.open.has(file))
    return undefined;
  const relatedTo = new Set(shown.flatMap(({ related }) => related.map((place) => place.file)));
  if (diagnostics.length > 0 || session.open.has(file)) published.set(file, { uri, json, diagnostics, relatedTo });
  else published.delete(file);
  return { uri, ...(sheet?.version === undefined ? {} : { version: sheet.version }), diagnostics };
};

/** Whole histories are looked at on open pages of a journal that has been read. */
const historiesIn = (session: Session, file: string): Histories =>
  session.open.has(file) && journalOf(session, file)?.opening === undefined ? 'short' : 'none';

/** Works out what is to be sent for a file, as far as it comes before the time is over; whether it is all there. */
export const isWorkedOut = (session: Session, file: string, isOver: () => boolean): boolean => {
  const view = viewOf(session, file);
  return !view || lookThrough(view.settled, file, historiesIn(session, file), isOver) !== undefined;
};

const shownIn = (session: Session, file: string): readonly Shown[] => {
  const view = viewOf(session, file);
  const isOpening = journalOf(session, file)?.opening !== undefined;
  const shown = view ? shownFindings(view, file, historiesIn(session, file)) : [];
  return isOpening ? shown.filter(({ finding }) => !REST_ON_WHOLE_RECORD.has(finding.code)) : shown;
};

const diagnosticsOf = (
  session: Session,
  file: string,
  sheet: Sheet | undefined,
  shown: readonly Shown[],
  style: DiagnosticStyle,
): Diagnostic[] => {
  const failure = session.open.has(file) ? undefined : session.failures.get(file);
  if (failure) return [failureDiagnostic(failure)];
  if (!sheet) return [];
  return shown
    .map((one) => toDiagnostic(one, sheet, (other) => sheetOf(session, other), style))
    .filter((one) => one !== undefined);
};

const isAboutToSpeak = (session: Session, file: string): boolean => {
  const view = viewOf(session, file);
  return view?.typing !== undefined && !view.typing.rested && isWithholding(view, file);
};

/** What the client asks, answered from the session. Each takes checked parameters and gives the protocol's shapes. */
import type {
  CodeAction,
  DocumentSymbol,
  InlayHint,
  Location,
  Position,
  SymbolInformation,
} from 'vscode-languageserver';
import { fixesAt } from '../features/fixes';
import { planActionsAt } from '../features/plan-actions';
import { refactoringsAt } from '../features/refactor/refactorings';
import { sealedAt } from '../features/sealed';
import { symbolsOf } from '../features/symbols';
import type { Place } from '../text/place';
import { locate, type Workspace } from '../workspace/workspace';
import { listIn, rangeIn, uriIn } from './checks';
import {
  FIX_ALL,
  type FixAt,
  type Sheet,
  toDiagnostic,
  toDocumentSymbol,
  toFlatSymbols,
  toInlayHint,
  toQuickFix,
  toRange,
  toSpan,
  toWorkspaceEdit,
} from './convert';
import { keepGiven } from './given-hints';
import { CodeActionTriggerKind } from './protocol';
import { sheetOf } from './publish';
import { diagnosticStyle, fileId, type Server } from './server';
import { viewOf } from './session';
import { fieldOf } from './settings';
import { shownHints } from './still-hints';
import { placeToday, type Shown, type View } from './stillness';
import { today } from './today';

export interface Asked {
  readonly file: string;
  readonly sheet: Sheet;
  readonly view: View;
}

export const askedOf = (server: Server, params: unknown): Asked | undefined => {
  const file = fileId(server, uriIn(params));
  const sheet = sheetOf(server.session, file);
  const view = viewOf(server.session, file);
  return sheet && view ? { file, sheet, view } : undefined;
};

export const documentSymbols = (server: Server, params: unknown): DocumentSymbol[] | SymbolInformation[] => {
  const asked = askedOf(server, params);
  if (!asked) return [];
  const nodes = symbolsOf(asked.view.live, asked.file);
  return server.client.symbolTree
    ? nodes.map((node) => toDocumentSymbol(node, asked.sheet))
    : nodes.flatMap((node) => toFlatSymbols(node, asked.sheet));
};

export const inlayHints = (server: Server, params: unknown): InlayHint[] => {
  const range = rangeIn(params, 'range');
  const asked = askedOf(server, params);
  if (!asked) return [];
  const { file, sheet, view } = asked;
  const span = toSpan(sheet, range);
  const hints = shownHints(view, file, span, server.settings.hints);
  const stamp = keepGiven(server.given, file, { range: span, version: sheet.version, hints });
  return hints.map((hint, index) => {
    const shown = toInlayHint(hint, sheet, { file, stamp, index }, server.client.resolvesPlaces);
    return server.client.resolvesTooltips ? shown : { ...shown, tooltip: tooltipOf(hint.tooltip()) };
  });
};

const tooltipOf = (value: string): { kind: 'markdown'; value: string } => ({ kind: 'markdown', value });

/** Adds the sum behind a hint; a hint of an answer long past stays as it is. */
export const resolveInlayHint = (server: Server, params: unknown): InlayHint => {
  const data = fieldOf(params, 'data');
  const hint = params as InlayHint;
  const given = server.given.get(String(fieldOf(data, 'file')))?.find(({ stamp }) => stamp === fieldOf(data, 'stamp'));
  const index = fieldOf(data, 'index');
  const found = typeof index === 'number' ? given?.hints[index] : undefined;
  if (!found) return hint;
  const location =
    found.other && Array.isArray(hint.label) ? locationOf(server, found.entry.anchor.file, found.other) : undefined;
  return {
    ...hint,
    tooltip: tooltipOf(found.tooltip()),
    ...(location ? { label: [{ value: found.label, location }] } : {}),
  };
};

const locationOf = (server: Server, file: string, place: Place): Location | undefined => {
  const view = viewOf(server.session, file);
  const today = view && placeToday(view, place);
  const sheet = today && sheetOf(server.session, today.file);
  return sheet && { uri: sheet.uri, range: toRange(sheet, today) };
};

export const codeActions = (server: Server, params: unknown): CodeAction[] => {
  const range = rangeIn(params, 'range');
  const context = fieldOf(params, 'context');
  const only = fieldOf(context, 'only') === undefined ? undefined : listIn(context, 'only').map(String);
  const asked = askedOf(server, params);
  if (!asked) return [];
  const wants = (kind: string): boolean => only?.some((one) => kind === one || kind.startsWith(`${one}.`)) ?? false;
  const quick = !only || wants('quickfix') ? quickFixes(server, asked, toSpan(asked.sheet, range)) : [];
  const all = wants(FIX_ALL) ? fixAll(server, asked) : [];
  const plans = !only || wants('quickfix') ? ofPlans(server, asked, toSpan(asked.sheet, range)) : [];
  // Where the editor asks by itself, at every move of the cursor, only what mends or helps on is shown.
  const isByHand = only !== undefined || fieldOf(context, 'triggerKind') === CodeActionTriggerKind.Invoked;
  const rewritten = isByHand ? refactorings(server, asked, range.start, (kind) => !only || wants(kind)) : [];
  return [...quick, ...plans, ...rewritten, ...all];
};

const refactorings = (
  server: Server,
  { view, file, sheet }: Asked,
  at: Position,
  isWanted: (kind: string) => boolean,
): CodeAction[] =>
  refactoringsAt(view.live, file, sheet.lines.offsetAt(at), today()).flatMap(({ title, kind, edits }) => {
    const edit = isWanted(`refactor.${kind}`) ? editOf(server, edits, title) : undefined;
    return edit ? [{ title, kind: `refactor.${kind}`, edit }] : [];
  });

const quickFixes = (server: Server, asked: Asked, span: { start: number; end: number }): CodeAction[] =>
  fixesIn(server, asked, span).flatMap((fix) => {
    const edit = editOf(server, fix.edits, fix.title);
    const shown = shownNow(asked.view.live, fix);
    const diagnostic = toDiagnostic(
      shown,
      asked.sheet,
      (file) => sheetOf(server.session, file),
      diagnosticStyle(server),
    );
    return edit ? [toQuickFix(fix, edit, diagnostic)] : [];
  });

const ofPlans = (server: Server, { view, file }: Asked, span: { start: number; end: number }): CodeAction[] =>
  planActionsAt(view.live, file, span).flatMap(({ title, edits, preferred }) => {
    const edit = editOf(server, edits, title);
    return edit ? [toQuickFix({ title, preferred }, edit, undefined)] : [];
  });

/** Fixes that change only white space or the case of words, all at once; of two that overlap, the first. */
const fixAll = (server: Server, asked: Asked): CodeAction[] => {
  const whole = { start: 0, end: asked.sheet.lines.getText().length };
  const title = 'Put right all white space and letter case';
  const safe = fixesIn(server, asked, whole).filter(
    ({ safe, edits }) => safe && edits.every(({ file }) => file === asked.file),
  );
  const edits: FixAt['edits'][number][] = [];
  for (const fix of safe) {
    const clashes = fix.edits.some((edit) => edits.some((other) => edit.start <= other.end && other.start <= edit.end));
    if (!clashes) edits.push(...fix.edits);
  }
  const edit = edits.length > 0 ? editOf(server, edits, title) : undefined;
  return edit ? [{ title, kind: FIX_ALL, edit }] : [];
};

const fixesIn = (server: Server, { view, file }: Asked, span: { start: number; end: number }): readonly FixAt[] =>
  fixesAt(view.live, file, span).filter(({ finding }) => server.settings.severity.get(finding.code) !== 'off');

export const editOf = (server: Server, edits: FixAt['edits'], title: string) => {
  const { documentChanges, annotations } = server.client;
  const style = { documentChanges, annotations };
  return toWorkspaceEdit(edits, title, (file) => sheetOf(server.session, file), style, sealWarning(server, edits));
};

/** Of edits where something is sealed. */
const sealWarning = ({ session }: Server, edits: FixAt['edits']): string | undefined => {
  for (const { file, start } of edits) {
    const view = viewOf(session, file);
    const sealed = view && sealedAt(view.live, file, start);
    if (sealed)
      return `${sealed.date} is sealed up to ${sealed.seal}: but for blanks and comments it is corrected, not changed.`;
  }
  return undefined;
};

const shownNow = (workspace: Workspace, { finding }: FixAt): Shown => ({
  finding,
  range: locate(workspace, finding.place),
  related: (finding.related ?? []).map(({ place, says }) => ({ ...locate(workspace, place), says })),
});

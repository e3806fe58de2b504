/** Between offsets and plain data inside, and lines, characters and the protocol's shapes outside. Nowhere else. */
import type {
  CodeAction,
  Diagnostic,
  DocumentSymbol,
  Hover,
  InlayHint,
  Range,
  SymbolInformation,
  TextDocumentEdit,
  WorkspaceEdit,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import type { fixesAt } from '../features/fixes';
import type { Hint } from '../features/hints';
import type { SymbolNode } from '../features/symbols';
import type { FileFailure } from '../files/decoded';
import { plainOf } from '../reports/markdown';
import type { Severity } from '../rules/rule';
import type { Span } from '../text/span';
import { CodeActionKind, DiagnosticSeverity, DiagnosticTag, SymbolKind } from './protocol';
import type { Grade } from './settings';
import type { Shown } from './stillness';

export const SOURCE = 'fineweight';

/** A file as conversion needs it: its lines, how the client spells it, and its version if it is open. */
export interface Sheet {
  readonly uri: string;
  readonly lines: TextDocument;
  readonly version: number | undefined;
}

/** Finds the sheet of a file; none when it is no more. */
export type SheetOf = (file: string) => Sheet | undefined;

export interface DiagnosticStyle {
  readonly severity: ReadonlyMap<string, Grade>;
  /** Address of the page that a rule's code links to. */
  readonly pageOf: (code: string) => string | undefined;
  readonly canRelate: boolean;
}

export const toRange = ({ lines }: Sheet, { start, end }: Span): Range => ({
  start: lines.positionAt(start),
  end: lines.positionAt(end),
});

export const toSpan = ({ lines }: Sheet, { start, end }: Range): Span => {
  const [from, to] = [lines.offsetAt(start), lines.offsetAt(end)];
  return { start: Math.min(from, to), end: Math.max(from, to) };
};

const OWN_GRADE: Readonly<Record<Severity, Grade>> = { error: 'error', warning: 'warning', hint: 'information' };

const PROTOCOL_SEVERITY: Readonly<Record<Exclude<Grade, 'off'>, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

/** Rules that find text which does nothing: shown faded. */
const FADED: ReadonlySet<string> = new Set(['accepted-nothing']);

/** A finding as the client shows it; none where its rule is set off. */
export const toDiagnostic = (
  shown: Shown,
  sheet: Sheet,
  sheetOf: SheetOf,
  style: DiagnosticStyle,
): Diagnostic | undefined => {
  const { code, severity, says } = shown.finding;
  const grade = style.severity.get(code) ?? OWN_GRADE[severity];
  if (grade === 'off') return undefined;
  const href = style.pageOf(code);
  const related = style.canRelate ? toRelated(shown, sheetOf) : [];
  return {
    range: toRange(sheet, shown.range),
    severity: PROTOCOL_SEVERITY[grade],
    code,
    ...(href === undefined ? {} : { codeDescription: { href } }),
    source: SOURCE,
    message: says,
    ...(FADED.has(code) ? { tags: [DiagnosticTag.Unnecessary] } : {}),
    ...(related.length > 0 ? { relatedInformation: related } : {}),
  };
};

const toRelated = (shown: Shown, sheetOf: SheetOf): Diagnostic['relatedInformation'] & object =>
  shown.related.flatMap((place) => {
    const sheet = sheetOf(place.file);
    return sheet ? [{ location: { uri: sheet.uri, range: toRange(sheet, place) }, message: place.says }] : [];
  });

/** A file that cannot be read says so on its first line, or at its first bad byte. */
export const failureDiagnostic = ({ says, at }: FileFailure): Diagnostic => {
  const place = { line: (at?.line ?? 1) - 1, character: (at?.column ?? 1) - 1 };
  return { range: { start: place, end: place }, severity: DiagnosticSeverity.Error, source: SOURCE, message: says };
};

/** The hint without its tooltip: `data` tells which one to fetch. */
/** With a label that can be made a way to the other weight, where the client can take that. */
export const toInlayHint = (hint: Hint, sheet: Sheet, data: InlayHint['data'], inParts: boolean): InlayHint => ({
  position: sheet.lines.positionAt(hint.offset),
  label: inParts && hint.other ? [{ value: hint.label }] : hint.label,
  paddingLeft: true,
  data,
});

export const toHover = (
  found: { readonly range: Span; readonly markdown: string },
  sheet: Sheet,
  markdown: boolean,
): Hover => ({
  contents: markdown
    ? { kind: 'markdown', value: found.markdown }
    : { kind: 'plaintext', value: plainOf(found.markdown) },
  range: toRange(sheet, found.range),
});

const SYMBOL_KIND: Readonly<Record<SymbolNode['kind'], SymbolKind>> = {
  day: SymbolKind.Namespace,
  entry: SymbolKind.Event,
  lot: SymbolKind.Object,
  section: SymbolKind.Module,
  thing: SymbolKind.Field,
};

export const toDocumentSymbol = (node: SymbolNode, sheet: Sheet): DocumentSymbol => ({
  // An empty name is refused by clients.
  name: node.name || '…',
  detail: node.detail,
  kind: SYMBOL_KIND[node.kind],
  range: toRange(sheet, node.range),
  selectionRange: toRange(sheet, node.selection),
  children: node.children.map((child) => toDocumentSymbol(child, sheet)),
});

/** For clients that show no tree. */
export const toFlatSymbols = (node: SymbolNode, sheet: Sheet, container?: string): SymbolInformation[] => [
  {
    name: node.name || '…',
    kind: SYMBOL_KIND[node.kind],
    location: { uri: sheet.uri, range: toRange(sheet, node.range) },
    ...(container === undefined ? {} : { containerName: container }),
  },
  ...node.children.flatMap((child) => toFlatSymbols(child, sheet, node.name)),
];

export interface EditStyle {
  readonly documentChanges: boolean;
  readonly annotations: boolean;
}

export type FixAt = ReturnType<typeof fixesAt>[number];
export type FileEdits = FixAt['edits'];

/** Edits with the versions that they were made for; those in more than one file, and those with a warning, ask first, where the client can. */
export const toWorkspaceEdit = (
  edits: FileEdits,
  title: string,
  sheetOf: SheetOf,
  style: EditStyle,
  warning?: string,
): WorkspaceEdit | undefined => {
  const files = [...new Set(edits.map(({ file }) => file))];
  const sheets = files.map(sheetOf);
  if (!sheets.every((sheet) => sheet !== undefined)) return undefined;
  const editsOf = (index: number) =>
    edits
      .filter(({ file }) => file === files[index])
      .map((edit) => ({ range: toRange(sheets[index]!, edit), newText: edit.text }));
  if (!style.documentChanges)
    return { changes: Object.fromEntries(sheets.map(({ uri }, index) => [uri, editsOf(index)])) };
  const asks = (files.length > 1 || warning !== undefined) && style.annotations;
  const documentChanges = sheets.map(
    ({ uri, version }, index): TextDocumentEdit => ({
      textDocument: { uri, version: version ?? null },
      edits: editsOf(index).map((edit) => (asks ? { ...edit, annotationId: SOURCE } : edit)),
    }),
  );
  if (!asks) return { documentChanges };
  const description = warning ?? `Changes ${files.length} files.`;
  return { documentChanges, changeAnnotations: { [SOURCE]: { label: title, description, needsConfirmation: true } } };
};

export const FIX_ALL = `${CodeActionKind.SourceFixAll}.${SOURCE}`;

export const toQuickFix = (
  fix: Pick<FixAt, 'title' | 'preferred'>,
  edit: WorkspaceEdit,
  diagnostic: Diagnostic | undefined,
): CodeAction => ({
  title: fix.title,
  kind: CodeActionKind.QuickFix,
  ...(diagnostic ? { diagnostics: [diagnostic] } : {}),
  ...(fix.preferred ? { isPreferred: true } : {}),
  edit,
});

/** Help with writing, in the protocol's shapes. */
import type { CompletionItem, CompletionList, SignatureHelp, TextEdit } from 'vscode-languageserver';
import { type Completion, completionsAt, type ItemKind } from '../features/completion';
import { formatEdits, lineEdits } from '../features/format';
import { signatureAt } from '../features/signature';
import type { Span } from '../text/span';
import { listIn, positionIn, rangeIn } from './checks';
import { toRange, toSpan } from './convert';
import { CompletionItemKind, CompletionTriggerKind, InsertTextFormat, InsertTextMode } from './protocol';
import { type Asked, askedOf } from './requests';
import type { Server } from './server';
import { fieldOf } from './settings';
import { today } from './today';

const KINDS: Readonly<Record<ItemKind, CompletionItemKind>> = {
  verb: CompletionItemKind.Keyword,
  detail: CompletionItemKind.Property,
  lot: CompletionItemKind.Variable,
  step: CompletionItemKind.Event,
  thing: CompletionItemKind.Reference,
  material: CompletionItemKind.Constant,
  party: CompletionItemKind.Interface,
  unit: CompletionItemKind.Unit,
  word: CompletionItemKind.EnumMember,
  date: CompletionItemKind.Value,
  symbol: CompletionItemKind.Constant,
};

export const completion = (server: Server, params: unknown): CompletionList => {
  const asked = askedOf(server, params);
  if (!asked) return { isIncomplete: false, items: [] };
  const { view, file, sheet } = asked;
  const offset = sheet.lines.offsetAt(positionIn(params, 'position'));
  const { items, ofWords } = completionsAt(view.live, file, offset, today());
  const isUnasked = fieldOf(fieldOf(params, 'context'), 'triggerKind') === CompletionTriggerKind.TriggerCharacter;
  if (ofWords && isUnasked) return { isIncomplete: false, items: [] };
  const width = `${items.length}`.length;
  return {
    isIncomplete: false,
    items: items.map((item, index) => ({
      ...shownItem(server, item),
      // In the order given, whatever the letters.
      sortText: `${index}`.padStart(width, '0'),
      textEdit: { range: toRange(sheet, item.replace), newText: textOf(server, item) },
    })),
  };
};

const shownItem = (
  { client }: Server,
  { label, kind, detail, documentation, snippet }: Completion,
): CompletionItem => ({
  label,
  kind: KINDS[kind],
  ...(detail === undefined || detail === '' ? {} : { detail }),
  // A lot is chosen by its weight: it stands beside each.
  ...(detail && kind === 'lot' && client.labelDetails ? { labelDetails: { description: detail } } : {}),
  ...(documentation === undefined ? {} : { documentation: { kind: 'markdown', value: documentation } }),
  ...(snippet && client.snippets
    ? { insertTextFormat: InsertTextFormat.Snippet, insertTextMode: InsertTextMode.adjustIndentation }
    : {}),
});

/** A client without snippets gets the bare word. */
const textOf = ({ client }: Server, { label, text, snippet }: Completion): string =>
  snippet ? (client.snippets && text !== undefined ? text : `${label} `) : (text ?? label);

/** How the word before the cursor is written. */
export const signatureHelp = (server: Server, params: unknown): SignatureHelp | null => {
  const asked = askedOf(server, params);
  if (!asked) return null;
  const offset = asked.sheet.lines.offsetAt(positionIn(params, 'position'));
  const found = signatureAt(asked.view.live, asked.file, offset);
  if (!found) return null;
  const { label, meaning, parts, active } = found;
  return {
    signatures: [
      {
        label,
        documentation: { kind: 'markdown', value: meaning },
        parameters: parts.map(({ start, end }) => ({ label: [start, end] as [number, number] })),
        activeParameter: active,
      },
    ],
    activeSignature: 0,
    activeParameter: active,
  };
};

/** Of the whole page, or of the lines that a range touches. */
export const formatting = (server: Server, params: unknown): TextEdit[] => {
  const asked = askedOf(server, params);
  const page = asked?.view.live.pages.get(asked.file);
  if (!asked || !page) return [];
  const range = fieldOf(params, 'range') === undefined ? undefined : toSpan(asked.sheet, rangeIn(params, 'range'));
  return formatEdits(page, range, server.settings.pointAtColumn).map((edit) => toEdit(asked, edit));
};

/** Of the lines that any of several ranges touches: what changed since the last commit, say. Each edit once. */
export const formattingRanges = (server: Server, params: unknown): TextEdit[] => {
  const { textDocument } = params as { readonly textDocument: unknown };
  const edits = listIn(params, 'ranges').flatMap((range) => formatting(server, { textDocument, range }));
  return [...new Map(edits.map((edit) => [JSON.stringify(edit), edit])).values()];
};

/** Of the line that has just been left by Enter; of no other. */
export const formattingOnType = (server: Server, params: unknown): TextEdit[] => {
  const asked = askedOf(server, params);
  const page = asked?.view.live.pages.get(asked.file);
  const { line } = positionIn(params, 'position');
  if (!asked || !page || line === 0) return [];
  const left = asked.sheet.lines.offsetAt({ line: line - 1, character: 0 });
  return lineEdits(page, left, server.settings.pointAtColumn).map((edit) => toEdit(asked, edit));
};

const toEdit = ({ sheet }: Asked, { start, end, text }: Span & { readonly text: string }): TextEdit => ({
  range: toRange(sheet, { start, end }),
  newText: text,
});

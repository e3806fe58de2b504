/**
 * The numbers and words of the protocol that are used here. A library has them all, but what it has stands in one piece: it would be a tenth of what
 * a browser fetches. A test holds each against the library's.
 */
export const DiagnosticSeverity = { Error: 1, Warning: 2, Information: 3, Hint: 4 } as const;
export type DiagnosticSeverity = (typeof DiagnosticSeverity)[keyof typeof DiagnosticSeverity];
export const DiagnosticTag = { Unnecessary: 1 } as const;
export const SymbolKind = {
  Module: 2,
  Namespace: 3,
  Field: 8,
  Interface: 11,
  Variable: 13,
  Constant: 14,
  Object: 19,
  Event: 24,
} as const;
export type SymbolKind = (typeof SymbolKind)[keyof typeof SymbolKind];
export const CompletionItemKind = {
  Variable: 6,
  Interface: 8,
  Property: 10,
  Unit: 11,
  Value: 12,
  Keyword: 14,
  Reference: 18,
  EnumMember: 20,
  Constant: 21,
  Event: 23,
} as const;
export type CompletionItemKind = (typeof CompletionItemKind)[keyof typeof CompletionItemKind];
export const CompletionTriggerKind = { TriggerCharacter: 2 } as const;
export const InsertTextFormat = { Snippet: 2 } as const;
export const InsertTextMode = { adjustIndentation: 2 } as const;
export const CodeActionTriggerKind = { Invoked: 1 } as const;
export const CodeActionKind = { QuickFix: 'quickfix', SourceFixAll: 'source.fixAll' } as const;
export const DocumentHighlightKind = { Read: 2, Write: 3 } as const;
export const FoldingRangeKind = { Comment: 'comment', Region: 'region' } as const;
export const FileChangeType = { Deleted: 3 } as const;
export const WatchKind = { Delete: 4 } as const;
export const TextDocumentSaveReason = { AfterDelay: 2 } as const;
export const TextDocumentSyncKind = { Incremental: 2 } as const;
export const PositionEncodingKind = { UTF16: 'utf-16' } as const;
export const MessageType = { Error: 1, Warning: 2 } as const;

export const ErrorCodes = {
  InvalidRequest: -32600,
  MethodNotFound: -32601,
  InvalidParams: -32602,
  InternalError: -32603,
  ServerNotInitialized: -32002,
} as const;
export const LSPErrorCodes = { RequestCancelled: -32800, ContentModified: -32801 } as const;

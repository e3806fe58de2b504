/** Colours by meaning, how a word is written, lenses over entries; in the protocol's shapes. */
import {
  type CodeLens,
  type SemanticTokens,
  SemanticTokensBuilder,
  type SemanticTokensDelta,
  type SignatureHelp,
} from 'vscode-languageserver';
import { lensesOf } from '../features/lenses';
import { signatureAt } from '../features/signature';
import { TOKEN_MODIFIERS, TOKEN_TYPES, tokensOf } from '../features/tokens';
import type { Span } from '../text/span';
import { positionIn, rangeIn } from './checks';
import { toRange, toSpan } from './convert';
import { sheetOf } from './publish';
import { type Asked, askedOf } from './requests';
import type { Server } from './server';
import { fieldOf } from './settings';

export const LEGEND = { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] };

const builders = new WeakMap<Server, Map<string, SemanticTokensBuilder>>();

/** One for each file, so that the next answer can be told as a difference. */
const builderOf = (server: Server, file: string): SemanticTokensBuilder => {
  const all = builders.get(server) ?? new Map<string, SemanticTokensBuilder>();
  builders.set(server, all);
  const known = all.get(file) ?? new SemanticTokensBuilder();
  all.set(file, known);
  return known;
};

const pushAll = (builder: SemanticTokensBuilder, { view, file, sheet }: Asked, range?: Span): void => {
  const page = view.live.pages.get(file);
  for (const { start, end, type, modifiers } of page ? tokensOf(view.live, page, range) : []) {
    const { line, character } = sheet.lines.positionAt(start);
    const bits = modifiers.reduce((so, one) => so | (1 << TOKEN_MODIFIERS.indexOf(one)), 0);
    builder.push(line, character, end - start, TOKEN_TYPES.indexOf(type), bits);
  }
};

export const allTokens = (server: Server, params: unknown): SemanticTokens => {
  const asked = askedOf(server, params);
  if (!asked) return { data: [] };
  const builder = builderOf(server, asked.file);
  builder.previousResult('');
  pushAll(builder, asked);
  return builder.build();
};

export const changedTokens = (server: Server, params: unknown): SemanticTokens | SemanticTokensDelta => {
  const asked = askedOf(server, params);
  if (!asked) return { data: [] };
  const builder = builderOf(server, asked.file);
  builder.previousResult(String(fieldOf(params, 'previousResultId')));
  pushAll(builder, asked);
  return builder.buildEdits();
};

export const tokensInRange = (server: Server, params: unknown): SemanticTokens => {
  const asked = askedOf(server, params);
  if (!asked) return { data: [] };
  const builder = new SemanticTokensBuilder();
  pushAll(builder, asked, toSpan(asked.sheet, rangeIn(params, 'range')));
  return builder.build();
};

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

/** Off unless a setting asks for them: a lens moves the lines below it. */
export const codeLenses = (server: Server, params: unknown): CodeLens[] => {
  const asked = askedOf(server, params);
  const page = asked?.view.settled.pages.get(asked.file);
  if (!asked || !page || !server.settings.lenses) return [];
  return lensesOf(asked.view.settled, page).map(({ start, end, title, places }) => {
    const range = toRange(asked.sheet, { start, end });
    const locations = places.flatMap(({ file, ...span }) => {
      const sheet = sheetOf(server.session, file);
      return sheet ? [{ uri: sheet.uri, range: toRange(sheet, span) }] : [];
    });
    const command =
      locations.length === 0
        ? { title, command: '' }
        : { title, command: 'fineweight.showPlaces', arguments: [asked.sheet.uri, range.start, locations] };
    return { range, command };
  });
};

/** What an editor asks for by itself: colours by meaning, where else a name stands, folds, links, lenses over entries; in the protocol's shapes. */
import type {
  CodeLens,
  DocumentHighlight,
  DocumentLink,
  FoldingRange,
  SemanticTokens,
  SemanticTokensDelta,
} from 'vscode-languageserver';
import { foldsOf } from '../features/folding';
import { type LensFamily, lensesOf } from '../features/lenses';
import { linksOf } from '../features/links';
import { mentionsOf, nameAt, nameOf } from '../features/names';
import { TOKEN_MODIFIERS, TOKEN_TYPES, tokensOf } from '../features/tokens';
import type { Span } from '../text/span';
import { parentOf } from './address';
import { positionIn, rangeIn } from './checks';
import { toRange, toSpan } from './convert';
import { DocumentHighlightKind, FoldingRangeKind } from './protocol';
import { sheetOf } from './publish';
import { type Asked, askedOf } from './requests';
import type { Server } from './server';
import { fieldOf } from './settings';
import { tokenData, tokenEdits } from './token-data';

export const LEGEND = { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] };

interface Answered {
  readonly resultId: string;
  readonly data: number[];
}

/** The last answer for each file, so that the next can be told as a difference. */
const answers = new WeakMap<Server, Map<string, Answered>>();

const lastOf = (server: Server): Map<string, Answered> => {
  const known = answers.get(server) ?? new Map<string, Answered>();
  answers.set(server, known);
  return known;
};

const dataOf = ({ view, file, sheet }: Asked, range?: Span): number[] => {
  const page = view.live.pages.get(file);
  const tokens = page ? tokensOf(view.live, page, range) : [];
  return tokenData(
    tokens.map(({ start, end, type, modifiers }) => ({
      ...sheet.lines.positionAt(start),
      length: end - start,
      type: TOKEN_TYPES.indexOf(type),
      modifiers: modifiers.reduce((so, one) => so | (1 << TOKEN_MODIFIERS.indexOf(one)), 0),
    })),
  );
};

export const allTokens = (server: Server, params: unknown): SemanticTokens => {
  const asked = askedOf(server, params);
  if (!asked) return { data: [] };
  const all = lastOf(server);
  const answered = { resultId: `${Number(all.get(asked.file)?.resultId ?? 0) + 1}`, data: dataOf(asked) };
  all.set(asked.file, answered);
  return answered;
};

export const changedTokens = (server: Server, params: unknown): SemanticTokens | SemanticTokensDelta => {
  const asked = askedOf(server, params);
  const before = asked && lastOf(server).get(asked.file);
  const now = allTokens(server, params);
  if (before === undefined || before.resultId !== fieldOf(params, 'previousResultId')) return now;
  return { resultId: now.resultId!, edits: tokenEdits(before.data, now.data) };
};

export const tokensInRange = (server: Server, params: unknown): SemanticTokens => {
  const asked = askedOf(server, params);
  if (!asked) return { data: [] };
  return { data: dataOf(asked, toSpan(asked.sheet, rangeIn(params, 'range'))) };
};

export const highlights = (server: Server, params: unknown): DocumentHighlight[] => {
  const asked = askedOf(server, params);
  const offset = asked?.sheet.lines.offsetAt(positionIn(params, 'position'));
  const found = asked && nameAt(asked.view.live, asked.file, offset!);
  if (!asked || !found) return [];
  return mentionsOf(asked.view.live, nameOf(found))
    .filter(({ file }) => file === asked.file)
    .map((one) => ({
      range: toRange(asked.sheet, one),
      kind: one.gives ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
    }));
};

export const foldingRanges = (server: Server, params: unknown): FoldingRange[] => {
  const asked = askedOf(server, params);
  const page = asked?.view.live.pages.get(asked.file);
  if (!asked || !page) return [];
  return foldsOf(page).map((fold) => {
    const { start, end } = toRange(asked.sheet, fold);
    return {
      startLine: start.line,
      endLine: end.line,
      kind: fold.kind === 'comment' ? FoldingRangeKind.Comment : FoldingRangeKind.Region,
    };
  });
};

export const documentLinks = (server: Server, params: unknown): DocumentLink[] => {
  const asked = askedOf(server, params);
  if (!asked) return [];
  const folder = parentOf(asked.file);
  return linksOf(asked.view.live, asked.file).map((link) => ({
    range: toRange(asked.sheet, link),
    target: `${folder}/${link.path.split('/').map(encodeURIComponent).join('/')}`,
  }));
};

/** Off unless a setting asks for them: a lens moves the lines below it. */
export const codeLenses = (server: Server, params: unknown): CodeLens[] => {
  const asked = askedOf(server, params);
  const page = asked?.view.settled.pages.get(asked.file);
  if (!asked || !page) return [];
  const wanted = lensesOf(asked.view.settled, page).filter(
    ({ family }) => server.settings.lenses.has(family) && (server.client.hasCommands || !DOES.has(family)),
  );
  return wanted.map(({ start, end, family, title, places, step }) => {
    const range = toRange(asked.sheet, { start, end });
    const locations = places.flatMap(({ file, ...span }) => {
      const sheet = sheetOf(server.session, file);
      return sheet ? [{ uri: sheet.uri, range: toRange(sheet, span) }] : [];
    });
    const at = [asked.sheet.uri, family === 'trace' ? locations[0]?.range.start : range.start];
    const command = family === 'balance' || !server.client.hasCommands ? '' : COMMANDS[family];
    if (family === 'uses')
      return { range, command: { title, command: places.length > 0 ? command : '', arguments: [...at, locations] } };
    return { range, command: { title, command, arguments: [...at, step] } };
  });
};

/** Lenses that are there for what they do: none for a client that cannot. */
const DOES: ReadonlySet<LensFamily> = new Set(['trace', 'summary']);

const COMMANDS = {
  uses: 'fineweight.showPlaces',
  trace: 'fineweight.trace',
  summary: 'fineweight.summary',
} as const;

/** Finding one's way where a hand asks: where a name is given and used, a new name, what can be selected, the family of a lot; in the protocol's shapes. */
import type {
  CallHierarchyIncomingCall,
  CallHierarchyItem,
  CallHierarchyOutgoingCall,
  Location,
  SelectionRange,
  WorkspaceEdit,
  WorkspaceSymbol,
} from 'vscode-languageserver';
import { childrenOf, type Member, memberAt, memberOf, parentsOf, type Relative } from '../features/family';
import { foundAnywhere } from '../features/find-anywhere';
import { definitionsOf, mentionsOf, type NameAt, type NameKind, nameAt, nameOf } from '../features/names';
import { renamableAt, renameAt } from '../features/rename';
import { selectionsAt } from '../features/selection';
import type { Span } from '../text/span';
import type { Workspace } from '../workspace/workspace';
import { listIn, positionIn, textIn } from './checks';
import { toRange } from './convert';
import { ErrorCodes, SymbolKind } from './protocol';
import { sheetOf } from './publish';
import { type Asked, askedOf, editOf } from './requests';
import type { Server } from './server';
import { fieldOf } from './settings';
import { RefusedRequest } from './wire';

const offsetIn = ({ sheet }: Asked, params: unknown): number => sheet.lines.offsetAt(positionIn(params, 'position'));

const namedIn = (server: Server, params: unknown): { readonly asked: Asked; readonly found: NameAt } | undefined => {
  const asked = askedOf(server, params);
  const found = asked && nameAt(asked.view.live, asked.file, offsetIn(asked, params));
  return asked && found ? { asked, found } : undefined;
};

const locationOf = (server: Server, { file, start, end }: Span & { readonly file: string }): Location[] => {
  const sheet = sheetOf(server.session, file);
  return sheet ? [{ uri: sheet.uri, range: toRange(sheet, { start, end }) }] : [];
};

export const definition = (server: Server, params: unknown): Location[] => {
  const named = namedIn(server, params);
  if (!named) return [];
  return definitionsOf(named.asked.view.live, nameOf(named.found)).flatMap((one) => locationOf(server, one));
};

export const references = (server: Server, params: unknown): Location[] => {
  const named = namedIn(server, params);
  const withGiving = fieldOf(fieldOf(params, 'context'), 'includeDeclaration') !== false;
  if (!named) return [];
  return mentionsOf(named.asked.view.live, nameOf(named.found))
    .filter(({ gives }) => withGiving || !gives)
    .flatMap((one) => locationOf(server, one));
};

export const prepareRename = (server: Server, params: unknown) => {
  const asked = askedOf(server, params);
  if (!asked) return null;
  const found = renamableAt(asked.view.live, asked.file, offsetIn(asked, params));
  if ('refused' in found) throw refusal(found.refused);
  return { range: toRange(asked.sheet, found), placeholder: found.name };
};

export const rename = (server: Server, params: unknown): WorkspaceEdit | null => {
  const asked = askedOf(server, params);
  if (!asked) return null;
  const to = textIn(params, 'newName');
  const edits = renameAt(asked.view.live, asked.file, offsetIn(asked, params), to);
  if ('refused' in edits) throw refusal(edits.refused);
  return editOf(server, edits, `Rename to ${to}`) ?? null;
};

/** Shown to the reader as it is. */
const refusal = (says: string): RefusedRequest => new RefusedRequest(ErrorCodes.InvalidRequest, says);

export const selectionRanges = (server: Server, params: unknown): SelectionRange[] | null => {
  const asked = askedOf(server, params);
  const page = asked?.view.live.pages.get(asked.file);
  if (!asked || !page) return null;
  return listIn(params, 'positions').map((position) => {
    const spans = selectionsAt(page, asked.sheet.lines.offsetAt(positionIn({ position }, 'position')));
    const outer = [...spans].reverse();
    return outer.reduce<SelectionRange | undefined>(
      (parent, span) => ({ range: toRange(asked.sheet, span), ...(parent ? { parent } : {}) }),
      undefined,
    )!;
  });
};

const SYMBOL_KINDS: Readonly<Partial<Record<NameKind, SymbolKind>>> = {
  lot: SymbolKind.Variable,
  step: SymbolKind.Event,
  party: SymbolKind.Interface,
  material: SymbolKind.Constant,
};

export const workspaceSymbols = (server: Server, params: unknown): WorkspaceSymbol[] => {
  const query = textIn(params, 'query');
  return [...server.session.journals.values()].flatMap(({ live }) =>
    foundAnywhere(live, query).flatMap((one) =>
      locationOf(server, one).map((location) => ({
        name: one.name,
        kind: SYMBOL_KINDS[one.kind] ?? SymbolKind.Object,
        containerName: one.detail,
        location,
      })),
    ),
  );
};

const itemOf = (server: Server, member: Member): CallHierarchyItem[] => {
  const sheet = sheetOf(server.session, member.file);
  if (!sheet) return [];
  return [
    {
      name: member.lot,
      kind: SymbolKind.Variable,
      detail: member.detail,
      uri: sheet.uri,
      range: toRange(sheet, member.range),
      selectionRange: toRange(sheet, member.selection),
      data: { lot: member.lot },
    },
  ];
};

export const prepareFamily = (server: Server, params: unknown): CallHierarchyItem[] => {
  const asked = askedOf(server, params);
  const member = asked && memberAt(asked.view.live, asked.file, offsetIn(asked, params));
  return member ? itemOf(server, member) : [];
};

interface Relation {
  readonly item: CallHierarchyItem;
  readonly relative: Relative;
}

const relationsOf = (
  server: Server,
  params: unknown,
  find: (workspace: Workspace, lot: string) => readonly Relative[],
): { readonly from: Member; readonly relations: readonly Relation[] } | undefined => {
  const item = fieldOf(params, 'item');
  const lot = fieldOf(fieldOf(item, 'data'), 'lot');
  const view = askedOf(server, { textDocument: { uri: textIn(item, 'uri') } })?.view;
  const from = view && typeof lot === 'string' ? memberOf(view.live, lot) : undefined;
  if (!view || !from) return undefined;
  const relations = find(view.live, from.lot).flatMap((relative) =>
    itemOf(server, relative.member).map((made) => ({ item: made, relative })),
  );
  return { from, relations };
};

/** What a lot was made from. */
export const incoming = (server: Server, params: unknown): CallHierarchyIncomingCall[] =>
  relationsOf(server, params, parentsOf)?.relations.map(({ item }) => ({
    from: item,
    fromRanges: [item.selectionRange],
  })) ?? [];

/** What became of it. */
export const outgoing = (server: Server, params: unknown): CallHierarchyOutgoingCall[] => {
  const found = relationsOf(server, params, childrenOf);
  const sheet = found && sheetOf(server.session, found.from.file);
  if (!found || !sheet) return [];
  return found.relations.map(({ item }) => ({ to: item, fromRanges: [toRange(sheet, found.from.selection)] }));
};

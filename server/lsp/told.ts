/** What the client tells of pages, files and folders: opened, typed in, saved, closed, changed by others, about to be called something else. */
import type { WorkspaceEdit } from 'vscode-languageserver';
import { namedAfter } from '../features/file-moves';
import { isJournalFile } from '../files/names';
import { changesIn, folderUrisIn, listIn, textIn, uriIn, versionIn } from './checks';
import { openDocument } from './document';
import { dropFolders, filesTouched, readAgain, readFolders } from './folders';
import { lookAtProofs } from './proofs';
import { FileChangeType, TextDocumentSaveReason } from './protocol';
import { editOf } from './requests';
import { fileId, type Server } from './server';
import { fieldOf } from './settings';
import { documentClosed, documentOpened } from './texts';
import { documentChanged, settle } from './typing';
import { logWarning, warnUser } from './wire';

export const opened = (server: Server, params: unknown): void => {
  const document = fieldOf(params, 'textDocument');
  const [uri, text, language] = [uriIn(params), textIn(document, 'text'), fieldOf(document, 'languageId')];
  if (language !== 'melt' && !isJournalFile(uri)) return;
  const id = server.disk.knownIdOf(uri, (one) => server.session.disk.has(one));
  server.ids.set(uri, id);
  const had = server.published.get(id);
  // Told again, with the version that is open now.
  if (had) server.published.set(id, { ...had, json: '' });
  documentOpened(server.session, openDocument(id, uri, versionIn(params), text));
};

export const changed = (server: Server, params: unknown): void => {
  const changes = changesIn(params);
  const [id, version] = [fileId(server, uriIn(params)), versionIn(params)];
  const before = server.session.open.get(id)?.lines.version;
  if (before !== undefined && version <= before) {
    logWarning(server.connection, `The version of ${id} went from ${before} to ${version}.`);
  }
  const isOpen = documentChanged(server.session, id, version, changes, server.now());
  if (!isOpen) logWarning(server.connection, `A change of ${id}, which is not open, was passed over.`);
};

export const willSave = (server: Server, params: unknown): void => {
  const byItself = fieldOf(params, 'reason') === TextDocumentSaveReason.AfterDelay;
  if (byItself) server.savedByItself.add(fileId(server, uriIn(params)));
};

export const saved = (server: Server, params: unknown): void => {
  const id = fileId(server, uriIn(params));
  const byItself = server.savedByItself.delete(id);
  server.session.unsaved.delete(id);
  if (!byItself && server.session.typing?.file === id) settle(server.session);
  lookAtProofs(server);
};

export const closed = (server: Server, params: unknown): void => {
  const id = fileId(server, uriIn(params));
  readAgain(server, id);
  documentClosed(server.session, id);
  server.given.delete(id);
  server.ids.delete(uriIn(params));
};

export const watched = (server: Server, params: unknown): void => {
  const ids = listIn(params, 'changes').map((change) => {
    const id = server.disk.idOf(textIn(change, 'uri'));
    const isGone = fieldOf(change, 'type') === FileChangeType.Deleted;
    return isGone || isJournalFile(id) ? id : undefined;
  });
  filesTouched(
    server,
    ids.filter((id) => id !== undefined),
  );
  lookAtProofs(server);
};

export const foldersMoved = (server: Server, params: unknown): void => {
  const event = fieldOf(params, 'event');
  const added = foldersOf(server, folderUrisIn(fieldOf(event, 'added')));
  const removed = foldersOf(server, folderUrisIn(fieldOf(event, 'removed')));
  const kept = server.session.folders.filter((folder) => !removed.includes(folder));
  const all = [...kept, ...added.filter((folder) => !kept.includes(folder))];
  if (removed.length > 0) dropFolders(server, all);
  if (added.length > 0) void readFolders(server, added, all);
};

/** What of the pages names a file that is about to be called something else; what stays as it is is told. */
export const willRenameFiles = (server: Server, params: unknown): WorkspaceEdit | null => {
  const plain = (id: string): string => (id.endsWith('/') ? id.slice(0, -1) : id);
  const moves = listIn(params, 'files').map((file) => ({
    from: plain(server.disk.idOf(textIn(file, 'oldUri'))),
    to: plain(server.disk.idOf(textIn(file, 'newUri'))),
  }));
  const found = [...server.session.journals.values()].map(({ live }) => namedAfter(live, moves));
  for (const says of found.flatMap(({ kept }) => kept)) warnUser(server.connection, says);
  const edits = found.flatMap((one) => one.edits);
  return edits.length > 0 ? (editOf(server, edits, 'Name the file as it is called now') ?? null) : null;
};

/** Folders of the disk, by id, without a slash at the end; what is elsewhere cannot be read from here, and its pages stand alone. */
export const foldersOf = ({ disk }: Server, uris: readonly string[]): readonly string[] =>
  uris
    .filter(disk.canRead)
    .map(disk.idOf)
    .map((id) => (id.endsWith('/') ? id.slice(0, -1) : id));

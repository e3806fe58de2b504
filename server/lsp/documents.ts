/** Documents for an editor that asks for them: what kinds there are and of what, and one of them in one of its forms. */
import { type Choice, Refused } from '../documents/choice';
import type { Setting } from '../documents/formats/format';
import { FORMATS, type FormatName } from '../documents/formats/formats';
import { htmlFor } from '../documents/formats/html';
import { documentOf, KINDS, kindNamed } from '../documents/kinds';
import type { Kind } from '../documents/kinds/kind';
import { fileInJournal, linkBetween, settingOf } from '../documents/source';
import { candidatesOf, choiceAt } from '../features/documents';
import type { Workspace } from '../workspace/workspace';
import { positionIn, textIn } from './checks';
import { sheetOf } from './publish';
import { askedOf } from './requests';
import type { Server } from './server';
import { fieldOf } from './settings';

/** What each kind can be made of in the journal of a page; and what the cursor stands on of it, where it does. */
export const documentKinds = (server: Server, params: unknown): object => {
  const asked = askedOf(server, params);
  if (!asked) return { kinds: [] };
  const { live } = asked.view;
  const offset = asked.sheet.lines.offsetAt(positionIn(params, 'position'));
  return {
    kinds: KINDS.map((kind) => ({
      code: kind.code,
      title: kind.title,
      means: kind.means,
      atCursor: choiceAt(live, kind, asked.file, offset) ?? null,
    })),
  };
};

/** What one kind can be made of: asked for apart, as a long record has many lots. */
export const documentCandidates = (server: Server, params: unknown): object => {
  const asked = askedOf(server, params);
  const kind = kindNamed(textIn(params, 'kind'));
  return { candidates: asked && kind ? candidatesOf(asked.view.live, kind) : [] };
};

/**
 * One document: of `choice`, or of what the cursor stands on. For a preview, with links that the editor follows itself; with `out`, the address
 * of the file that it will be, as that file. `refused` says in a sentence why there is none.
 */
export const documentText = (server: Server, params: unknown): object => {
  const asked = askedOf(server, params);
  const kind = kindNamed(textIn(params, 'kind'));
  if (!asked || !kind) return { refused: 'This is no page of a journal.' };
  const { live } = asked.view;
  const given = fieldOf(params, 'choice');
  const position = fieldOf(params, 'position');
  const offset = position === undefined ? 0 : asked.sheet.lines.offsetAt(positionIn(params, 'position'));
  const choice =
    typeof given === 'object' && given !== null ? checked(kind, given) : choiceAt(live, kind, asked.file, offset);
  if (!choice) return { refused: `The cursor stands on nothing of which there is a ${kind.title.toLowerCase()}.` };
  try {
    const document = documentOf(kind, live, choice);
    const out = fieldOf(params, 'out');
    const text =
      typeof out === 'string'
        ? FORMATS[formatIn(params)](
            document,
            settingOf(live, server.disk.revisionOf?.(live.root), linkTo(server, live, out)),
          )
        : htmlFor('editor')(document, settingOf(live, undefined, linkInEditor(server, live)));
    return { title: document.title, choice, text };
  } catch (error) {
    if (error instanceof Refused) return { refused: error.message, choice };
    throw error;
  }
};

/** Words only, and those that the kind takes. */
const checked = (kind: Kind, given: object): Choice =>
  Object.fromEntries(
    kind.takes.flatMap((name) => {
      const value = fieldOf(given, name);
      return typeof value === 'string' ? [[name, value]] : [];
    }),
  );

const formatIn = (params: unknown): FormatName => {
  const name = textIn(params, 'format');
  return Object.hasOwn(FORMATS, name) ? (name as FormatName) : 'md';
};

const linkTo = ({ disk }: Server, { root }: Workspace, out: string): Setting['link'] => {
  const id = disk.idOf(out);
  return linkBetween(id.slice(0, id.lastIndexOf('/')), root);
};

/** A command that the editor runs without a script. */
const linkInEditor = ({ session }: Server, workspace: Workspace): Setting['link'] => {
  const ids = [...workspace.pages.keys(), workspace.workshopFile?.file ?? workspace.root];
  const byName = new Map(ids.map((id) => [fileInJournal(workspace, id), id]));
  return ({ file, line }) => {
    const sheet = sheetOf(session, byName.get(file) ?? file);
    if (!sheet) return undefined;
    const at = { line: line - 1, character: 0 };
    return `command:fineweight.goTo?${encodeURIComponent(JSON.stringify([sheet.uri, { start: at, end: at }]))}`;
  };
};

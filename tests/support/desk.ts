/** Someone at a desk, typing into a session: keystrokes, the cursor, and a clock that is moved by hand. */
import { type OpenDocument, openDocument } from '../../server/lsp/document';
import { createSession, type Session, viewOf } from '../../server/lsp/session';
import { shownFindings } from '../../server/lsp/stillness';
import { diskChanged, documentOpened, foldersChanged } from '../../server/lsp/texts';
import { nextDue, tick } from '../../server/lsp/tick';
import { cursorMoved, documentChanged } from '../../server/lsp/typing';

export const FOLDER = 'file:///shop';
export const PAGE = `${FOLDER}/may.melt`;

export interface Desk {
  readonly session: Session;
  now: number;
  version: number;
}

/** A desk with files on the disk, by name, and one of them open. */
export const deskOf = (
  files: Readonly<Record<string, string>>,
  open = 'may.melt',
  options: { cursor: boolean } = { cursor: true },
): Desk => {
  const session = createSession(options.cursor);
  foldersChanged(session, [FOLDER]);
  diskChanged(session, new Map(Object.entries(files).map(([name, text]) => [`${FOLDER}/${name}`, text])));
  const id = `${FOLDER}/${open}`;
  documentOpened(session, openDocument(id, id, 1, files[open] ?? ''));
  tick(session, 0);
  return { session, now: 0, version: 1 };
};

export const documentOf = (desk: Desk, file = PAGE): OpenDocument => desk.session.open.get(file)!;
export const textOf = (desk: Desk, file = PAGE): string => documentOf(desk, file).lines.getText();

/** Replaces what stands in a range of offsets. */
export const replace = (desk: Desk, start: number, end: number, text: string, file = PAGE): void => {
  const { lines } = documentOf(desk, file);
  const range = { start: lines.positionAt(start), end: lines.positionAt(end) };
  desk.version += 1;
  documentChanged(desk.session, file, desk.version, [{ range, text }], desk.now);
};

/** Puts the cursor behind the first place where a text stands. */
export const behind = (desk: Desk, text: string, file = PAGE): number => {
  const start = textOf(desk, file).indexOf(text);
  if (start < 0) throw new Error(`No "${text}" in ${file}`);
  return start + text.length;
};

/** Types key by key, 80 ms a key; calls back after each. */
export const type = (desk: Desk, at: number, text: string, each: () => void = () => {}, file = PAGE): void => {
  let offset = at;
  for (const key of text) {
    desk.now += 80;
    replace(desk, offset, offset, key, file);
    offset += key.length;
    each();
  }
};

export const wait = (desk: Desk, milliseconds: number): readonly string[] => {
  desk.now += milliseconds;
  return tick(desk.session, desk.now).files;
};

/** Lets all the time pass that there is anything to do in. */
export const rest = (desk: Desk): void => {
  for (let due = nextDue(desk.session, desk.now); due !== undefined; due = nextDue(desk.session, desk.now)) {
    desk.now = Math.max(desk.now, due);
    tick(desk.session, desk.now);
  }
};

export const cursorTo = (desk: Desk, offset: number, file = PAGE): void =>
  cursorMoved(desk.session, file, documentOf(desk, file).lines.positionAt(offset).line);

/** `code at "text"` for each finding that is to be seen now. */
export const seen = (desk: Desk, file = PAGE): string[] => {
  const view = viewOf(desk.session, file)!;
  const text = view.live.pages.get(file)?.page.text ?? view.live.workshopFile?.text ?? '';
  return shownFindings(view, file).map(
    ({ finding, range }) => `${finding.code} at "${text.slice(range.start, range.end)}"`,
  );
};

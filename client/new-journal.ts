/** A first page and a workshop file for a folder that has none. Nothing that is there is touched. */
import { commands, l10n, type Uri, Uri as UriOf, WorkspaceEdit, window, workspace } from 'vscode';

/** Today, as a page writes it. */
const today = (): string => {
  const now = new Date();
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

/** Parsed by a test: it must be without a finding. */
export const firstPage = (
  day: string,
): string => `# A melt journal. A day, then entries; what belongs to an entry is indented.
# Write over this page: every figure in it is made up.

${day}

receive A1
  material scrap
  20.00 g on bench
  expect Au 14 k

melt M1, crucible C1
  in A1 20.00 g on bench
  add borax-glass 2.0 g
  out B1 19.92 g button on bench
  out 1.9 g slag on bench
`;

export const WORKSHOP_TEXT = `# What the shop owns. A scale's division is what its last digit steps by.
shop:
  name: My shop

scales:
  bench:
    division: 0.01 g
    capacity: 600 g

crucibles:
  C1: 60 mL
`;

/** `chosen` is a folder of the explorer, where it was asked for there. */
export const newJournal = async (chosen?: Uri): Promise<void> => {
  const folder = chosen ?? (await whichFolder());
  if (!folder) return;
  const day = today();
  const page = UriOf.joinPath(folder, `${day.slice(0, 7)}.melt`);
  const shop = UriOf.joinPath(folder, 'workshop.yaml');
  const edit = new WorkspaceEdit();
  const isNew = await Promise.all([page, shop].map(async (file) => !(await isThere(file))));
  if (isNew[0]) edit.createFile(page, { ignoreIfExists: true, contents: new TextEncoder().encode(firstPage(day)) });
  if (isNew[1]) edit.createFile(shop, { ignoreIfExists: true, contents: new TextEncoder().encode(WORKSHOP_TEXT) });
  await workspace.applyEdit(edit);
  await window.showTextDocument(page);
  if (!isNew[0]) void window.showInformationMessage(l10n.t('This month has its page already: here it is.'));
};

const whichFolder = async (): Promise<Uri | undefined> => {
  const folders = workspace.workspaceFolders ?? [];
  if (folders.length === 1) return folders[0]!.uri;
  if (folders.length > 1) return (await window.showWorkspaceFolderPick())?.uri;
  await commands.executeCommand('workbench.action.files.openFolder');
  return undefined;
};

const isThere = async (file: Uri): Promise<boolean> => {
  try {
    await workspace.fs.stat(file);
    return true;
  } catch {
    return false;
  }
};

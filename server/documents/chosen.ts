/** The one entry or lot that a document is about, or a plain sentence on why there is none. */
import type { Entry } from '../engine/entry';
import type { Workspace } from '../workspace/workspace';
import { type Choice, meant, Refused } from './choice';
import { entriesNamed } from './entries';

/** The first entry of that name which does something; throws where there is none. */
export const chosenEntry = (
  workspace: Workspace,
  { entry: name }: Choice,
  what: string,
  isMeant: (entry: Entry) => boolean,
): Entry => {
  if (name === undefined) throw new Refused(`A ${what} wants the name of an entry: --entry NAME.`);
  const found = entriesNamed(workspace, name).find(isMeant);
  if (found) return found;
  const names = [...workspace.pages.values()].flatMap(({ entries }) =>
    entries.flatMap((entry) => (entry.name && !entry.prefix && isMeant(entry) ? [entry.name.name] : [])),
  );
  throw new Refused(`There is no entry ${name} for a ${what}.${meant(name, names)}`);
};

export const chosenLot = (workspace: Workspace, { lot }: Choice, what: string): string => {
  if (lot === undefined) throw new Refused(`A ${what} wants a lot: --lot LOT.`);
  const { book } = workspace;
  if ((book.lot(lot)?.births.length ?? 0) > 0) return lot;
  const names = [...book.lotNames()].filter((name) => (book.lot(name)?.births.length ?? 0) > 0);
  throw new Refused(`No lot ${lot} comes in or is made in this journal.${meant(lot, names)}`);
};

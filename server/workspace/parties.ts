/** Whom a journal knows: parties of the workshop file and of every page, and how the shop is called among owners. */
import { partiesOf } from '../journal/names';
import { nearest } from '../text/nearest';
import { accountsOf } from './accounts';
import type { Workspace } from './workspace';

/** Why a name that was asked for finds nothing; undefined where it is somebody's, or that of several who own one lot. */
export const nobodySays = (workspace: Workspace, name: string): string | undefined => {
  const known = new Set([accountsOf(workspace).shop, ...workspace.workshop.parties.keys(), LENT]);
  for (const { entries } of workspace.pages.values())
    for (const entry of entries) for (const one of partiesOf(entry)) known.add(one);
  const unknown = name.split(' + ').find((one) => !known.has(one));
  if (unknown === undefined) return undefined;
  const near = nearest(unknown, [...known]);
  return `Nobody is called ${unknown}, in the journal or in workshop.yaml.${near ? ` Did you mean ${near}?` : ''}`;
};

/** What is lent into a customer's metal stands in lists as if it were somebody. */
export const LENT = 'lent, to come back';

/** As lists of stock name owners: by its own name the shop is meant too. */
export const asOwner = (workspace: Workspace, name: string): string =>
  workspace.workshop.parties.get(name)?.role === 'own' ? accountsOf(workspace).shop : name;

/** What can be made of the entry under the cursor; one file each. */
import type { Workspace } from '../../workspace/workspace';
import { lastSeal } from '../sealed';
import { nameProduct } from './name-product';
import { noteWeighing } from './note-weighing';
import { planAgain } from './plan-again';
import { type Offer, type Refactoring, spotAt } from './refactoring';
import { splitEntry } from './split-entry';

/** These change what stands there; in a sealed period they are not offered. */
const CHANGES: readonly Offer[] = [splitEntry, nameProduct, noteWeighing];

export const refactoringsAt = (
  workspace: Workspace,
  file: string,
  offset: number,
  today: string,
): readonly Refactoring[] => {
  const spot = spotAt(workspace, file, offset, today);
  if (!spot) return [];
  const seal = lastSeal(workspace);
  const isSealed = seal !== undefined && spot.entry.date !== undefined && spot.entry.date <= seal;
  const offers = isSealed ? [planAgain] : [...CHANGES, planAgain];
  return offers.map((offer) => offer(spot)).filter((one) => one !== undefined);
};

/** The next free name of a kind: `M58` after `M57`; and the names that products get after it, as they were given last time. */

import type { Entry } from '../../engine/entry';
import { endRun, isFigure, lastFigures } from '../../text/runs';
import { inOrder } from '../../workspace/order';
import type { Workspace } from '../../workspace/workspace';

/** Entries of a verb without prefix, in order of the record. */
export const entriesOf = (workspace: Workspace, verb: string): readonly Entry[] =>
  [...workspace.pages.values()]
    .flatMap((page) => page.entries.filter((entry) => entry.verb === verb && !entry.prefix && !entry.broken))
    .sort(inOrder(workspace.pages));

/** What a number holds to the last figure. */
const MOST_FIGURES = 15;

/** `M57` to `M58`, past every name that is taken; undefined for a name without a figure at its end. */
export const nextName = (name: string, isTaken: (name: string) => boolean): string | undefined => {
  const figures = endRun(name, isFigure);
  if (figures === '' || figures.length > MOST_FIGURES) return undefined;
  const letters = name.slice(0, -figures.length);
  let number = Number(figures);
  for (let step = 0; step < 10_000; step++) {
    number++;
    const next = `${letters}${String(number).padStart(figures.length, '0')}`;
    if (!isTaken(next)) return next;
  }
  return undefined;
};

/** The next name for an entry of a verb: of a step, or of a lot that comes in. Names that stand in any page as text are taken. */
export const nextEntryName = (workspace: Workspace, verb: string, within?: Entry): string | undefined => {
  const last = entriesOf(workspace, verb).findLast(({ name, anchor }) => name && anchor !== within?.anchor)?.name?.name;
  return last === undefined ? undefined : nextName(last, (name) => isTaken(workspace, name));
};

/** Also where another branch's text stands in a merge. */
const isTaken = ({ pages, book }: Workspace, name: string): boolean =>
  book.lot(name) !== undefined || [...pages.values()].some((page) => page.byStep.has(name)) || book.mentioned(name);

/** `B58` of `M58` where the last such entry made `B57` of `M57`; undefined where their figures do not go together. */
export const productName = (
  entryName: string,
  last: { readonly step: string; readonly product: string },
): string | undefined => {
  const was = lastFigures(last.step)?.figures;
  const is = lastFigures(entryName)?.figures;
  if (was === undefined || is === undefined || !last.product.includes(was)) return undefined;
  return last.product.replace(was, is);
};

/** Over an entry: its balance, and how often what it made was used. */
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import { balanceLabel } from '../reports/wording';
import type { Span } from '../text/span';
import { locate, type Workspace } from '../workspace/workspace';

export interface Lens extends Span {
  readonly title: string;
  /** Places to show when it is asked. */
  readonly places: readonly (Span & { readonly file: string })[];
}

/** Of steps alone, in the order of the page. */
export const lensesOf = (workspace: Workspace, page: JournalPage): readonly Lens[] =>
  page.entries.flatMap((entry) => {
    if (entry.prefix || entry.broken) return [];
    const { step } = workspace.book.account(entry);
    if (!step) return [];
    const { start, end } = locate(workspace, entry.head);
    const balance = balanceLabel(step, workspace.workshop);
    const uses = usesOf(workspace, entry);
    const used = uses.length === 1 ? 'used once' : `used ${uses.length} times`;
    return [
      ...(balance === undefined ? [] : [{ start, end, title: balance, places: [] }]),
      { start, end, title: uses.length === 0 ? 'not used yet' : used, places: uses },
    ];
  });

/** Where lots that the entry made were taken from. */
const usesOf = (workspace: Workspace, entry: Entry): Lens['places'] =>
  entry.flows.flatMap(({ word, lot }) => {
    if (word !== 'out' || !lot) return [];
    const events = workspace.book.lot(lot.name)?.events ?? [];
    return events
      .filter(({ kind, entry: by }) => TAKES.has(kind) && by.anchor !== entry.anchor)
      .map(({ flow, place }) => locate(workspace, flow?.lot?.place ?? place));
  });

const TAKES: ReadonlySet<string> = new Set(['used', 'part-used', 'sampled', 'shipped', 'sold', 'discarded']);

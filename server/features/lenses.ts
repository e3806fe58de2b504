/** Over an entry: its balance, how often what it made was used, and ways to its trace and its sheet. */
import type { Entry } from '../engine/entry';
import type { JournalPage } from '../journal/page';
import { balanceLabel } from '../reports/wording';
import type { Span } from '../text/span';
import { locate, type Workspace } from '../workspace/workspace';

export const LENS_FAMILIES = ['balance', 'uses', 'trace', 'summary'] as const;
export type LensFamily = (typeof LENS_FAMILIES)[number];

export interface Lens extends Span {
  readonly family: LensFamily;
  readonly title: string;
  /** Of uses: where. Of a trace: the name of the lot that is traced. */
  readonly places: readonly (Span & { readonly file: string })[];
  /** Of a summary: the step. */
  readonly step?: string;
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
    const product = entry.flows.find(({ word, lot }) => word === 'out' && lot && !lot.name.includes('.'))?.lot;
    const lens = (family: LensFamily, title: string, places: Lens['places'] = []): Lens => ({
      start,
      end,
      family,
      title,
      places,
    });
    return [
      ...(balance === undefined ? [] : [lens('balance', balance)]),
      lens('uses', uses.length === 0 ? 'not used yet' : used, uses),
      ...(product ? [lens('trace', `trace ${product.name}`, [locate(workspace, product.place)])] : []),
      ...(entry.name ? [{ ...lens('summary', 'summary'), step: entry.name.name }] : []),
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

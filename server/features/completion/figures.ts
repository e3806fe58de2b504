/** What goes with a figure: its unit or money, the scale that it was read on, the metal that it is of, the event that a time is of. */
import type { Entry, Money } from '../../engine/entry';
import { UNITS, type UnitKind } from '../../quantity/units';
import { ELEMENTS } from '../../vocabulary/elements';
import type { SlotTakes, WordRow } from '../../vocabulary/slots';
import { verb } from '../../vocabulary/verbs';
import { EVENTS } from '../../vocabulary/words';
import type { Workspace } from '../../workspace/workspace';
import type { Completion } from './choice';

type Item = Omit<Completion, 'replace'>;

/** Behind a figure; of a word that takes a share or a reading, shares first, of one that takes money, money. */
export const unitItems = (workspace: Workspace, row: WordRow | undefined): readonly Item[] => {
  const takes = new Set<SlotTakes>(row?.slots.flatMap((slot) => slot.takes) ?? ['amount']);
  const money = [...(takes.has('rate') ? ratesOf(workspace) : []), ...(takes.has('money') ? moneyOf(workspace) : [])];
  const kinds: UnitKind[] = [];
  if (takes.has('share') || takes.has('reading')) kinds.push('proportion');
  if (takes.has('amount') || takes.has('reading')) kinds.push('mass', 'volume');
  if (takes.has('temperature')) kinds.push('temperature');
  const units = kinds.flatMap((kind) => UNITS.filter((unit) => unit.kind === kind));
  return [...money, ...units.map(({ symbol, meaning }) => ({ label: symbol, kind: 'unit' as const, detail: meaning }))];
};

/** `USD/ozt`, as the record writes its rates. */
const ratesOf = (workspace: Workspace): readonly Item[] => monies(workspace, ({ per }) => per !== undefined);

const moneyOf = (workspace: Workspace): readonly Item[] => monies(workspace, ({ per }) => per === undefined);

const monies = ({ pages }: Workspace, isWanted: (money: Money) => boolean): readonly Item[] => {
  const used = new Map<string, number>();
  for (const { entries } of pages.values()) {
    for (const { money, others } of entries) {
      for (const one of [money, ...others.map((other) => other.money)]) {
        if (!one || !isWanted(one)) continue;
        const label = one.per ? `${one.currency}/${one.per.symbol}` : one.currency;
        used.set(label, (used.get(label) ?? 0) + 1);
      }
    }
  }
  const most = [...used].sort(([, a], [, b]) => b - a);
  return most.map(([label]) => ({ label, kind: 'unit' as const, detail: 'as used before' }));
};

/** Metals that a bench speaks of, before the rest of the elements in their order. */
const FIRST = ['Au', 'Ag', 'Pt', 'Pd', 'Cu', 'Zn', 'Ni', 'Pb', 'Sn', 'Fe', 'Cd', 'Hg', 'Rh', 'Ir', 'Os', 'Ru'];

const placeOf = (symbol: string): number => {
  const place = FIRST.indexOf(symbol);
  return place < 0 ? FIRST.length : place;
};

const SYMBOLS: readonly Item[] = [...ELEMENTS]
  .sort((a, b) => placeOf(a.symbol) - placeOf(b.symbol))
  .map(({ symbol, name }) => ({ label: symbol, kind: 'symbol', detail: name }));

export const symbolItems = (): readonly Item[] => SYMBOLS;

/** On a new line of an assay or a deal: what a reading begins with. */
export const readingItems = (entry: Entry | undefined): readonly Item[] => {
  const takes = entry && verb(entry.verb)?.takes;
  if (!takes?.includes('lab') && !takes?.includes('deal')) return [];
  return SYMBOLS.slice(0, FIRST.length).map((item) => ({ ...item, text: `${item.label} ` }));
};

/** Behind a time of day. */
export const eventItems = (): readonly Item[] =>
  EVENTS.map(({ word, meaning }) => ({ label: word, kind: 'word', detail: meaning }));

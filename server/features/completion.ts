/** What can be written at the cursor, what fits best first. */
import type { Entry } from '../engine/entry';
import { UNITS } from '../quantity/units';
import { escapeMarkdown, paragraphs } from '../reports/markdown';
import { detailsOf, REMARKS } from '../vocabulary/details';
import { ELEMENTS } from '../vocabulary/elements';
import { MATERIALS } from '../vocabulary/materials';
import type { Slot, SlotTakes, WordRow } from '../vocabulary/slots';
import { VERBS, verb } from '../vocabulary/verbs';
import { BASES, KINDS, METHODS, POOLS, PREFIXES, type SmallWord } from '../vocabulary/words';
import type { Workspace } from '../workspace/workspace';
import type { Completion, Completions } from './completion/choice';
import { type Context, contextAt } from './completion/context';
import { fineDetail, lotChoices } from './completion/lots';
import { entriesOf, nextEntryName, productName } from './completion/names';
import { entrySnippet } from './completion/snippet';
import { workshopCompletionsAt } from './completion/workshop-file';

export type { Completion, Completions, ItemKind } from './completion/choice';

const NOTHING: Completions = { items: [], ofWords: true };

/** `today` is the day of whoever writes, `YYYY-MM-DD`. */
export const completionsAt = (workspace: Workspace, file: string, offset: number, today: string): Completions => {
  const shop = workspace.workshopFile;
  if (shop?.file === file) return workshopCompletionsAt(workspace, shop.text, offset);
  const page = workspace.pages.get(file);
  const context = page && contextAt(page, offset);
  if (!context) return NOTHING;
  const { replace } = context;
  const put = (items: readonly Omit<Completion, 'replace'>[]): readonly Completion[] =>
    items.map((item) => ({ ...item, replace }));
  switch (context.at) {
    case 'date':
      return { items: put([{ label: today, kind: 'date', detail: 'today' }]), ofWords: true };
    case 'verb':
      return {
        items: put([...(context.prefixed ? [] : dayAndPrefixes(today)), ...verbItems(workspace, context.entry)]),
        ofWords: true,
      };
    case 'detail':
      return { items: put(detailItems(context.entry)), ofWords: true };
    case 'unit':
      return { items: put(unitItems(context.row)), ofWords: true };
    case 'slot':
      return { items: put(slotItems(workspace, context)), ofWords: false };
  }
};

type Item = Omit<Completion, 'replace'>;

const documented = ({ meaning, example }: WordRow): string => paragraphs(escapeMarkdown(meaning), `\`${example}\``);

const dayAndPrefixes = (today: string): readonly Item[] => [
  { label: today, kind: 'date', detail: 'a new day' },
  ...PREFIXES.map((word) => ({ ...wordItem(word), text: `${word.word} ` })),
];

const verbItems = (workspace: Workspace, within: Entry | undefined): readonly Item[] =>
  VERBS.map((row) => ({
    label: row.word,
    kind: 'verb' as const,
    detail: row.meaning,
    documentation: documented(row),
    text: entrySnippet(workspace, row, within),
    snippet: true,
  }));

/** Details that fit the entry, those that it does not have yet first; then what may be said of any line. */
const detailItems = (entry: Entry | undefined): readonly Item[] => {
  const row = entry && verb(entry.verb);
  if (!row) return [];
  const there = new Set(entry.gear.map(({ word }) => word as string));
  const details = detailsOf(row).filter(({ word }) => !there.has(word));
  return [...details.map((one) => rowItem(one)), ...REMARKS.map((one) => rowItem(one))];
};

const rowItem = (row: WordRow): Item => ({
  label: row.word,
  kind: 'detail',
  detail: row.meaning,
  documentation: documented(row),
  ...(row.slots.length > 0 ? { text: `${row.word} ` } : {}),
});

const unitItems = (row: WordRow | undefined): readonly Item[] => {
  const kinds = new Set(
    row?.slots.some(({ takes }) => takes.includes('temperature'))
      ? ['mass', 'volume', 'temperature']
      : ['mass', 'volume'],
  );
  if (row?.slots.some(({ takes }) => takes.includes('share') || takes.includes('reading'))) kinds.add('proportion');
  return UNITS.filter(({ kind }) => kinds.has(kind)).map(({ symbol, meaning }) => ({
    label: symbol,
    kind: 'unit' as const,
    detail: meaning,
  }));
};

/** Behind the name of what mends or goes on with another entry: the days on which that one stands. */
const meantItems = (workspace: Workspace, entry: Entry | undefined, row: WordRow): readonly Item[] => {
  if (!entry?.prefix || entry.prefix === 'plan' || !entry.name || entry.ofDate || verb(entry.verb) !== row) return [];
  const { name } = entry.name;
  const days = entriesOf(workspace, entry.verb).flatMap((one) => (one.name?.name === name ? (one.date ?? []) : []));
  return [...new Set(days)].map((day) => ({
    label: `of ${day}`,
    kind: 'word',
    detail: 'the day of the one that is meant',
  }));
};

const slotItems = (workspace: Workspace, context: Extract<Context, { at: 'slot' }>): readonly Item[] => {
  const { open, entry, lead, row } = context;
  const values = open.filter((slot) => lead !== undefined || slot.lead === undefined);
  const items = [
    ...values.flatMap((slot) => slot.takes.flatMap((takes) => itemsFor(workspace, takes, row, entry))),
    ...(lead === undefined ? [...open.flatMap(leadItems), ...meantItems(workspace, entry, row)] : []),
  ];
  const seen = new Set<string>();
  return items.filter(({ label, kind }) => !seen.has(`${kind} ${label}`) && seen.add(`${kind} ${label}`));
};

const leadItems = ({ lead, orLed }: Slot): readonly Item[] => {
  const word = lead ?? orLed;
  return word === undefined ? [] : [{ label: word, kind: 'word', text: `${word} ` }];
};

const itemsFor = (workspace: Workspace, takes: SlotTakes, row: WordRow, entry: Entry | undefined): readonly Item[] => {
  const { workshop } = workspace;
  switch (takes) {
    case 'lot':
      return row.word === 'out'
        ? productItems(workspace, entry)
        : isNewLot(row)
          ? nextItems(workspace, row.word, entry)
          : lotItems(workspace, entry);
    case 'step':
      return nextItems(workspace, row.word, entry);
    case 'material':
      return materialItems(workspace);
    case 'party':
      return partyItems(workspace);
    case 'scale':
      return things(workshop.scales, 'scale');
    case 'container':
      return things(workshop.containers, 'vessel');
    case 'crucible':
      return things(
        workshop.crucibles,
        'crucible',
        ({ volumeMillilitres }) => volumeMillilitres && `${volumeMillilitres} mL`,
      );
    case 'mould':
      return things(
        workshop.moulds,
        'mould',
        ({ volumeMillilitres }) => volumeMillilitres && `${volumeMillilitres} mL`,
      );
    case 'cupel-body':
      return things(workshop.cupels, 'cupel', ({ material }) => material);
    case 'furnace':
      return things(workshop.furnaces, 'furnace');
    case 'kind':
      return KINDS.map(wordItem);
    case 'method':
      return METHODS.map(wordItem);
    case 'basis':
      return BASES.map(wordItem);
    case 'pool':
      return POOLS.map(wordItem);
    case 'metal':
    case 'reading':
      return symbolItems();
    case 'place':
      return placeItems(workspace);
    default:
      return [];
  }
};

const isNewLot = ({ word }: WordRow): boolean => verb(word)?.names === 'new lot';

const wordItem = ({ word, meaning }: SmallWord): Item => ({ label: word, kind: 'word', detail: meaning });

/** The fine metal of so many is told at once; of the others when one is looked at. */
const FINE_AT_ONCE = 30;

const lotItems = (workspace: Workspace, entry: Entry | undefined): readonly Item[] =>
  lotChoices(workspace, entry).map(({ name, detail, date }, index) => {
    const fine = index < FINE_AT_ONCE ? fineDetail(workspace, name) : undefined;
    return {
      label: name,
      kind: 'lot' as const,
      detail: [detail, fine].filter(Boolean).join(', '),
      ...(date === '' ? {} : { documentation: escapeMarkdown(`Last spoken of on ${date}.`) }),
    };
  });

const nextItems = (workspace: Workspace, word: string, entry: Entry | undefined): readonly Item[] => {
  const name = nextEntryName(workspace, word, entry);
  return name === undefined ? [] : [{ label: name, kind: 'step', detail: 'the next free name' }];
};

/** Names for products, after those that the last entry of this kind gave. */
const productItems = (workspace: Workspace, entry: Entry | undefined): readonly Item[] => {
  const name = entry?.name?.name;
  if (!entry || name === undefined) return [];
  const last = entriesOf(workspace, entry.verb).findLast(({ anchor }) => anchor !== entry.anchor);
  if (!last?.name) return [];
  const there = new Set(entry.flows.flatMap(({ lot }) => lot?.name ?? []));
  return last.flows.flatMap(({ word, lot, kind }) => {
    const next = word === 'out' && lot ? productName(name, { step: last.name!.name, product: lot.name }) : undefined;
    if (next === undefined || there.has(next) || workspace.book.lot(next)?.births.length) return [];
    return [{ label: next, kind: 'lot' as const, detail: kind ?? 'a product' }];
  });
};

const materialItems = (workspace: Workspace): readonly Item[] => {
  const { materials, recipes } = workspace.workshop;
  const own: Item[] = [
    ...[...recipes.values()].map(({ name, parts }) => ({
      label: name,
      kind: 'material' as const,
      detail: `recipe: ${parts.map((part) => part.material).join(', ')}`,
    })),
    ...[...materials.keys()].map((name) => ({ label: name, kind: 'material' as const, detail: 'of this shop' })),
  ];
  const names = new Set(own.map(({ label }) => label));
  const builtIn = MATERIALS.filter(({ name }) => !names.has(name)).map(({ name, meaning }) => ({
    label: name,
    kind: 'material' as const,
    detail: meaning,
  }));
  return [...own, ...builtIn];
};

const partyItems = ({ workshop, pages }: Workspace): readonly Item[] => {
  const known = [...workshop.parties.values()].map(({ name, role }) => ({
    label: name,
    kind: 'party' as const,
    ...(role ? { detail: role as string } : {}),
  }));
  const names = new Set(known.map(({ label }) => label));
  const others = new Set<string>();
  for (const page of pages.values())
    for (const { party } of page.entries) if (party && !names.has(party.name)) others.add(party.name);
  return [...known, ...[...others].sort().map((label) => ({ label, kind: 'party' as const }))];
};

const placeItems = ({ pages }: Workspace): readonly Item[] => {
  const places = new Set<string>();
  for (const page of pages.values())
    for (const { said, flows } of page.entries)
      for (const one of [said, ...flows.map((flow) => flow.said)]) if (one.at) places.add(one.at.name);
  return [...places].sort().map((label) => ({ label, kind: 'thing' as const, detail: 'a place' }));
};

const things = <Thing extends { readonly name: string }>(
  all: ReadonlyMap<string, Thing>,
  what: string,
  detailOf: (thing: Thing) => string | number | undefined = () => undefined,
): readonly Item[] =>
  [...all].map(([name, thing]) => ({
    label: name,
    kind: 'thing' as const,
    detail: [what, detailOf(thing)].filter(Boolean).join(', '),
  }));

const symbolItems = (): readonly Item[] =>
  ELEMENTS.map(({ symbol, name }) => ({ label: symbol, kind: 'symbol' as const, detail: name }));

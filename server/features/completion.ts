/** What can be written at the cursor, what fits best first. */
import type { Entry } from '../engine/entry';
import { escapeMarkdown, paragraphs } from '../reports/markdown';
import { detailsOf, REMARKS } from '../vocabulary/details';
import type { Slot, SlotTakes, WordRow } from '../vocabulary/slots';
import { type Told, toldOf } from '../vocabulary/told';
import { VERBS, verb } from '../vocabulary/verbs';
import { BASES, KINDS, METHODS, POOLS, PREFIXES, type SmallWord } from '../vocabulary/words';
import type { Workspace } from '../workspace/workspace';
import type { Completion, Completions } from './completion/choice';
import { type Context, contextAt } from './completion/context';
import { eventItems, readingItems, symbolItems, unitItems } from './completion/figures';
import { fineDetail, lotChoices } from './completion/lots';
import { entriesOf, nextEntryName, productName } from './completion/names';
import { entrySnippet } from './completion/snippet';
import { materialItems, partyItems, personItems, placeItems, things } from './completion/things';
import { workshopCompletionsAt } from './completion/workshop-file';

export type { Completion, Completions, ItemKind } from './completion/choice';

type Item = Omit<Completion, 'replace'>;

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
      return { items: put(lineItems(context.entry)), ofWords: true };
    case 'unit':
      return { items: put(unitItems(workspace, context.row)), ofWords: true };
    case 'slot':
      return { items: put(slotItems(workspace, context)), ofWords: false };
    case 'event':
      return { items: put(eventItems()), ofWords: false };
  }
};

const documented = ({ meaning, example }: Told): string => paragraphs(escapeMarkdown(meaning), `\`${example}\``);

const dayAndPrefixes = (today: string): readonly Item[] => [
  { label: today, kind: 'date', detail: 'a new day' },
  ...PREFIXES.map((word) => ({ ...wordItem(word), text: `${word.word} ` })),
];

const verbItems = (workspace: Workspace, within: Entry | undefined): readonly Item[] =>
  VERBS.map((row) => ({
    label: row.word,
    kind: 'verb' as const,
    detail: toldOf(row).meaning,
    documentation: documented(toldOf(row)),
    text: entrySnippet(workspace, row, within),
    snippet: true,
  }));

/** An assay is mostly readings, a deal mostly details. */
const lineItems = (entry: Entry | undefined): readonly Item[] => {
  const [details, readings] = [detailItems(entry), readingItems(entry)];
  return entry?.verb === 'assay' ? [...readings, ...details] : [...details, ...readings];
};

/** Details that fit the entry, those that it does not have yet first; then what may be said of any line. */
const detailItems = (entry: Entry | undefined): readonly Item[] => {
  const row = entry && verb(entry.verb);
  if (!row) return [];
  const there = new Set(entry.gear.map(({ word }) => word as string));
  const said = new Set(entry.others.map(({ word }) => word));
  const details = detailsOf(row)
    .filter(({ word }) => !there.has(word))
    .sort((a, b) => Number(said.has(a.word)) - Number(said.has(b.word)));
  return [...details.map((one) => rowItem(one)), ...REMARKS.map((one) => rowItem(one))];
};

const rowItem = (row: WordRow): Item => ({
  label: row.word,
  kind: 'detail',
  detail: toldOf(row).meaning,
  documentation: documented(toldOf(row)),
  ...(row.slots.length > 0 ? { text: `${row.word} ` } : {}),
});

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
  const { open, entry, lead, row, weighed, typed } = context;
  const isNewName = (slot: Slot): boolean => slot.lead === 'to' && slot.takes.includes('lot');
  const values = open.filter((slot) => (lead !== undefined || slot.lead === undefined) && !isNewName(slot));
  const scales = weighed && lead === undefined ? itemsFor(workspace, 'scale', row, entry) : [];
  const items = [
    ...values.flatMap((slot) => slot.takes.flatMap((takes) => itemsFor(workspace, takes, row, entry))),
    ...scales.map((scale) => ({ ...scale, label: `on ${scale.label}` })),
    ...(lead === undefined ? [...open.flatMap(leadItems), ...(row ? meantItems(workspace, entry, row) : [])] : []),
  ];
  const seen = new Set<string>();
  // A name that only what is being typed has is no name yet.
  const isTyped = ({ label, kind }: Item): boolean => label === typed && (kind === 'thing' || kind === 'party');
  return items.filter((item) => {
    const key = `${item.kind} ${item.label}`;
    return !isTyped(item) && !seen.has(key) && seen.add(key);
  });
};

const leadItems = ({ lead, orLed }: Slot): readonly Item[] => {
  const word = lead ?? orLed;
  return word === undefined ? [] : [{ label: word, kind: 'word', text: `${word} ` }];
};

const itemsFor = (
  workspace: Workspace,
  takes: SlotTakes,
  row: WordRow | undefined,
  entry: Entry | undefined,
): readonly Item[] => {
  const { workshop } = workspace;
  switch (takes) {
    case 'lot':
      if (row?.word === 'out') return productItems(workspace, entry);
      return row && isNewLot(row) ? nameItems(workspace, row.word, entry) : lotItems(workspace, entry);
    case 'step':
      return row ? nameItems(workspace, row.word, entry) : [];
    case 'material':
      return materialItems(workspace, row?.word);
    case 'person':
      return personItems(workspace);
    case 'party':
      return partyItems(workspace);
    case 'scale':
      return things(workspace, 'scales', workshop.scales, 'scale');
    case 'container':
      return things(workspace, 'containers', workshop.containers, 'vessel');
    case 'crucible':
      return things(
        workspace,
        'crucibles',
        workshop.crucibles,
        'crucible',
        ({ volumeMillilitres }) => volumeMillilitres && `${volumeMillilitres} mL`,
      );
    case 'mould':
      return things(
        workspace,
        'moulds',
        workshop.moulds,
        'mould',
        ({ volumeMillilitres }) => volumeMillilitres && `${volumeMillilitres} mL`,
      );
    case 'cupel-body':
      return things(workspace, 'cupels', workshop.cupels, 'cupel', ({ material }) => material);
    case 'furnace':
      return things(workspace, 'furnaces', workshop.furnaces, 'furnace');
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

/** Of a new entry the next free name; of one that goes on, is mended or taken back, those that there are, the latest first. */
const nameItems = (workspace: Workspace, word: string, entry: Entry | undefined): readonly Item[] => {
  const { prefix } = entry ?? {};
  if (prefix === undefined || prefix === 'plan') return nextItems(workspace, word, entry);
  const names = new Map<string, string | undefined>();
  for (const { name, date } of entriesOf(workspace, word).toReversed())
    if (name && !names.has(name.name)) names.set(name.name, date);
  return [...names].map(([label, date]) => ({
    label,
    kind: 'step',
    ...(date === undefined ? {} : { detail: date }),
  }));
};

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

/** The reference's tables, made from the vocabulary that the parser itself uses. */
import { usualRange, usualTable } from '../engine/usual-table';
import { UNITS } from '../quantity/units';
import { DETAILS, REMARKS } from '../vocabulary/details';
import { MATERIALS } from '../vocabulary/materials';
import { materialMeaning } from '../vocabulary/materials/told';
import type { Slot, SlotTakes, WordRow } from '../vocabulary/slots';
import { toldOf } from '../vocabulary/told';
import { type DetailGroup, VERBS, type VerbTopic } from '../vocabulary/verbs';
import { BASES, EVENTS, KINDS, METHODS, POOLS, PREFIXES, type SmallWord, STATES } from '../vocabulary/words';
import { meaningOf } from '../workshop/key-meanings';
import { KEYS, VALUE_KINDS } from '../workshop/keys';

/** Tables by the name that the reference's marker comments give them. */
export const referenceTables = (): ReadonlyMap<string, string> =>
  new Map([
    ['prefixes', smallTable('prefix', PREFIXES)],
    ['verbs', verbTable()],
    ['details', detailTable()],
    ['remarks', rowTable('said of a line or an entry', REMARKS)],
    ['kinds', smallTable('kind', KINDS)],
    ['states', smallTable('state', STATES)],
    ['methods', smallTable('method', METHODS)],
    ['events', smallTable('event', EVENTS)],
    ['bases', smallTable('reckoned on', BASES)],
    ['pools', smallTable('pooled by', POOLS)],
    ['units', unitTable()],
    ['materials', materialTable()],
    ['usual', usualLosses()],
    ['terms', termsTable()],
  ]);

/**
 * A text with what stands between `<!-- table NAME -->` and `<!-- end -->` made anew.
 * Throws on a name that there is no table of, and on a marker without its end.
 */
export const withTables = (text: string, tables: ReadonlyMap<string, string>): string => {
  const [before, ...parts] = text.split(OPEN);
  const filled = parts.map((part) => {
    const name = part.slice(0, part.indexOf(' '));
    const table = tables.get(name);
    const end = part.indexOf(END);
    if (table === undefined || end < 0) throw new Error(`no table, or no end of it: ${name}`);
    return `${name} -->\n\n${table}\n\n${part.slice(end)}`;
  });
  return [before, ...filled].join(OPEN);
};

const OPEN = '<!-- table ';
const END = '<!-- end -->';

const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => '-'), ...rows].map((cells) => `| ${cells.map(cell).join(' | ')} |`).join('\n');

const cell = (text: string): string => text.replaceAll('|', '\\|');
const code = (text: string): string => `\`${text}\``;

const usualLosses = (): string =>
  table(
    ['step', 'charge', 'missing without surprise', 'rests on'],
    usualTable().map((row, index, all) => [
      row.verb === all[index - 1]?.verb ? '' : code(row.verb),
      row.charge,
      usualRange(row),
      row.why,
    ]),
  );

/** The keys of dated terms, each with what it takes and as it is written. */
const termsTable = (): string =>
  table(
    ['key', 'meaning', 'takes', 'example'],
    KEYS.filter(({ in: owner }) => owner === 'terms').map((row) => [
      code(row.key),
      meaningOf(row),
      VALUE_KINDS[row.value].says,
      code(`${row.key}: ${/^[^:{]+: /.test(row.example) ? `{ ${row.example} }` : row.example}`),
    ]),
  );

const smallTable = (head: string, rows: readonly SmallWord[]): string =>
  table(
    [head, 'meaning'],
    rows.map(({ word, meaning }) => [code(word), meaning]),
  );

const rowTable = (head: string, rows: readonly WordRow[]): string =>
  table(
    [head, 'meaning', 'example'],
    rows.map((row) => [code(sentenceOf(row)), toldOf(row).meaning, code(toldOf(row).example)]),
  );

/** `receive LOT [AMOUNT] [from PARTY]`. */
export const sentenceOf = ({ word, slots }: Pick<WordRow, 'word' | 'slots'>): string =>
  [word, ...slots.map(slotOf)].join(' ');

const SLOT_WORDS: Readonly<Partial<Record<SlotTakes, string>>> = {
  step: 'NAME',
  temperature: 'TEMP',
  label: 'NAME',
  person: 'NAME',
  'cupel-body': 'CUPEL',
  kind: 'KIND',
  none: 'none',
};

const slotOf = (slot: Slot): string => {
  const takes = [...new Set(slot.takes.map((one) => SLOT_WORDS[one] ?? one.toUpperCase()))].join('/');
  const lead = slot.lead ? `${slot.lead} ` : slot.orLed ? `[${slot.orLed}] ` : '';
  return slot.optional ? `[${lead}${takes}]` : `${lead}${takes}`;
};

const GROUP_NAMES: Readonly<Record<DetailGroup, string>> = {
  flows: 'flows',
  gear: 'gear',
  lot: 'lot words',
  lab: 'readings, lab words',
  deal: 'readings, deal words',
  count: 'stock words',
  check: 'scale words',
  seal: 'its own words',
  slag: '`silicate-degree`',
};

const TOPICS: readonly VerbTopic[] = [
  ...(['comes in', 'preparation', 'heat', 'wet work', 'joining'] as const),
  ...(['assay', 'stock', 'selling', 'record'] as const),
];

const verbTable = (): string =>
  table(
    ['', 'verb', 'takes', 'meaning', 'example'],
    TOPICS.flatMap((topic) =>
      VERBS.filter((row) => row.topic === topic).map((row, index) => [
        index === 0 ? `**${topic}**` : '',
        code(sentenceOf(row)),
        [...row.takes.map((group) => GROUP_NAMES[group]), ...(row.also ?? []).map(code)].join(', '),
        toldOf(row).meaning,
        code(toldOf(row).example),
      ]),
    ),
  );

const detailTable = (): string =>
  table(
    ['', 'detail', 'meaning', 'example'],
    DETAILS.map((row, index) => [
      row.group === DETAILS[index - 1]?.group ? '' : `**${GROUP_NAMES[row.group]}**`,
      code(sentenceOf(row)),
      toldOf(row).meaning,
      code(toldOf(row).example),
    ]),
  );

const unitTable = (): string =>
  table(
    ['', 'unit', 'meaning'],
    UNITS.map((row, index) => [
      row.kind === UNITS[index - 1]?.kind ? '' : `**${row.kind}**`,
      code(row.symbol),
      row.meaning,
    ]),
  );

const materialTable = (): string =>
  table(
    ['', 'material', 'meaning'],
    MATERIALS.map((row, index) => [
      row.group === MATERIALS[index - 1]?.group ? '' : `**${row.group}**`,
      code(row.name),
      `${materialMeaning(row.name)}${row.ambiguous ? `; better say ${row.ambiguous.means.map(code).join(', ')}` : ''}`,
    ]),
  );

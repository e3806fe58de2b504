/** In the workshop file: what a section or a key means and how it is written; of a thing, what the journal says of it. */
import { escapeMarkdown, paragraphs } from '../../reports/markdown';
import type { Span } from '../../text/span';
import type { SlotTakes } from '../../vocabulary/slots';
import { meaningOf, SECTION_MEANINGS } from '../../workshop/key-meanings';
import {
  type KeyRow,
  keysOf,
  type Owner,
  type SectionName,
  type SectionRow,
  sectionRow,
  shortKey,
  VALUE_KINDS,
} from '../../workshop/keys';
import { Report } from '../../workshop/problem';
import type { WorkshopDocument } from '../../workshop/read';
import { type Item, type Pair, readTree } from '../../workshop/tree';
import type { Workspace } from '../../workspace/workspace';
import { materialMarkdown } from './material';
import { partyMarkdown } from './party';
import { thingMarkdown } from './things';
import { usageWords } from './usage';

/** Offsets in the workshop file's text. */
interface Told {
  readonly range: Span;
  readonly markdown: string;
}

export const workshopHoverAt = (
  workspace: Workspace,
  { file, text }: WorkshopDocument,
  offset: number,
): Told | undefined => {
  const tree = readTree(text, new Report({ file }));
  const pair = tree && pairAt(tree, offset);
  const row = pair && sectionRow(pair.key);
  if (!pair || !row) return undefined;
  if (isIn(pair.at, offset)) return { range: pair.at, markdown: sectionMarkdown(row) };
  return row.holds === 'keys'
    ? keyHover(row.section, pair.value, offset)
    : nameHover(workspace, row, pair.value, offset);
};

const isIn = ({ start, end }: Span, offset: number): boolean => start <= offset && offset < end;

/** The pair of a list of keys that an offset lies in, its value included. */
const pairAt = (item: Item | undefined, offset: number): Pair | undefined =>
  item?.kind === 'map'
    ? item.pairs.find(({ at, value }) => isIn({ start: at.start, end: value?.end ?? at.end }, offset))
    : undefined;

const nameHover = (
  workspace: Workspace,
  row: SectionRow,
  value: Item | undefined,
  offset: number,
): Told | undefined => {
  const pair = pairAt(value, offset);
  if (!pair) return undefined;
  if (isIn(pair.at, offset)) return { range: pair.at, markdown: nameMarkdown(workspace, row.section, pair.key) };
  if (row.holds !== 'things' || !pair.value) return undefined;
  if (pair.value.kind === 'map') return keyHover(row.section, pair.value, offset);
  const key = shortKey(row.section);
  return key && isIn(pair.value, offset) ? { range: pair.value, markdown: keyMarkdown(key) } : undefined;
};

/** On a key, or on the plain value behind it; under dated terms, their own keys. */
const keyHover = (owner: Owner, value: Item | undefined, offset: number): Told | undefined => {
  const pair = pairAt(value, offset);
  const key = pair && keysOf(owner).get(pair.key);
  if (!pair || !key) return undefined;
  if (isIn(pair.at, offset)) return { range: pair.at, markdown: keyMarkdown(key) };
  if (key.value === 'terms') return keyHover('terms', pairAt(pair.value, offset)?.value, offset);
  return pair.value?.kind === 'text' ? { range: pair.value, markdown: keyMarkdown(key) } : undefined;
};

const sectionMarkdown = ({ section, example }: SectionRow): string =>
  paragraphs(`**${section}** · ${escapeMarkdown(SECTION_MEANINGS[section])}`, `For example \`${example}\`.`);

const keyMarkdown = (row: KeyRow): string => {
  const { key, value, example, short } = row;
  return paragraphs(
    `**${key}** · ${escapeMarkdown(meaningOf(row))}`,
    `Takes ${VALUE_KINDS[value].says}, for example \`${key}: ${example}\`.`,
    short && `Alone it may stand behind the name: \`${example}\`.`,
  );
};

const TAKES: Readonly<Partial<Record<SectionName, SlotTakes>>> = {
  scales: 'scale',
  containers: 'container',
  crucibles: 'crucible',
  moulds: 'mould',
  cupels: 'cupel-body',
  furnaces: 'furnace',
};

const nameMarkdown = (workspace: Workspace, section: SectionName, name: string): string =>
  paragraphs(toldOf(workspace, section, name), escapeMarkdown(usageWords(workspace, section, name)));

const toldOf = ({ workshop }: Workspace, section: SectionName, name: string): string => {
  const takes = TAKES[section];
  const plain = `**${escapeMarkdown(name)}** · ${escapeMarkdown(SECTION_MEANINGS[section])}`;
  if (takes) return thingMarkdown(workshop, takes, name) ?? plain;
  if (section === 'parties') return partyMarkdown(workshop, name);
  if (section === 'materials' || section === 'recipes') return materialMarkdown(workshop, name);
  return plain;
};

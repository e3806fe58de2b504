/** What a colour by the word alone cannot know: which name is given here, which is known to nobody, which figure is a guess. */
import type { Amount, Entry } from '../engine/entry';
import { findMaterial } from '../engine/shelf';
import type { JournalPage } from '../journal/page';
import type { Span } from '../text/span';
import { locate, type Workspace } from '../workspace/workspace';
import { DECLARED_IN, type NameAt, type NameKind, namesIn } from './names';

export const TOKEN_TYPES = ['variable', 'function', 'type', 'enumMember', 'property', 'number'] as const;
export const TOKEN_MODIFIERS = ['declaration', 'unknown', 'guessed', 'planned'] as const;

export type TokenType = (typeof TOKEN_TYPES)[number];
export type TokenModifier = (typeof TOKEN_MODIFIERS)[number];

/** Within one line. */
export interface Token extends Span {
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

const TYPES: Readonly<Record<NameKind, TokenType>> = {
  lot: 'variable',
  step: 'function',
  party: 'type',
  person: 'type',
  material: 'enumMember',
  scale: 'property',
  container: 'property',
  crucible: 'property',
  'cupel-body': 'property',
  mould: 'property',
  furnace: 'property',
  place: 'property',
};

/** In the order of the text; offsets in the page's text. */
export const tokensOf = (workspace: Workspace, page: JournalPage, range?: Span): readonly Token[] =>
  page.page.sections.flatMap((section) => {
    const start = page.page.starts.get(section)!;
    if (range && (start > range.end || start + section.text.length < range.start)) return [];
    const entry = page.bySection.get(section);
    return entry && !entry.broken ? tokensIn(workspace, entry) : [];
  });

const tokensIn = (workspace: Workspace, entry: Entry): readonly Token[] => {
  const names = namesIn(workspace, entry).map((name): Token => {
    const { start, end, kind } = name;
    return { start, end, type: TYPES[kind], modifiers: modifiersOf(workspace, name) };
  });
  const guesses = amountsIn(entry)
    .filter(({ guessed }) => guessed)
    .map(({ place }): Token => {
      const { start, end } = locate(workspace, place);
      return { start, end, type: 'number', modifiers: ['guessed'] };
    });
  const all = [...names, ...guesses].sort((a, b) => a.start - b.start);
  // One place has one colour: the narrower wins by coming first.
  return all.filter((token, index) => index === 0 || token.start >= all[index - 1]!.end);
};

const modifiersOf = (workspace: Workspace, { kind, name, gives, entry }: NameAt): readonly TokenModifier[] => [
  ...(gives ? (['declaration'] as const) : []),
  ...(isUnknown(workspace, kind, name) && entry?.prefix !== 'plan' ? (['unknown'] as const) : []),
  ...(entry?.prefix === 'plan' ? (['planned'] as const) : []),
];

const isUnknown = ({ book, workshop, workshopFile }: Workspace, kind: NameKind, name: string): boolean => {
  if (kind === 'lot') return (book.lot(name)?.births.length ?? 0) === 0;
  if (kind === 'material') return !workshop.recipes.has(name) && findMaterial(workshop, name) === undefined;
  const sections = DECLARED_IN[kind];
  // Without a workshop file nothing is declared, and nothing is missed; parties need not be.
  if (!sections || kind === 'party' || !workshopFile) return false;
  return !sections.some((section) => workshopFile.names.get(section)?.has(name));
};

const amountsIn = (entry: Entry): readonly Amount[] =>
  [entry.amount, ...entry.amounts.map(({ amount }) => amount), ...entry.flows.map(({ amount }) => amount)].filter(
    (amount, index, all): amount is Amount => amount !== undefined && all.indexOf(amount) === index,
  );

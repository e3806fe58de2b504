/** Names and where they stand: lots, steps, parties, vessels, materials, over all pages and the workshop file. */
import type { Entry } from '../engine/entry';
import { gearIn, materialsOf, partiesOf } from '../journal/names';
import type { JournalPage } from '../journal/page';
import type { PieceNode, Section, Value } from '../syntax/tree';
import type { Span } from '../text/span';
import type { SlotTakes } from '../vocabulary/slots';
import type { SectionName } from '../workshop/keys';
import { locate, type Workspace } from '../workspace/workspace';

/** Names of one kind are apart from those of another: a lot and a crucible may share theirs. */
export type NameKind = 'lot' | 'step' | 'party' | 'material' | Gear | 'place' | 'person';

type Gear = 'scale' | 'container' | 'crucible' | 'cupel-body' | 'mould' | 'furnace';

export interface NameAt extends Span {
  readonly kind: NameKind;
  readonly name: string;
  readonly file: string;
  /** Where it is given: the `out` or `receive` of a lot, the first line of a step, the key in the workshop file. */
  readonly gives: boolean;
  /** The entry that it stands in; none in the workshop file. */
  readonly entry: Entry | undefined;
}

/** Sections of the workshop file that declare names of a kind. */
export const DECLARED_IN: Readonly<Partial<Record<NameKind, readonly SectionName[]>>> = {
  party: ['parties'],
  material: ['materials', 'recipes'],
  scale: ['scales'],
  container: ['containers'],
  crucible: ['crucibles'],
  mould: ['moulds'],
  'cupel-body': ['cupels'],
  furnace: ['furnaces'],
};

const KINDS: ReadonlySet<string> = new Set([...Object.keys(DECLARED_IN), 'lot', 'step', 'place', 'person']);

/** The name under an offset of a page or of the workshop file. */
export const nameAt = (workspace: Workspace, file: string, offset: number): NameAt | undefined => {
  if (workspace.workshopFile?.file === file) {
    return declared(workspace).find(({ start, end }) => start <= offset && offset <= end);
  }
  const page = workspace.pages.get(file);
  const section = page?.page.sections.findLast((one) => page.page.starts.get(one)! <= offset);
  const entry = section && page?.bySection.get(section);
  if (!page || !section || !entry) return undefined;
  const all = namesIn(workspace, entry);
  // At the very end of a name that name is meant.
  return all.find(({ start, end }) => start <= offset && offset < end) ?? all.find(({ end }) => end === offset);
};

/** A name as such, wherever it stands. */
export interface Name {
  readonly kind: NameKind;
  readonly name: string;
  /** Of a step: `melt M57` and `cupel M57` are two. */
  readonly verb: string | undefined;
}

export const nameOf = ({ kind, name, entry }: NameAt): Name => ({
  kind,
  name,
  verb: kind !== 'step' ? undefined : entry?.verb === 'settle' ? 'ship' : entry?.verb,
});

/** Every place that a name stands at, in the order of files and texts. */
export const mentionsOf = (workspace: Workspace, wanted: Name): readonly NameAt[] => {
  const { kind, name } = wanted;
  const isIt = (one: NameAt): boolean => one.kind === kind && one.name === name && nameOf(one).verb === wanted.verb;
  return [
    ...declared(workspace).filter(isIt),
    ...[...workspace.pages.values()].flatMap((page) =>
      entriesWith(page, kind, name).flatMap((entry) => namesIn(workspace, entry).filter(isIt)),
    ),
  ];
};

/** Entries of a page that speak of a name, in its order. */
const entriesWith = (page: JournalPage, kind: NameKind, name: string): readonly Entry[] => {
  switch (kind) {
    case 'lot':
      return page.byLot.get(name) ?? [];
    case 'step':
      return page.byStep.get(name) ?? [];
    case 'material':
      return page.byMaterial.get(name) ?? page.entries.filter((entry) => materialsOf(entry).has(name));
    case 'party':
      return page.entries.filter((entry) => partiesOf(entry).has(name) || mentionsIn(entry, name));
    case 'place':
    case 'person':
      return page.entries.filter((entry) => mentionsIn(entry, name));
    default:
      return page.entries.filter((entry) => gearIn(entry).some(({ named }) => named.name === name));
  }
};

const mentionsIn = ({ anchor }: Entry, name: string): boolean => (anchor as Section).text.includes(name);

/** All names of an entry, in its order; offsets in the file's text. */
export const namesIn = (workspace: Workspace, entry: Entry): readonly NameAt[] => {
  const section = entry.anchor as Section;
  const found = new Map<number, { readonly kind: NameKind; readonly name: string } & Span>();
  const note = (kind: SlotTakes | undefined, name: string, { start, end }: Span): void => {
    if (kind === undefined || !KINDS.has(kind)) return;
    // A settlement is of a shipment, or of a lot.
    const isLot = kind === 'step' && entry.verb === 'settle' && (workspace.book.lot(name)?.births.length ?? 0) > 0;
    found.set(start, { kind: isLot ? 'lot' : (kind as NameKind), name, start, end });
  };
  for (const { pieces } of section.lines) {
    for (const piece of pieces) {
      for (const value of piece.values) ofValue(value, takesOf(piece, value), note);
      if (piece.scale) note('scale', piece.scale.text, piece.scale);
    }
  }
  for (const { mould } of entry.clocks) if (mould) note('mould', mould.name, mould.place);
  const { file } = entry.anchor;
  const starts = workspace.pages.get(file)?.page.starts as ReadonlyMap<object, number> | undefined;
  const offset = starts?.get(section) ?? 0;
  return [...found.values()]
    .sort((a, b) => a.start - b.start)
    .map((one) => ({
      ...one,
      start: one.start + offset,
      end: one.end + offset,
      file,
      gives: gives(workspace, entry, one),
      entry,
    }));
};

const ofValue = (
  value: Value,
  takes: SlotTakes | undefined,
  note: (kind: SlotTakes | undefined, name: string, at: Span) => void,
): void => {
  if (value.shape === 'word') note(takes, value.word.text, value.word);
  if (value.was) ofValue(value.was, takes, note);
};

const takesOf = ({ row, filled }: PieceNode, value: Value): SlotTakes | undefined => {
  const slot = row?.slots[filled.indexOf(value)];
  return slot?.takes.find((one) => KINDS.has(one));
};

const gives = (
  { book }: Workspace,
  entry: Entry,
  { kind, name, start }: { readonly kind: NameKind; readonly name: string } & Span,
): boolean => {
  if (kind === 'step') return entry.prefix === undefined;
  if (kind !== 'lot') return false;
  const births = book.lot(name)?.births ?? [];
  return births.some(({ entry: born, flow }) => {
    if (born.anchor !== entry.anchor) return false;
    const place = flow?.lot?.place ?? (born.toLot?.name === name ? born.toLot.place : born.name?.place);
    return place?.start === start;
  });
};

/** Names that the workshop file declares, its recipes' parts among them. */
const declared = ({ workshopFile }: Workspace): readonly NameAt[] => {
  if (!workshopFile) return [];
  const { file, names } = workshopFile;
  return Object.entries(DECLARED_IN).flatMap(([kind, sections]) =>
    sections.flatMap((section) =>
      [...(names.get(section) ?? [])].map(([name, { start, end }]) => ({
        kind: kind as NameKind,
        name,
        start,
        end,
        file,
        gives: true,
        entry: undefined,
      })),
    ),
  );
};

/** Where a name is given: one place, or several where it was given more than once; none where it is built in or unknown. */
export const definitionsOf = (workspace: Workspace, name: Name): readonly NameAt[] => {
  const given = mentionsOf(workspace, name).filter((one) => one.gives);
  return given.length > 0 || name.kind !== 'lot' ? given : unnamedBirths(workspace, name.name);
};

/** `M57.slag`: a product without a name is given where its kind stands. */
const unnamedBirths = (workspace: Workspace, name: string): readonly NameAt[] =>
  (workspace.book.lot(name)?.births ?? []).flatMap(({ entry, flow }) => {
    if (!flow?.lot) return [];
    const { file, start, end } = locate(workspace, flow.lot.place);
    return [{ kind: 'lot' as const, name, file, start, end, gives: true, entry }];
  });

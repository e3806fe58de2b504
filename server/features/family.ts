/** The family of a lot: what it was made from, what became of it. */
import type { LotEvent } from '../engine/book';
import type { Entry } from '../engine/entry';
import { showMass } from '../quantity/show';
import { stepWords } from '../reports/words';
import type { Place } from '../text/place';
import type { Span } from '../text/span';
import { locate, type Workspace } from '../workspace/workspace';
import { nameAt } from './names';

export interface Member {
  readonly lot: string;
  /** `58.16 g button, melt M57, 2026-05-05`. */
  readonly detail: string;
  readonly file: string;
  /** The entry that it comes from. */
  readonly range: Span;
  /** Its name there. */
  readonly selection: Span;
}

export interface Relative {
  readonly member: Member;
  /** Where the one goes into the other, in the file of the younger. */
  readonly at: readonly Span[];
}

/** The lot whose name stands at an offset. */
export const memberAt = (workspace: Workspace, file: string, offset: number): Member | undefined => {
  const found = nameAt(workspace, file, offset);
  return found?.kind === 'lot' ? memberOf(workspace, found.name) : undefined;
};

export const memberOf = (workspace: Workspace, lot: string): Member | undefined => {
  const story = workspace.book.lot(lot);
  const birth = story?.births[0] ?? story?.events[0];
  if (!birth) return undefined;
  const { file, start, end } = locate(workspace, birth.entry.place);
  const name = locate(workspace, placeOf(birth, lot));
  return { lot, detail: detailOf(birth), file, range: { start, end }, selection: { start: name.start, end: name.end } };
};

const placeOf = ({ entry, flow }: LotEvent, lot: string): Place =>
  flow?.lot?.place ?? (entry.toLot?.name === lot ? entry.toLot.place : (entry.name?.place ?? entry.head));

const detailOf = ({ entry, flow, weight, after }: LotEvent): string => {
  const mass = weight.mass ?? after;
  const what = [mass && showMass(mass), flow?.kind].filter(Boolean).join(' ');
  return [what, stepWords(entry), entry.date].filter(Boolean).join(', ');
};

/** Lots that went into the making of this one, each with where. */
export const parentsOf = (workspace: Workspace, lot: string): readonly Relative[] => {
  const relatives = new Map<string, Place[]>();
  for (const { entry, kind } of workspace.book.lot(lot)?.births ?? []) {
    if (entry.verb === 'sample' || (kind === 'renamed' && entry.name?.name !== lot)) {
      if (entry.name) note(relatives, entry.name.name, entry.name.place);
      continue;
    }
    for (const { word, lot: used } of entriesOf(workspace, entry).flatMap(({ flows }) => flows))
      if (word === 'in' && used) note(relatives, used.name, used.place);
  }
  return listed(workspace, relatives, lot);
};

/** Lots that were made of this one, each with where it went in. */
export const childrenOf = (workspace: Workspace, lot: string): readonly Relative[] => {
  const relatives = new Map<string, Place[]>();
  for (const { entry, kind, place, flow } of workspace.book.lot(lot)?.events ?? []) {
    if (kind === 'sampled' && flow?.lot && entry.name) note(relatives, flow.lot.name, entry.name.place);
    if (kind === 'renamed' && entry.toLot) note(relatives, entry.toLot.name, place);
    if (kind !== 'used' && kind !== 'part-used') continue;
    for (const { word, lot: made } of entriesOf(workspace, entry).flatMap(({ flows }) => flows))
      if (word === 'out' && made) note(relatives, made.name, flow?.lot?.place ?? place);
  }
  return listed(workspace, relatives, lot);
};

const entriesOf = ({ book }: Workspace, entry: Entry): readonly Entry[] => {
  const { parts } = book.account(entry);
  return parts.length > 0 ? parts : [entry];
};

const note = (relatives: Map<string, Place[]>, lot: string, place: Place): void => {
  relatives.set(lot, [...(relatives.get(lot) ?? []), place]);
};

/** A lot that came out of a step under its own name is no relative of itself. */
const listed = (workspace: Workspace, relatives: ReadonlyMap<string, readonly Place[]>, self: string): Relative[] =>
  [...relatives].flatMap(([lot, places]) => {
    const member = lot === self ? undefined : memberOf(workspace, lot);
    return member ? [{ member, at: places.map((place) => spanOf(workspace, place)) }] : [];
  });

const spanOf = (workspace: Workspace, place: Place): Span => {
  const { start, end } = locate(workspace, place);
  return { start, end };
};

/** A new name for a lot, a step, a party, a vessel, a material, over all pages and the workshop file; refused where it would not be safe. */
import type { Entry } from '../engine/entry';
import type { Span } from '../text/span';
import type { Workspace } from '../workspace/workspace';
import type { LocatedEdit } from './fixes';
import { DECLARED_IN, mentionsOf, type Name, type NameAt, nameAt, nameOf } from './names';
import { lastSeal } from './sealed';
import { asWritten } from './written-name';

/** Why it cannot be, as a sentence for the reader. */
export interface Refusal {
  readonly refused: string;
}

export interface Renamable extends Span {
  readonly name: string;
}

/** What would be renamed, and its present name. */
export const renamableAt = (workspace: Workspace, file: string, offset: number): Renamable | Refusal => {
  const found = nameAt(workspace, file, offset);
  if (!found) return { refused: 'There is no name here that could be changed.' };
  const refused = refusalFor(workspace, nameOf(found));
  return refused ?? { start: found.start, end: found.end, name: found.name };
};

export const renameAt = (
  workspace: Workspace,
  file: string,
  offset: number,
  to: string,
): readonly LocatedEdit[] | Refusal => {
  const found = nameAt(workspace, file, offset);
  if (!found) return { refused: 'There is no name here that could be changed.' };
  const name = nameOf(found);
  const written = asWritten(to.trim());
  const refused =
    refusalFor(workspace, name) ?? (written === undefined ? notAName(to) : takenBy(workspace, name, to.trim()));
  if (refused) return refused;
  const edits = mentionsOf(workspace, name).map((one) => edit(one, one.entry ? written! : inYaml(to.trim())));
  return [...edits, ...ofProducts(workspace, name, to.trim())];
};

const edit = ({ file, start, end }: NameAt, text: string): LocatedEdit => ({ file, start, end, text });

const refusalFor = (workspace: Workspace, name: Name): Refusal | undefined => {
  const places = mentionsOf(workspace, name);
  if (places.length === 0)
    return { refused: `${name.name} has no name of its own: write one behind its \`out\` first.` };
  if (name.kind === 'material' && !places.some(({ gives }) => gives))
    return { refused: `${name.name} is built in: its name is part of the language.` };
  const seal = lastSeal(workspace);
  if (seal !== undefined && places.some(({ entry }) => entry?.date !== undefined && entry.date <= seal))
    return {
      refused: `${name.name} stands in the record sealed up to ${seal}: what is sealed is corrected, not changed.`,
    };
  return undefined;
};

/** A key of the workshop file. */
const inYaml = (name: string): string => (/^[A-Za-z][\w./-]*$/.test(name) ? name : JSON.stringify(name));

const notAName = (to: string): Refusal => ({ refused: `"${to}" cannot be a name.` });

const takenBy = (workspace: Workspace, name: Name, to: string): Refusal | undefined => {
  if (to === name.name) return { refused: `It is called ${to} already.` };
  const [other] = mentionsOf(workspace, { ...name, name: to });
  const declared = (DECLARED_IN[name.kind] ?? []).some((section) =>
    workspace.workshopFile?.names.get(section)?.has(to),
  );
  if (!other && !declared) return undefined;
  return { refused: `${to} is taken${other?.entry?.date ? ` since ${other.entry.date}` : ''}: two would become one.` };
};

/** Products without a name are called after their step: `M57.slag` goes with `M57`. */
const ofProducts = (workspace: Workspace, { kind, name, verb }: Name, to: string): readonly LocatedEdit[] => {
  if (kind !== 'step') return [];
  const prefix = `${name}.`;
  const called = new Set<string>();
  for (const entry of stepEntries(workspace, name, verb)) {
    for (const { lot, word } of entry.flows) if (word === 'out' && lot?.name.startsWith(prefix)) called.add(lot.name);
  }
  return [...called].flatMap((lot) =>
    mentionsOf(workspace, { kind: 'lot', name: lot, verb: undefined }).map((one) =>
      edit(one, `${to}.${lot.slice(prefix.length)}`),
    ),
  );
};

const stepEntries = ({ pages }: Workspace, name: string, verb: string | undefined): readonly Entry[] =>
  [...pages.values()].flatMap((page) => (page.byStep.get(name) ?? []).filter((entry) => entry.verb === verb));

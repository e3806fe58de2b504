/** How often the journal names a thing of the workshop file, and when last. */
import type { Entry } from '../../engine/entry';
import { gearIn, materialsOf, partiesOf } from '../../journal/names';
import { add } from '../../quantity/measured';
import { showMass } from '../../quantity/show';
import type { SectionName } from '../../workshop/keys';
import type { Workspace } from '../../workspace/workspace';

/** Verbs that are heats: a crucible, a cupel, a furnace ages by them. */
const HEATS: ReadonlySet<string> = new Set(['melt', 'cast', 'cupel', 'roast', 'burn', 'retort']);

/** `14 entries, 9 of them heats; last on 2026-05-21.` Plans and what is void do not count. */
export const usageWords = (workspace: Workspace, section: SectionName, name: string): string => {
  const entries = [...workspace.pages.values()].flatMap((page) =>
    page.entries.filter((entry) => isCounted(workspace, entry) && names(entry, section, name)),
  );
  if (entries.length === 0) return 'No entry of the journal names it yet.';
  const heats = HEATED.has(section) ? entries.filter(({ verb }) => HEATS.has(verb)).length : 0;
  const ofHeats =
    heats === 0 ? '' : heats === entries.length ? `, ${counted(heats, 'heat')}` : `, ${heats} of them heats`;
  const last = lastDay(entries);
  return [
    `${counted(entries.length, 'entry', 'entries')}${ofHeats}${last === undefined ? '' : `; last on ${last}`}.`,
    ...addedWords(workspace, entries, section, name),
    ...checkedWords(entries, section),
  ].join(' ');
};

const HEATED: ReadonlySet<SectionName> = new Set(['crucibles', 'moulds', 'cupels', 'furnaces']);

const isCounted = ({ book }: Workspace, entry: Entry): boolean =>
  !entry.broken && entry.prefix !== 'plan' && entry.prefix !== 'void' && book.account(entry).parts.length > 0;

const names = (entry: Entry, section: SectionName, name: string): boolean => {
  switch (section) {
    case 'parties':
      return partiesOf(entry).has(name);
    case 'materials':
    case 'recipes':
      return materialsOf(entry).has(name);
    case 'measures':
      return entry.flows.some(
        ({ amount }) => amount?.figure?.form === 'reading' && amount.figure.digits.measure === name,
      );
    default:
      return gearIn(entry).some((gear) => gear.section === section && gear.named.name === name);
  }
};

const counted = (count: number, what: string, many = `${what}s`): string => `${count} ${count === 1 ? what : many}`;

const lastDay = (entries: readonly Entry[]): string | undefined =>
  entries.reduce<string | undefined>(
    (last, { date }) => (date !== undefined && date > (last ?? '') ? date : last),
    undefined,
  );

/** What was added of a material from the shelf, in all. */
const addedWords = (
  { book }: Workspace,
  entries: readonly Entry[],
  section: SectionName,
  name: string,
): readonly string[] => {
  if (section !== 'materials' && section !== 'recipes') return [];
  const steps = new Set(entries.flatMap((entry) => book.step(entry) ?? []));
  const masses = [...steps].flatMap(({ added }) =>
    added.flatMap(({ flow, mass }) => (flow.material?.name === name && mass ? [mass] : [])),
  );
  return masses.length === 0 ? [] : [`${showMass(add(...masses))} added in all.`];
};

const checkedWords = (entries: readonly Entry[], section: SectionName): readonly string[] => {
  if (section !== 'scales') return [];
  const last = lastDay(entries.filter(({ verb }) => verb === 'check-scale'));
  return last === undefined ? ['Never checked with a weight.'] : [`Last checked with a weight on ${last}.`];
};

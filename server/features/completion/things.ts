/** Materials, parties, people, places and equipment that can be named. */
import { MATERIALS } from '../../vocabulary/materials';
import { materialMeaning } from '../../vocabulary/materials/told';
import type { SectionName } from '../../workshop/keys';
import type { Workspace } from '../../workspace/workspace';
import type { Completion } from './choice';
import { undeclaredNames } from './undeclared';

type Item = Omit<Completion, 'replace'>;

/** The shop's own first, then what pages name, then the rest: behind `material` feeds, else what stands on a shelf. */
export const materialItems = (workspace: Workspace, word: string | undefined): readonly Item[] => {
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
  const isFeed = word === 'material';
  const used = materialsUsed(workspace, isFeed);
  const placeOf = ({ name, group }: (typeof MATERIALS)[number]): number =>
    used.has(name) ? 0 : (group === 'feed') === isFeed ? 1 : 2;
  const builtIn = MATERIALS.filter(({ name }) => !names.has(name))
    .sort((a, b) => placeOf(a) - placeOf(b))
    .map(({ name }) => ({ label: name, kind: 'material' as const, detail: materialMeaning(name) }));
  return [...own, ...builtIn];
};

const materialsUsed = ({ pages }: Workspace, isFeed: boolean): ReadonlySet<string> => {
  const used = new Set<string>();
  for (const { entries } of pages.values()) {
    for (const { flows, others } of entries) {
      if (!isFeed) for (const { material } of flows) if (material) used.add(material.name);
      if (isFeed)
        for (const { word, names } of others) if (word === 'material') for (const one of names) used.add(one.name);
    }
  }
  return used;
};

export const partyItems = (workspace: Workspace): readonly Item[] => [
  ...[...workspace.workshop.parties.values()].map(({ name, role }) => ({
    label: name,
    kind: 'party' as const,
    ...(role ? { detail: role as string } : {}),
  })),
  ...undeclaredNames(workspace, 'parties').map((label) => ({ label, kind: 'party' as const })),
];

export const placeItems = ({ pages }: Workspace): readonly Item[] => {
  const places = new Set<string>();
  for (const page of pages.values())
    for (const { said, flows } of page.entries)
      for (const one of [said, ...flows.map((flow) => flow.said)]) if (one.at) places.add(one.at.name);
  return [...places].sort().map((label) => ({ label, kind: 'thing' as const, detail: 'a place' }));
};

export const personItems = ({ pages }: Workspace): readonly Item[] => {
  const people = new Set<string>();
  for (const { entries } of pages.values())
    for (const { said } of entries) for (const one of [said.hand, said.witness]) if (one) people.add(one.name);
  return [...people].sort().map((label) => ({ label, kind: 'thing' as const }));
};

/** What the workshop file has, and what pages speak of without it. */
export const things = <Thing extends { readonly name: string }>(
  workspace: Workspace,
  section: SectionName,
  all: ReadonlyMap<string, Thing>,
  what: string,
  detailOf: (thing: Thing) => string | number | undefined = () => undefined,
): readonly Item[] => [
  ...[...all].map(([name, thing]) => ({
    label: name,
    kind: 'thing' as const,
    detail: [what, detailOf(thing)].filter(Boolean).join(', '),
  })),
  ...undeclaredNames(workspace, section).map((label) => ({ label, kind: 'thing' as const, detail: what })),
];

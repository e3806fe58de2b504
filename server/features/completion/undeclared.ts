/** Names that pages speak of and the workshop file does not have yet. */
import { partiesOf } from '../../journal/names';
import type { SectionName } from '../../workshop/keys';
import type { Workspace } from '../../workspace/workspace';
import { DECLARED_IN, namesIn } from '../names';

export const undeclaredNames = (workspace: Workspace, section: SectionName): readonly string[] => {
  const declared = workspace.workshopFile?.names.get(section);
  const found = new Set<string>();
  const kinds = new Set(
    Object.entries(DECLARED_IN).flatMap(([kind, sections]) => (sections.includes(section) ? [kind] : [])),
  );
  for (const { entries } of workspace.pages.values()) {
    for (const entry of entries) {
      if (kinds.has('party')) for (const name of partiesOf(entry)) found.add(name);
      else for (const { kind, name } of namesIn(workspace, entry)) if (kinds.has(kind)) found.add(name);
    }
  }
  return [...found].filter((name) => !declared?.has(name)).sort();
};

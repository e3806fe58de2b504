/** Which names an entry speaks of. */
import type { Entry } from '../engine/entry';
import { verb } from '../vocabulary/verbs';

/** Names of the lots that an entry makes, takes, or speaks of; each once. */
export const lotsOf = (entry: Entry): ReadonlySet<string> => {
  const lots = new Set<string>();
  const row = verb(entry.verb);
  if (entry.name && (row?.names === 'lot' || row?.names === 'new lot' || entry.verb === 'settle'))
    lots.add(entry.name.name);
  if (entry.toLot) lots.add(entry.toLot.name);
  for (const flow of entry.flows) if (flow.lot) lots.add(flow.lot.name);
  return lots;
};

/** Names of the materials that an entry adds from the shelf, or says that a lot is; one that nobody knows may be a lot's. */
export const materialsOf = (entry: Entry): ReadonlySet<string> => {
  const materials = new Set<string>();
  for (const { material } of entry.flows) if (material) materials.add(material.name);
  for (const { word, names } of entry.others) {
    if (word === 'material') for (const { name } of names) materials.add(name);
  }
  return materials;
};

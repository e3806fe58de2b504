/** Which names an entry speaks of. */
import type { Amount, Entry, Named, Said } from '../engine/entry';
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

/** Sections of the workshop file whose things a page names as scales, vessels and gear. */
export type GearSection = 'scales' | 'containers' | 'crucibles' | 'moulds' | 'cupels' | 'furnaces';

const GEAR_SECTIONS = { crucible: 'crucibles', 'cupel-body': 'cupels', mould: 'moulds', furnace: 'furnaces' } as const;

/** Every scale, vessel and piece of gear named in an entry, each place once. */
export const gearIn = (entry: Entry): readonly { section: GearSection; named: Named }[] => {
  const found = new Map<string, { section: GearSection; named: Named }>();
  const note = (section: GearSection, named: Named | undefined): void => {
    if (named) found.set(`${section} ${named.place.start}`, { section, named });
  };
  const ofAmount = (amount: Amount | undefined): void => note('scales', amount?.scale);
  const ofSaid = (said: Said): void => {
    note('scales', said.scale);
    if (said.tare && 'name' in said.tare) note('containers', said.tare);
    else ofAmount(said.tare as Amount | undefined);
    ofAmount(said.before);
    ofAmount(said.after);
  };
  if (entry.verb === 'check-scale') note('scales', entry.name);
  ofAmount(entry.amount);
  ofSaid(entry.said);
  for (const { amount, said } of entry.amounts) {
    ofAmount(amount);
    ofSaid(said);
  }
  for (const { amount, said } of entry.flows) {
    ofAmount(amount);
    ofSaid(said);
  }
  for (const { word, item, said } of entry.gear) {
    note(GEAR_SECTIONS[word], item);
    ofSaid(said);
  }
  for (const clock of entry.clocks) note('moulds', clock.mould);
  return [...found.values()];
};

/** Names of the people and firms that an entry deals with. */
export const partiesOf = (entry: Entry): ReadonlySet<string> => {
  const parties = new Set<string>();
  if (entry.party) parties.add(entry.party.name);
  for (const { to, owner } of [entry.said, ...entry.flows.map(({ said }) => said)]) {
    if (to) parties.add(to.name);
    if (owner) parties.add(owner.name);
  }
  return parties;
};
